"""What someone has chosen, and the impression they want to give with it, read from texts."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from ..body.growth import Sex
from ..garments import GARMENTS
from ..words.problems import BadInput, Problem
from .dyes import DYES, read_colour
from .impression import Impression
from .places import ORDINARY, REGIONS, Years, read_rank, read_region, read_years
from .things import THINGS, Topic, read_thing

_WEARERS: Mapping[str, tuple[Sex | None, bool]] = {
    "": (None, False), "woman": ("woman", False), "man": ("man", False), "child": (None, True),
    "girl": ("woman", True), "boy": ("man", True),
}


@dataclass(frozen=True)
class Choice:
    """A garment, its cloth and its colour, and the years, region and rank to be shown with it.

    `colours` are the dyes that the colour named may mean; empty where none was named. `options` are the
    garment's own, by name. Everything else that is None was not chosen and is not advised on.
    """

    garment: str
    years: Years
    region: str
    rank: str = ORDINARY
    wearer: Sex = "woman"
    child: bool = False
    colours: tuple[str, ...] = ()
    fibre: str | None = None
    weave: str | None = None
    thread: str | None = None
    trim: str | None = None
    fastening: str | None = None
    making: str | None = None
    options: Mapping[str, str] = field(default_factory=dict)

    def thing(self, topic: Topic) -> str | None:
        """What was chosen of that topic."""
        found: str | None = getattr(self, topic)
        return found


def read_choice(asked: Impression) -> Choice:
    """The choice as typed; its garment, year and region must be given.

    Raises BadInput naming every field that does not read.
    """
    problems: list[Problem] = []
    read: dict[str, Any] = {}

    def take(name: str, reader: Any, text: str, needed: bool = False) -> None:
        if not text.strip() and not needed:
            return
        try:
            read[name] = reader(text.strip())
        except BadInput as error:
            problems.extend(error.problems)

    take("garment", _garment, asked.garment, needed=True)
    take("years", read_years, asked.year, needed=True)
    take("region", read_region, asked.region, needed=True)
    take("rank", read_rank, asked.rank)
    take("colours", read_colour, asked.colour)
    for topic in THINGS:
        take(topic, lambda text, topic=topic: read_thing(topic, text), getattr(asked, topic))
    take("wearer", _wearer, asked.wearer)
    if problems:
        raise BadInput(problems)
    wearer, child = read.pop("wearer", (None, False))
    return Choice(
        **read, child=child, wearer=wearer or GARMENTS[read["garment"]].usual_wearer,
        options=dict(asked.options),
    )


def _garment(text: str) -> str:
    if text not in GARMENTS:
        raise BadInput([Problem(
            "garment",
            f"There is no garment “{text[:40]}”: choose one of {', '.join(GARMENTS)}.",
        )])
    return text


def _wearer(text: str) -> tuple[Sex | None, bool]:
    if text.casefold() not in _WEARERS:
        raise BadInput([Problem(
            "wearer", f"“{text[:20]}” is no wearer: give woman, man, girl, boy or child."
        )])
    return _WEARERS[text.casefold()]


def title_of(topic: str, subject: str) -> str:
    """What a subject that statements speak of is called, with a capital; a cut as `Cloak, half circle`."""
    if topic == "garment":
        return GARMENTS[subject].title
    if topic == "cut":
        garment, _, option = subject.partition(".")
        return f"{GARMENTS[garment].title}, {option.partition('=')[2].replace('-', ' ')}"
    if topic == "place":
        title = REGIONS[subject].title
    elif topic == "dye":
        title = DYES[subject].title
    elif topic in THINGS:
        title = THINGS[topic][subject].title  # type: ignore[index]
    else:
        title = {"dyed": "dyed plant fibre", "wearer": "children's clothes"}[topic]
    return title[:1].upper() + title[1:]
