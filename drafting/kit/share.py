"""A whole kit in a link's fragment, and a kit or a draft in parts when it is too long for one QR code.

    #kit=1.<base64url of deflated JSON>            the whole kit
    #kit=1.<number>of<count>.<checksum>.<part>     a part of a kit, in any order
    #draft=1.<number>of<count>.<checksum>.<part>   a part of a draft's own link, deflated likewise
"""

import base64
import binascii
import json
import zlib
from collections.abc import Iterable

from ..words.problems import BadInput, Problem
from ..words.reading import read_json
from .model import Kit, as_values
from .readkit import LARGEST_FILE, Aside, from_values

PREFIX = "kit="
DRAFT = "draft="
VERSION = 1
LONGEST_LINK = 7000
"""Characters of a link that messengers carry without cutting it. common practice, no source."""

QR_PART = 800
"""Characters in one QR code's fragment, unless the caller knows the room better: see codes.py."""


def pack(kit: Kit, *, names: bool = False) -> str:
    """The fragment, without its #. Names are left out unless asked for: “wearer 1” stands for each."""
    values = as_values(kit)
    if not names:
        for number, wearer in enumerate(values["wearers"], 1):
            wearer["name"] = f"wearer {number}"
    text = json.dumps(values, ensure_ascii=False, separators=(",", ":"))
    return f"{PREFIX}{VERSION}.{_encode(zlib.compress(text.encode(), 9))}"


def unpack(fragment: str) -> Kit:
    """The kit in a fragment. Raises BadInput for one that is cut short, not a kit, or a later one's."""
    return _read(_body(fragment))


def is_kit(fragment: str) -> bool:
    """Whether the fragment claims to hold a kit, or a part of one or of a draft."""
    return fragment.lstrip("#").startswith((PREFIX, DRAFT))


def too_long(fragment: str) -> bool:
    """Whether a link this long is better sent as a file."""
    return len(fragment) > LONGEST_LINK


def parts(fragment: str, longest: int = QR_PART) -> list[str]:
    """The fragment as it is, or cut into numbered ones, none of more than `longest` characters.

    Raises ValueError when not even a part fits.
    """
    fragment = fragment.lstrip("#")
    if len(fragment) <= longest:
        return [fragment]
    kind = PREFIX if fragment.startswith(PREFIX) else DRAFT
    body = _body(fragment) if kind == PREFIX else _encode(zlib.compress(fragment.encode(), 9))
    check = _checksum(body)
    room = longest - len(f"{kind}{VERSION}.500of500.{check}.")
    if room < 1:
        raise ValueError(f"{longest} characters are too few for a part of a link")
    count = -(-len(body) // room)
    size = -(-len(body) // count)
    return [
        f"{kind}{VERSION}.{i + 1}of{count}.{check}.{body[i * size:(i + 1) * size]}"
        for i in range(count)
    ]


def together(fragments: Iterable[str], aside: Aside = None) -> Kit | str | tuple[int, int]:
    """What numbered fragments make, in any order and however often: a kit, or the fragment of a
    draft; else (have, wanted).

    Raises BadInput when they are parts of different kits, or do not read. `aside` is as for read_kit.
    """
    found: dict[int, str] = {}
    wanted: tuple[str, int, str] | None = None
    for fragment in fragments:
        body = _body(fragment)
        kind = PREFIX if fragment.lstrip("#").startswith(PREFIX) else DRAFT
        if kind == PREFIX and "." not in body:
            return _read(body, aside)
        number, count, check, text = _part(body)
        if wanted not in (None, (kind, count, check)):
            raise _bad("These codes are parts of different kits: begin again with one of them.")
        wanted = (kind, count, check)
        found[number] = text
    if wanted is None:
        return 0, 1
    kind, count, check = wanted
    if len(found) < count:
        return len(found), count
    body = "".join(found[number] for number in range(1, count + 1))
    if _checksum(body) != check:
        raise _bad("The parts of this kit do not fit together: scan them again.")
    return _read(body, aside) if kind == PREFIX else _unpacked(body).decode("utf-8", "replace")


def of_the_same(fragments: Iterable[str]) -> list[str]:
    """The last fragment and those before it that are parts of the same whole."""
    kept: list[str] = []
    for fragment in reversed(list(fragments)):
        if not kept or _whole(fragment) == _whole(kept[0]):
            kept.append(fragment)
    return kept


def _whole(fragment: str) -> tuple[str, ...]:
    """What the parts of one whole have in common."""
    place, _, rest = fragment.lstrip("#").partition("of")
    count, _, rest = rest.partition(".")
    return place.partition("=")[0], count, rest.partition(".")[0]


def _body(fragment: str) -> str:
    text = fragment.lstrip("#")
    kind = next((kind for kind in (PREFIX, DRAFT) if text.startswith(kind)), None)
    if kind is None:
        raise _bad("This link holds no kit.")
    version, dot, body = text.removeprefix(kind).partition(".")
    if not dot or not (version.isascii() and version.isdigit() and len(version) < 6):
        raise _bad("This link to a kit was cut short: ask for it again.")
    if int(version) > VERSION:
        raise _bad(f"This link was made by a later Ellwand ({version}; this one reads {VERSION}): reload "
                   "the page while online to update it.")
    return body


def _part(body: str) -> tuple[int, int, str, str]:
    place, _, rest = body.partition(".")
    number, of, count = place.partition("of")
    check, _, text = rest.partition(".")
    if not of or not (number.isdigit() and count.isdigit() and len(place) < 12) or not text:
        raise _bad("This code is no part of a kit, or was cut short: scan it again.")
    if not 1 <= int(number) <= int(count) <= 500:
        raise _bad("This code does not say which part of the kit it is: scan it again.")
    return int(number), int(count), check, text


def _read(body: str, aside: Aside = None) -> Kit:
    try:
        values = read_json(_unpacked(body).decode("utf-8"))
    except ValueError:
        raise _cut_short() from None
    return from_values(values, aside)


def _unpacked(body: str) -> bytes:
    """Raises BadInput."""
    try:
        packed = base64.urlsafe_b64decode(body + "=" * (-len(body) % 4))
        unpacked = zlib.decompressobj()
        data = unpacked.decompress(packed, LARGEST_FILE)
    except (ValueError, binascii.Error, zlib.error):
        raise _cut_short() from None
    if not unpacked.eof:
        raise _cut_short()
    return data


def _cut_short() -> BadInput:
    return _bad("This link was cut short or changed on its way: ask for it again.")


def _encode(data: bytes) -> str:
    return base64.urlsafe_b64encode(data).decode().rstrip("=")


def _checksum(text: str) -> str:
    return f"{zlib.crc32(text.encode()):08x}"


def _bad(sentence: str) -> BadInput:
    return BadInput([Problem("link", sentence)])
