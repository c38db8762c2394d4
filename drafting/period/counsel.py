"""All there is to say on a request: advice, the group's own rules and cautions, whatever part is given.

Someone who fills in a form gives one thing after another. So what is missing is not spoken of, and what
does not read is told as a problem and left out of the rest.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from ..garments import GARMENTS, ChoiceOption
from ..words.problems import BadInput, Problem
from .advice import Advice, advise
from .cautions_due import ACTIVITIES, Activity, Caution, cautions_for
from .choice import Choice, read_choice, title_of
from .findings import colour_is_right
from .house_rules import HouseRules, Ruling, check, read_house_rules, read_link_text
from .instead import MOST_ALTERNATIVES, Alternative
from .places import EARLIEST, LATEST, REGIONS
from .things import Topic, read_thing

OF_CLOTH = ("fibre", "weave", "colour")
CHILD_MONTHS = 14 * 12
_AS_CHILD = {"woman": "girl", "man": "boy", "": "child"}
_ANYWHERE = {"year": f"{EARLIEST}-{LATEST}", "region": next(iter(REGIONS))}


@dataclass(frozen=True)
class Counsel:
    """`placed`: whether year and region are given; without them there is no advice, and `choice` holds
    any. `problems` say what was asked and does not read; the rest goes without it."""

    choice: Choice
    placed: bool
    advice: tuple[Advice, ...]
    house: HouseRules | None
    rulings: tuple[Ruling, ...]
    cautions: tuple[Caution, ...]
    problems: tuple[Problem, ...] = ()


def is_asked(request: Mapping[str, Any]) -> bool:
    """Whether the request holds anything to be advised on but the garment itself."""
    asked = _with_its_cloth(request)
    return any(asked.get(name) for name in
               ("year", "region", "house_rules", "activities", *OF_CLOTH))


def counsel(
    request: Mapping[str, Any], *, age_months: int | None = None, stature: float | None = None
) -> Counsel:
    """On the fields that `read_choice` reads, those of OF_CLOTH also from the request's `cloth`.

    `house_rules` is a file's text or a link's; `activities` is a list of names in ACTIVITIES. Without
    `wearer`, `sex` and the age say who it is for. `stature` is in mm. Raises BadInput when the garment
    itself is none, or when year and region are both given and one does not read.
    """
    problems: list[Problem] = []
    choice, placed = _choice(_with_its_cloth(request), age_months, problems)
    rules: HouseRules | None = None
    activities: tuple[Activity, ...] = ()
    try:
        rules = read_rules(request.get("house_rules"))
    except BadInput as error:
        problems.extend(error.problems)
    try:
        activities = _activities(request.get("activities"))
    except BadInput as error:
        problems.extend(error.problems)
    years = None if age_months is None else age_months / 12
    advice = advise(choice) if placed else ()
    return Counsel(
        choice, placed,
        tuple(_within(rules, choice, a) for a in advice) if rules else advice,
        rules,
        check(rules if placed else _timeless(rules), choice) if rules else (),
        cautions_for(choice, age_years=years, stature=stature, activities=activities),
        tuple(problems),
    )


def _with_its_cloth(request: Mapping[str, Any]) -> dict[str, Any]:
    cloth = request.get("cloth")
    texts = cloth if isinstance(cloth, Mapping) else {}
    return {**{name: texts.get(name) for name in OF_CLOTH},
            **{name: value for name, value in request.items() if value or name not in OF_CLOTH}}


def _choice(
    request: dict[str, Any], age_months: int | None, problems: list[Problem]
) -> tuple[Choice, bool]:
    wearer = str(request.get("wearer") or request.get("sex") or "").strip()
    if age_months is not None and age_months < CHILD_MONTHS:
        wearer = _AS_CHILD.get(wearer, wearer)
    placed = bool(_text(request, "year") or _text(request, "region"))
    texts = {**request, "wearer": wearer, "options": _as_drafted(request),
             **({} if placed else _ANYWHERE)}
    try:
        return read_choice(texts), placed
    except BadInput as error:
        problems.extend(error.problems)
    wrong = {problem.field for problem in problems}
    texts = {name: value for name, value in texts.items() if name not in wrong}
    if wrong & {"year", "region"}:
        texts, placed = {**texts, **_ANYWHERE}, False
    return read_choice(texts), placed


def _as_drafted(request: dict[str, Any]) -> Any:
    """The options with what the garment is drafted by where nothing was chosen."""
    given, garment = request.get("options") or {}, GARMENTS.get(str(request.get("garment")))
    if not isinstance(given, Mapping) or garment is None:
        return given
    usual = {o.name: o.default for o in garment.options if isinstance(o, ChoiceOption)}
    return {**usual, **{name: value for name, value in given.items() if value}}


def _within(rules: HouseRules, choice: Choice, advice: Advice) -> Advice:
    """Nothing is offered that the group does not have; of its colours, those that are right."""
    if not advice.alternatives:
        return advice
    kept = [a for a in advice.alternatives if not _breaks(rules, choice, a.field, a.value)]
    if advice.field == "colour":
        kept += [Alternative("colour", dye, title_of("dye", dye)) for dye in rules.colours
                 if colour_is_right(choice, dye) and not _breaks(rules, choice, "colour", dye)]
    return replace(advice, alternatives=tuple(dict.fromkeys(kept))[:MOST_ALTERNATIVES])


def _breaks(rules: HouseRules, choice: Choice, field: str, value: str) -> bool:
    if field.startswith("options."):
        return False
    changed: Any = {"colours": (value,)} if field == "colour" else {field: value}
    return any(r.field == field for r in check(rules, replace(choice, **changed)))


def _text(request: Mapping[str, Any], name: str) -> str:
    return str(request.get(name) or "").strip()


def _timeless(rules: HouseRules | None) -> HouseRules:
    return replace(rules or HouseRules(), years=None, regions=(), ranks=())


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


def read_rules(value: Any) -> HouseRules | None:
    """House rules from the text of a file or of a link; None for none. Raises BadInput."""
    if not value:
        return None
    if not isinstance(value, str):
        raise BadInput([Problem("house_rules", "The house rules must be the text of their file or link.")])
    in_a_link = value[:1].isdigit() and "~" in value[:3]
    return read_link_text(value) if in_a_link else read_house_rules(value)


def fibre_of(request: Mapping[str, Any]) -> str | None:
    """The fibre that a request's cloth is said to be of, where it is one that is known."""
    text = _text(_with_its_cloth(request), "fibre")
    topic: Topic = "fibre"
    try:
        return read_thing(topic, text) if text else None
    except BadInput:
        return None
