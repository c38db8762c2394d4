"""What can be drafted, described for whoever builds a form: garments, options, measures, sizes, papers."""

from typing import Any

from ..body import MEASURES, SIZE_TABLE
from ..body.sizes import PROVENANCE
from ..cloth.in_the_shop import usual_in_words
from ..garments import GARMENTS, ChoiceOption, CountOption, Garment, Option
from ..garments.options import Chosen
from ..words.units import Unit, format_number

_UNITS: tuple[Unit, ...] = ("cm", "in")


def describe() -> dict[str, Any]:
    from ..period.telling import describe_period

    return {
        "garments": [_describe_garment(garment) for garment in GARMENTS.values()],
        "measures": {name: _describe_measure(name) for name in MEASURES},
        "papers": _papers(),
        "period": describe_period(),
        "shrinking": _shrinking(),
        "sizes": _sizes(),
        "sizes_from": PROVENANCE,
    }


def _describe_garment(garment: Garment) -> dict[str, Any]:
    from ..period.findings import usually_worn_by

    return {
        "name": garment.name,
        "title": garment.title,
        "summary": garment.summary,
        "history": garment.history,
        "provenance": garment.provenance,
        "worn_by": usually_worn_by(garment),
        "needs": list(garment.needs),
        "uses": list(garment.uses),
        "options": [_describe_option(option) for option in garment.options],
    }


def _describe_option(option: Option) -> dict[str, Any]:
    found: dict[str, Any] = {
        "name": option.name, "label": option.label, "help": option.help, "group": option.group,
        "when": [[w.option, list(w.choices) if isinstance(w, Chosen) else []] for w in option.when],
    }
    if isinstance(option, ChoiceOption):
        return {**found, "kind": "choice", "choices": dict(option.choices), "default": option.default}
    if isinstance(option, CountOption):
        return {**found, "kind": "count", "least": option.least, "most": option.most,
                "default": option.default}
    default = None if callable(option.default) else option.default
    return {**found, "kind": "length", "least": option.least, "most": option.most,
            "default": default,
            "range": {unit: option.range_text(unit) for unit in ("cm", "in")}}


def _describe_measure(name: str) -> dict[str, Any]:
    from ..body.figure import figure_svg

    measure = MEASURES[name]
    return {
        "label": measure.label,
        "instruction": measure.instruction,
        "figure": figure_svg(measure),
    }


def _sizes() -> list[dict[str, Any]]:
    """Start values by size: what every garment needs, as one would type it under cm and inches."""
    from ..body.starting import start_values

    needed = [name for name in MEASURES if any(name in g.needs for g in GARMENTS.values())]
    return [
        {"name": size.name, "label": size.label,
         "values": {unit: {name: format_number(mm, unit)
                           for name, mm in start_values(size, needed).items()}
                    for unit in _UNITS}}
        for size in SIZE_TABLE.values()
    ]


def _shrinking() -> dict[str, str]:
    """What each fibre usually shrinks, in a sentence."""
    from ..period.things import THINGS

    return {name: usual_in_words(name, fibre.title) for name, fibre in THINGS["fibre"].items()}


def _papers() -> list[str]:
    from ..sheets.tiled_pdf import PAPERS

    return list(PAPERS)
