"""What a cutter would change so that less cloth is taken: how it lies, its allowances, how it is parted."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Any

from ..cloth.cloth import FROM_HAND, field_of
from ..garments.options import ChoiceOption, OptionValue, as_typed
from ..lay.bolt import may_lie_across
from ..words.units import Unit, format_number
from ..words.wording import said
from .drafts import Draft
from .order import MAIN, Cloths, Order

WORTH_TURNING, WORTH_SAYING, WORTH_PIECING = 0.01, 0.02, 0.10
"""Part of the length that it must save to be named, where there is cloth enough: what costs nothing to sew
and leaves the garment as it is; a change; and a seam which nobody needs."""

SMALL_ALLOWANCE = 15.0
"""mm: the least seam allowance that a run-and-fell seam is comfortable with. common practice, no source."""

NARROWER = (0.9, 0.8)
"""Parts of the hem girth that are tried."""

PIECED = {"two-thirds": "two thirds of", "half": "half"}
NEEDED = "when-needed"

CUTTING = ("shoulder", "gore_cut", "gore_start", "gores", "body_width", "cut")
"""Options that say in which parts a garment is cut: a cutter short of cloth tries their other choices."""


@dataclass(frozen=True)
class Setting:
    """An option of the garment (`part` is "") or a field of one of its cloths, and the value to give it."""

    name: str
    value: OptionValue | bool
    part: str = ""

    @property
    def field(self) -> str:
        """What a form and a problem call it."""
        return field_of(self.part, self.name) if self.part else self.name

    def text(self, unit: Unit) -> str:
        """The value as it would be typed."""
        if isinstance(self.value, bool):
            return "yes" if self.value else "no"
        return as_typed(self.value, unit)


Change = tuple[Setting, ...]


@dataclass(frozen=True)
class Move:
    """A change in words, and the part of the length that it must save to be named."""

    title: str
    change: Change
    least: float = WORTH_SAYING

    @property
    def fields(self) -> frozenset[str]:
        return frozenset(setting.field for setting in self.change)

    def and_also(self, other: "Move") -> "Move":
        """Both; what the other sets goes first. The title of what it replaces is not told again."""
        mine = tuple(setting for setting in self.change if setting.field not in other.fields)
        title = f"{self.title}, {other.title[0].lower()}{other.title[1:]}"
        return Move(title, (*mine, *other.change), max(self.least, other.least))


def changed_by(order: Order, change: Change) -> Order:
    """The order with a change made."""
    options, cloths = order.options, order.cloths
    for setting in change:
        if setting.part:
            known = cloths or Cloths({})
            value: dict[str, Any] = {setting.name: setting.value}
            cloths = known.changed(setting.part, replace(known.of(setting.part), **value))
        else:
            options = options.changed(setting.name, setting.value)
    return replace(order, options=options, cloths=cloths)


def moves(drafted: Draft, *, may_turn: bool = False) -> Iterator[Move]:
    """Each by itself; several may set the same field. `may_turn`: pieces across the grain among them."""
    yield from _on_the_cloth(drafted)
    if may_turn:
        yield from _turned(drafted)
    yield from _smaller(drafted)
    yield from _parted(drafted)
    yield from _pieced(drafted)


def _on_the_cloth(drafted: Draft) -> Iterator[Move]:
    for part in drafted.parts:
        cloth = drafted.order.cloth(part)
        if cloth.nap:
            yield Move(_whose(part, "pieces may lie head to tail"), (Setting("nap", False, part),))
        if cloth.folded:
            yield Move(_whose(part, "laid on a single layer"), (Setting("folded", False, part),))


def _turned(drafted: Draft) -> Iterator[Move]:
    for part in drafted.parts:
        cloth = drafted.order.cloth(part)
        titles = [piece.title for piece in drafted.pattern.pieces
                  if piece.cloth == part and may_lie_across(piece)]
        if titles and not cloth.turned and replace(cloth, turned=True).may_turn:
            title = _whose(part, f"across the grain where that saves: {', '.join(titles)}")
            yield Move(title, (Setting("turned", True, part),), WORTH_TURNING)


def _whose(part: str, words: str) -> str:
    return f"The {part}: {words}" if part != MAIN else words[0].upper() + words[1:]


def _smaller(drafted: Draft) -> Iterator[Move]:
    order = drafted.order
    known = {option.name for option in order.garment.options}
    if "seam_allowance" in known and order.options["seam_allowance"] > SMALL_ALLOWANCE:
        allowance = _as_typed(order, "seam_allowance", SMALL_ALLOWANCE)
        yield Move(f"Seam allowances of {said(SMALL_ALLOWANCE)}", (allowance,))
    if "hem_girth" in known:
        for part in NARROWER:
            girth = round(order.options["hem_girth"] * part, -1)
            try:
                yield Move(f"A hem girth of {said(girth)}", (_as_typed(order, "hem_girth", girth),))
            except ValueError:
                continue  # narrower than the garment is drafted at all


def _as_typed(order: Order, option: str, mm: float) -> Setting:
    """The option as the form reads it back. Raises ValueError for what it does not take."""
    return Setting(option, order.garment.option(option).read(format_number(mm, order.unit), order.unit))


def _parted(drafted: Draft) -> Iterator[Move]:
    """The other choices of how the garment is cut in parts."""
    order = drafted.order
    for option in order.garment.options:
        if option.name in CUTTING and isinstance(option, ChoiceOption):
            for choice, words in option.choices.items():
                if not order.options.is_(option.name, choice):
                    title = f"{option.label} {words.partition(':')[0]}"
                    yield Move(title, (Setting(option.name, choice),))


def _pieced(drafted: Draft) -> Iterator[Move]:
    for part in drafted.parts if drafted.order.cloths else ():
        if drafted.order.cloth(part).piecing != NEEDED:
            continue
        if drafted.order.cloth(part).remnants:
            yield Move(_whose(part, "pieces joined from what is there already"),
                       (Setting("piecing", FROM_HAND, part),), WORTH_PIECING)
        for name, words in PIECED.items():
            whose = "Pieces" if part == MAIN else f"Pieces of the {part}"
            yield Move(f"{whose} no wider than {words} the cloth", (Setting("piecing", name, part),),
                       WORTH_PIECING)
