"""What can be drafted, described for whoever builds a form: garments, options, measures, papers."""

from typing import Any

from .body import MEASURES
from .garments import GARMENTS, ChoiceOption, CountOption, Garment, Option
from .period.telling import describe_period


def describe() -> dict[str, Any]:
    return {
        "garments": [_describe_garment(garment) for garment in GARMENTS.values()],
        "measures": {name: _describe_measure(name) for name in MEASURES},
        "papers": _papers(),
        "period": describe_period(),
    }


def _describe_garment(garment: Garment) -> dict[str, Any]:
    return {
        "name": garment.name,
        "title": garment.title,
        "summary": garment.summary,
        "history": garment.history,
        "provenance": garment.provenance,
        "needs": list(garment.needs),
        "uses": list(garment.uses),
        "options": [_describe_option(option) for option in garment.options],
    }


def _describe_option(option: Option) -> dict[str, Any]:
    found: dict[str, Any] = {
        "name": option.name, "label": option.label, "help": option.help, "group": option.group,
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
    from .body.figure import figure_svg

    measure = MEASURES[name]
    return {
        "label": measure.label,
        "instruction": measure.instruction,
        "figure": figure_svg(measure),
    }


def _papers() -> list[str]:
    from .sheets.tiled_pdf import PAPERS

    return list(PAPERS)
