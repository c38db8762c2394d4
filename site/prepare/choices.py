"""What can be chosen of time, place and cloth, as the options of lists; put into the page when built."""

from typing import Any

import cloths
from safe import esc

GROUPS = (
    ("As it grew", ("nothing: the sheep or the flax grew it so",)),
    ("Dyes within reach", ("little", "some")),
    ("Dear dyes", ("much", "a fortune")),
    ("Modern, not of the time", ("not to be had",)),
)
DOING_ELSEWHERE = ("sewing",)  # its cautions stand in the section on sewing, ticked or not


def places(period: dict[str, Any]) -> dict[str, str]:
    things = period["choices"]
    return {
        "regions": _options("choose", period["regions"]),
        "ranks": _options("not said: a farmer", period["ranks"]),
        "fibres": _options("not said", things["fibre"]),
        "weaves": _options("not said", things["weave"]),
        "colours": _colours(period["dyes"]),
        "remnants": "".join(_remnant(cloths.ON_HAND % number, number)
                            for number in range(1, cloths.ROWS + 1)),
        "doing": "".join(
            f'<label class="row"><input type="checkbox" name="doing" value="{esc(a["name"])}">'
            f"<span>{esc(_capital(a['title']))}</span></label>"
            for a in period["activities"] if a["name"] not in DOING_ELSEWHERE
        ),
    }


def _remnant(name: str, number: int) -> str:
    """A box for a piece of cloth; all but the first are shown when they are needed."""
    hidden = " hidden" if number > 1 else ""
    return (
        f'<div class="field" id="field-{name}"{hidden}><label for="{name}">Piece {number}</label>'
        f'<div class="box text"><textarea id="{name}" name="{name}" data-in="cloth" rows="5" maxlength="180" '
        f'autocomplete="off" spellcheck="false" aria-describedby="{name}-problem"></textarea></div>'
        f'<p class="problem" id="{name}-problem"></p><div id="{name}-picture" class="on-hand-picture"></div>'
        "</div>"
    )


def dyes(period: dict[str, Any]) -> list[dict[str, Any]]:
    """What the page needs of each dye: a cloth and the chalk to read on it for each depth."""
    return [
        {"name": dye["name"], "title": dye["title"], "made_of": dye["made_of"], "cost": dye["cost"],
         "path": dye["pattern"]["path"],
         **{fibre: [[tone["cloth"], tone["chalk"]] for tone in tones]
            for fibre, tones in dye["tones"].items()}}
        for dye in period["dyes"]
    ]


def _options(empty: str, entries: list[dict[str, Any]]) -> str:
    first = f'<option value="">{esc(empty)}</option>'
    return first + "".join(map(_option, entries))


def _option(entry: dict[str, Any]) -> str:
    return f'<option value="{esc(entry["name"])}">{esc(_capital(entry["title"]))}</option>'


def _colours(found: list[dict[str, Any]]) -> str:
    grouped = {cost for _, costs in GROUPS for cost in costs}
    if lost := [dye["name"] for dye in found if dye["cost"] not in grouped]:
        raise SystemExit(f"No group of colours has {', '.join(lost)}: see GROUPS.")
    groups = [
        f'<optgroup label="{esc(label)}">'
        + "".join(_option(dye) for dye in found if dye["cost"] in costs) + "</optgroup>"
        for label, costs in GROUPS
    ]
    return '<option value="">not said</option>' + "".join(groups)


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
