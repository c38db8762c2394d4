"""What a garment declares: the measurements it needs, its options, and how it is drafted."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from difflib import get_close_matches
from typing import Any, Literal

from ..body import Body
from ..body.growth import Sex
from ..pattern import Pattern
from ..words.kinds import must_be
from ..words.problems import BadInput, Problem
from ..words.units import Unit
from .options import ChoiceOption, Chosen, LengthOption, Option, Options, OptionValue
from .wearing import Wearing

WornAt = Literal["head", "neck", "trunk", "legs", "hands"]
UsualFibre = Literal["wool", "linen"]
HeldBy = Literal["pins", "pinned straps", "cord", "toggles", "neck slit", "winding"]
"""What closes a garment or keeps it on, and can prick, catch, choke or bind. A neck slit is one that
something must close."""


Always = Literal[True]
Held = Mapping[HeldBy, Chosen | Always]


@dataclass(frozen=True)
class Garment:
    """A garment the user can choose, and all that the rest of the house knows of it by name.

    `needs` are measurements that must be taken; `uses` are those it estimates when they are missing.
    `draft` is a pure function of body and options and raises BadInput for options that contradict.

    Advice, cautions and care read the facts: `usual_wearer` is who is taken to wear it where nobody
    says, `long` that its hem is near the ground, `held_by` what closes it or keeps it on ({} for
    nothing of that kind), `instead` the garments that would do where this one is not right, the likest
    first, and `cuts_instead` the same for choices, as `shape=half-circle`. `estimated_as` says by whose
    proportions to estimate when the wearer's sex is not given; None for both alike. `worn` says how it is
    hung on its wearer's figure; None where that cannot be shown.

    Raises ValueError with a sentence for a fact that is none of those that can be.
    """

    name: str
    title: str
    summary: str
    needs: tuple[str, ...]
    uses: tuple[str, ...]
    options: tuple[Option, ...]
    draft: Callable[[Body, Options], Pattern]
    history: str
    provenance: str
    worn_at: WornAt
    usual_fibre: UsualFibre
    usual_wearer: Sex
    long: bool
    held_by: Held
    instead: tuple[str, ...]
    cuts_instead: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    estimated_as: Sex | None = None
    worn: Wearing | None = None

    def __post_init__(self) -> None:
        must_be(f"{self.title}, worn_at", self.worn_at, WornAt)
        must_be(f"{self.title}, usual_fibre", self.usual_fibre, UsualFibre)
        must_be(f"{self.title}, usual_wearer", self.usual_wearer, Sex)
        must_be(f"{self.title}, long", self.long, Literal[True, False])
        if self.estimated_as is not None:
            must_be(f"{self.title}, estimated_as", self.estimated_as, Sex)
        for held_by, when in self.held_by.items():
            must_be(f"{self.title}, held_by", held_by, HeldBy)
            if isinstance(when, Chosen):
                self._must_offer(when.option, when.choices)
            else:
                must_be(f"{self.title}, held_by {held_by}", when, Always)
        lengths = {option.name for option in self.options if isinstance(option, LengthOption)}
        for declared in self.options:
            for given in declared.when:
                if isinstance(given, Chosen):
                    self._must_offer(given.option, given.choices)
                elif given.option not in lengths:
                    raise ValueError(f"{self.title}, {declared.name}: there is no length “{given.option}”.")
        for cut, instead in self.cuts_instead.items():
            option, _, choice = cut.partition("=")
            self._must_offer(option, (choice, *instead))

    def _must_offer(self, name: str, choices: tuple[str, ...]) -> None:
        choosable = {o.name: o.choices for o in self.options if isinstance(o, ChoiceOption)}
        for given, allowed in ((name, choosable), *((c, choosable.get(name, {})) for c in choices)):
            if given not in allowed:
                raise ValueError(f"{self.title}, {name}: “{given}” is not one of {', '.join(allowed)}.")

    def is_held_by(self, held_by: HeldBy, options: Mapping[str, Any]) -> bool:
        """With these options; one that is left out counts as its default."""
        when = self.held_by.get(held_by)
        if not isinstance(when, Chosen):
            return when is not None
        option = self.option(when.option)
        usual = option.default if isinstance(option, ChoiceOption) else None
        return options.get(when.option, usual) in when.choices

    def chosen(self, values: Mapping[str, OptionValue]) -> Options:
        """The options by values that have been read, one for each."""
        return Options({option.name: option for option in self.options}, values)

    def option(self, name: str) -> Option:
        """Raises KeyError when the garment has no option of that name."""
        for option in self.options:
            if option.name == name:
                return option
        raise KeyError(name)


def read_options(
    garment: Garment, texts: Mapping[str, str], body: Body, unit: Unit = "cm"
) -> Options:
    """The garment's options as typed, with defaults where nothing was.

    Raises BadInput naming every option that is unknown or does not read.
    """
    problems = []
    known = {option.name for option in garment.options}
    for name in texts:
        if name not in known:
            near = get_close_matches(name, known, n=1)
            hint = f" Did you mean {near[0]}?" if near else ""
            problems.append(
                Problem(name[:60], f"{garment.title} has no option “{name[:60]}”.{hint}")
            )
    values: dict[str, OptionValue] = {}
    for option in garment.options:
        text = texts.get(option.name, "")
        if not text.strip():
            values[option.name] = option.default_for(body)
            continue
        try:
            values[option.name] = option.read(text, unit)
        except ValueError as error:
            problems.append(Problem(option.name, str(error)))
    if problems:
        raise BadInput(problems)
    return garment.chosen(values)
