"""Handing over: QR codes of a link, links to a whole kit, and what an opened one holds, as plain values.

All of these raise BadInput.
"""

from collections.abc import Mapping
from typing import Any

from .kit import Kit, pack, read_kit, together, too_long, write_kit
from .kit.share import of_the_same
from .problems import BadInput, Problem
from .requests import Request
from .units import quoted

MOST_PARTS = 500


def qr_codes(request: Request) -> dict[str, Any]:
    """The codes of `link`: each as `svg`, with the `link` that is in it and its width in `modules`."""
    from .kit.codes import codes

    made = codes(_text(request, "link"))
    return {"codes": [
        {"label": f"{number} of {len(made)}", "svg": code.svg, "link": code.link, "modules": code.modules}
        for number, code in enumerate(made, 1)
    ]}


def share_kit(request: Request) -> dict[str, Any]:
    """The fragment that holds the kit in `kit`, a kit file's text; with names where `names` is True."""
    kit = read_kit(_text(request, "kit"))
    fragment = pack(kit, names=request.get("names") is True)
    return {"fragment": fragment, "too_long": too_long(fragment), "said": kit_in_words(kit)}


def opened(request: Request) -> dict[str, Any]:
    """What the fragments come to, of which the last is the newest.

    {"kind": "kit", "said", "kit": the kit file's text}, {"kind": "draft", "fragment"}, or
    {"kind": "parts", "have", "wanted"} while some are missing.
    """
    fragments = request.get("fragments")
    if not isinstance(fragments, (list, tuple)) or not all(isinstance(f, str) for f in fragments):
        raise BadInput([Problem("fragments", "The parts of a link must be a list of texts.")])
    found = together(of_the_same(fragments[-MOST_PARTS:]))
    if isinstance(found, Kit):
        return {"kind": "kit", "said": kit_in_words(found), "kit": write_kit(found)}
    if isinstance(found, str):
        return {"kind": "draft", "fragment": found}
    return {"kind": "parts", "have": found[0], "wanted": found[1]}


def kit_in_words(kit: Kit) -> str:
    """What a kit is, in one line: “A kit of 4 wearers, 11 garments: Marram Farm”."""
    counts = f"{_count(len(kit.wearers), 'wearer')}, {_count(len(kit.garments), 'garment')}"
    return f"A kit of {counts}{f': {kit.title}' if kit.title else ''}"


def _count(number: int, what: str) -> str:
    return f"{number} {what}{'' if number == 1 else 's'}"


def _text(request: Mapping[str, Any], field: str) -> str:
    text = request.get(field)
    if not isinstance(text, str) or not text:
        raise BadInput([Problem(field, f"A {field} to hand over must be a text, not {quoted(str(text))}.")])
    return text
