"""The advice, the group's own rules and the cautions as plain values, and what can be chosen."""

from collections.abc import Mapping
from typing import Any

from ..problems import BadInput, Problem
from .advice import ORGANISER_FIRST, Advice, Ground, advise, worst
from .cautions import ACTIVITIES, Activity, cautions_for
from .choice import Choice, read_choice
from .dyes import COSTS, COSTS_FROM, DEPTHS, DYES, PATTERNS, TONES_FROM, Dye, chalked
from .findings import best_dye
from .house_rules import HouseRules, Ruling, as_link_text, check, only_shown, read_house_rules, read_link_text
from .places import EARLIEST, LATEST, RANKS, REGIONS, said_years
from .statements import Sureness
from .things import THINGS

SURENESS: Mapping[Sureness, str] = {
    "sure": "well attested", "likely": "likely", "disputed": "disputed, or a guess",
}
CHILD_MONTHS = 14 * 12
_AS_CHILD = {"woman": "girl", "man": "boy", "": "child"}


def advise_in_words(
    request: Mapping[str, Any], *, age_months: int | None = None, stature: float | None = None
) -> dict[str, Any]:
    """Advice on the fields that `read_choice` reads, as plain values.

    `house_rules` is a file's text or a link's; `activities` is a list of names in ACTIVITIES. Without
    `wearer`, `sex` and the age say who it is for. `stature` is in mm. Raises BadInput.
    """
    choice, rules, activities = _read(request, age_months)
    advice = advise(choice)
    years = None if age_months is None else age_months / 12
    cautions = cautions_for(choice, age_years=years, stature=stature, activities=activities)
    return {
        "choice": _as_read(choice),
        "organiser_first": ORGANISER_FIRST,
        "worst": worst(advice),
        "advice": [_advice(a) for a in advice],
        "house": _house(rules, check(rules, choice)) if rules else None,
        "cautions": [{"moment": c.moment, "sentence": c.sentence} for c in cautions],
    }


def _read(
    request: Mapping[str, Any], age_months: int | None
) -> tuple[Choice, HouseRules | None, tuple[Activity, ...]]:
    """Everything asked for. Raises BadInput with all that does not read."""
    problems: list[Problem] = []
    choice = rules = None
    activities: tuple[Activity, ...] = ()
    try:
        choice = _choice(request, age_months)
    except BadInput as error:
        problems.extend(error.problems)
    try:
        rules = _house_rules(request.get("house_rules"))
    except BadInput as error:
        problems.extend(error.problems)
    try:
        activities = _activities(request.get("activities"))
    except BadInput as error:
        problems.extend(error.problems)
    if problems or choice is None:
        raise BadInput(problems)
    return choice, rules, activities


def _choice(request: Mapping[str, Any], age_months: int | None) -> Choice:
    wearer = str(request.get("wearer") or request.get("sex") or "").strip()
    if age_months is not None and age_months < CHILD_MONTHS:
        wearer = _AS_CHILD.get(wearer, wearer)
    return read_choice({**request, "wearer": wearer})


def _activities(value: Any) -> tuple[Activity, ...]:
    names = value or []
    if not isinstance(names, (list, tuple)) or not all(isinstance(n, str) for n in names):
        raise BadInput([Problem("activities", "The activities must be a list of names.")])
    unknown = [name[:20] for name in names if name not in ACTIVITIES]
    if unknown:
        raise BadInput([Problem(
            "activities", f"“{unknown[0]}” is no activity: give {', '.join(ACTIVITIES)}."
        )])
    return tuple(name for name in ACTIVITIES if name in names)


def _house_rules(value: Any) -> HouseRules | None:
    if not value:
        return None
    if not isinstance(value, str):
        raise BadInput([Problem("house_rules", "The house rules must be the text of their file or link.")])
    in_a_link = value[:1].isdigit() and "~" in value[:3]
    return read_link_text(value) if in_a_link else read_house_rules(value)


def _as_read(choice: Choice) -> dict[str, Any]:
    dye = best_dye(choice) if choice.colours else None
    return {
        "garment": choice.garment, "years": list(choice.years), "years_text": said_years(choice.years),
        "region": choice.region, "region_title": REGIONS[choice.region].title,
        "rank": choice.rank, "rank_title": RANKS[choice.rank].title,
        "wearer": choice.wearer, "child": choice.child, "dye": dye,
        **{topic: choice.thing(topic) for topic in THINGS},
    }


def _advice(advice: Advice) -> dict[str, Any]:
    return {
        "topic": advice.topic, "field": advice.field, "subject": advice.subject, "title": advice.title,
        "severity": advice.severity, "years": list(advice.years), "headline": advice.headline,
        **_ground(advice.ground),
        "more": [{**_ground(g), "title": g.title} for g in advice.more],
        "alternatives": [
            {"field": a.field, "value": a.value, "label": a.label} for a in advice.alternatives
        ],
    }


def _ground(ground: Ground) -> dict[str, str]:
    return {
        "sentence": ground.says, "sure": ground.sure, "sure_text": SURENESS[ground.sure],
        "source": ground.source, "dispute": ground.dispute,
    }


def _house(rules: HouseRules, rulings: tuple[Ruling, ...]) -> dict[str, Any]:
    return {
        "group": rules.name, "message": rules.message, "link_text": as_link_text(rules),
        "rulings": [{"field": r.field, "sentence": r.sentence} for r in rulings],
        "also_not_allowed": list(only_shown(rules)),
    }


def describe_period() -> dict[str, Any]:
    """What can be chosen, for whoever builds a form."""
    return {
        "years": [EARLIEST, LATEST],
        "organiser_first": ORGANISER_FIRST,
        "regions": [{"name": r.name, "title": r.title} for r in REGIONS.values()],
        "ranks": [{"name": r.name, "title": r.title} for r in RANKS.values()],
        "choices": {
            topic: [{"name": t.name, "title": t.title} for t in things.values()]
            for topic, things in THINGS.items()
        },
        "activities": [{"name": name, "title": title} for name, title in ACTIVITIES.items()],
        "dyes": [_dye(dye) for dye in DYES.values()],
        "tones_from": TONES_FROM,
        "costs_from": COSTS_FROM,
    }


def _dye(dye: Dye) -> dict[str, Any]:
    return {
        "name": dye.name, "title": dye.title, "made_of": dye.made_of, "cost": COSTS[dye.cost],
        "pattern": {"name": dye.pattern, "path": PATTERNS[dye.pattern]},
        "tones": {
            fibre: [
                {"depth": depth, "cloth": t.cloth, "chalk": t.chalk, "contrast": round(t.contrast, 1)}
                for depth, t in zip(DEPTHS, map(chalked, tones), strict=True)
            ]
            for fibre in ("wool", "linen") if (tones := dye.tones(fibre)) is not None
        },
    }
