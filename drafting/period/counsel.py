"""All there is to say on an impression: advice, the group's own rules and cautions, whatever part is given.

Someone who fills in a form gives one thing after another. So what is missing is not spoken of, and what
does not read is told as a problem and left out of the rest.
"""

from collections.abc import Collection, Mapping
from dataclasses import dataclass, replace
from typing import Any

from ..garments import GARMENTS, ChoiceOption
from ..words.problems import BadInput, Problem
from .advice import Advice, advise
from .cautions_due import ACTIVITIES, Activity, Caution, cautions_for
from .choice import Choice, read_choice, title_of
from .findings import colour_is_right
from .house_rules import HouseRules, Ruling, check, read_house_rules, read_link_text
from .impression import Impression
from .instead import MOST_ALTERNATIVES, Alternative
from .places import EARLIEST, LATEST, REGIONS
from .things import Topic, read_thing

CHILD_MONTHS = 14 * 12
_AS_CHILD = {"woman": "girl", "man": "boy", "": "child"}
_ANYWHERE: Mapping[str, Any] = {"year": f"{EARLIEST}-{LATEST}", "region": next(iter(REGIONS))}


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


def counsel(asked: Impression) -> Counsel:
    """Raises BadInput when the garment itself is none, or when year and region are both given and one
    does not read."""
    problems: list[Problem] = []
    choice, placed = _choice(asked, problems)
    rules: HouseRules | None = None
    activities: tuple[Activity, ...] = ()
    try:
        rules = read_rules(asked.house_rules)
    except BadInput as error:
        problems.extend(error.problems)
    try:
        activities = _activities(asked.activities)
    except BadInput as error:
        problems.extend(error.problems)
    years = None if asked.age_months is None else asked.age_months / 12
    advice = advise(choice) if placed else ()
    return Counsel(
        choice, placed,
        tuple(_within(rules, choice, a) for a in advice) if rules else advice,
        rules,
        check(rules if placed else _timeless(rules), choice) if rules else (),
        cautions_for(choice, age_years=years, stature=asked.stature, activities=activities),
        tuple(problems),
    )


def _choice(asked: Impression, problems: list[Problem]) -> tuple[Choice, bool]:
    """The choice without what does not read, and whether time and place are known."""
    wearer = asked.wearer
    if asked.age_months is not None and asked.age_months < CHILD_MONTHS:
        wearer = _AS_CHILD.get(wearer, wearer)
    placed = bool(asked.year or asked.region)
    asked = replace(asked, wearer=wearer, options=_as_drafted(asked))
    if not placed:
        asked = replace(asked, **_ANYWHERE)
    try:
        return read_choice(asked), placed
    except BadInput as error:
        problems.extend(error.problems)
    wrong = {problem.field for problem in problems}
    nothing: dict[str, Any] = {name: "" for name in wrong}
    readable = replace(asked, **nothing)
    if wrong & {"year", "region"}:
        readable, placed = replace(readable, **_ANYWHERE), False
    return read_choice(readable), placed


def _as_drafted(asked: Impression) -> Mapping[str, str]:
    """The options with what the garment is drafted by where nothing was chosen."""
    garment = GARMENTS.get(asked.garment)
    if garment is None:
        return asked.options
    usual = {o.name: o.default for o in garment.options if isinstance(o, ChoiceOption)}
    return {**usual, **asked.options}


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


def _timeless(rules: HouseRules | None) -> HouseRules:
    return replace(rules or HouseRules(), years=None, regions=(), ranks=())


def _activities(names: Collection[str]) -> tuple[Activity, ...]:
    unknown = [name[:20] for name in names if name not in ACTIVITIES]
    if unknown:
        raise BadInput([Problem(
            "activities", f"“{unknown[0]}” is no activity: give {', '.join(ACTIVITIES)}."
        )])
    return tuple(name for name in ACTIVITIES if name in names)


def read_rules(text: str) -> HouseRules | None:
    """House rules from the text of a file or of a link; None for none. Raises BadInput."""
    if not text:
        return None
    in_a_link = text[:1].isdigit() and "~" in text[:3]
    return read_link_text(text) if in_a_link else read_house_rules(text)


def fibre_of(asked: Impression) -> str | None:
    """The fibre that the cloth is said to be of, where it is one that is known."""
    topic: Topic = "fibre"
    try:
        return read_thing(topic, asked.fibre) if asked.fibre else None
    except BadInput:
        return None
