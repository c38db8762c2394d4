"""Cloth: how wide it really is, how it shrinks, what it weighs and costs.

Widths and lengths in mm. The cloth one buys and the cloth one cuts differ by shrinkage: washed before
cutting, a length shrinks on the bolt and the pieces keep their size; cut unwashed, the pieces must be
cut larger, so that the garment comes right at its first wash.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from ..geometry import bounds
from ..words.problems import BadInput, Problem
from ..words.units import LengthError, Unit, parse_length
from ..words.wording import said, writable
from .pieces_on_hand import MOST_PIECES, PieceOnHand, read_piece_on_hand

NARROWEST, WIDEST = 60.0, 4000.0
LENGTHS = ("width", "selvedge", "on_hand")
LOOKS = ("fibre", "weave", "colour")
"""What is said of a cloth and changes nothing in how it is cut."""

LONGEST_TEXT = 80
MOST_SHRINKAGE = 0.25
"""A quarter: more is fulling, which is done to a sample first. common practice, no source."""

USUAL_WIDTH, USUAL_LINING = 1500.0, 1400.0
"""mm between the edges, where nothing is said: of the main cloth, and of the linen that lines it.
common practice, no source."""

_OF_A_LENGTH = re.compile(r"\s*(?:\ba|\bper|/)\s*([a-z]+)$", re.IGNORECASE)

FROM_HAND = "from-hand"
PIECING = {"when-needed": 1.0, "two-thirds": 2 / 3, "half": 1 / 2, FROM_HAND: 1.0}
"""The part of the cloth's width that a piece may take before it is pieced. FROM_HAND: also what is wider than
any piece that is there already, of those long enough for it."""


@dataclass(frozen=True)
class Cloth:
    """A bolt of cloth as it is bought.

    `shrinkage_warp` and `shrinkage_weft` are parts of one (0.06 for 6 %), in the first wash. `folded`
    lays two layers at once, selvedge to selvedge; `turned` lets pieces that do not hang lie across the
    grain, where that does not matter to how they shrink. `weight` in g/m², `price` per metre of length.
    `shrinkage_said` is whether what it shrinks along was said at all, were it nothing.
    `piecing` is one of PIECING: narrower parts may save cloth.
    `fibre`, `weave` and `colour` are texts as typed, for whoever advises on them. `remnants` are pieces of it
    that are there already, and are cut from first.
    """

    name: str = ""
    width: float = USUAL_WIDTH
    selvedge: float = 10.0
    on_hand: float | None = None
    shrinkage_warp: float = 0.0
    shrinkage_weft: float = 0.0
    shrinkage_said: bool = False
    washed_first: bool = True
    nap: bool = False
    two_sided: bool = True
    folded: bool = False
    turned: bool = False
    weight: float | None = None
    price: float | None = None
    piecing: str = "when-needed"
    fibre: str = ""
    weave: str = ""
    colour: str = ""
    remnants: tuple[PieceOnHand, ...] = ()

    @property
    def called(self) -> str:
        """Its name, or how it looks; "" where nothing is said of either."""
        return self.name or " ".join(filter(None, (self.colour, self.fibre)))

    @property
    def usable_width(self) -> float:
        """mm between the selvedges that pieces can be laid on, when it is cut."""
        washed = 1 - self.shrinkage_weft if self.washed_first else 1.0
        return self.width * washed - 2 * self.selvedge

    @property
    def lay_width(self) -> float:
        """mm of strip for the lay: half the usable width when the cloth is folded."""
        return self.usable_width / 2 if self.folded else self.usable_width

    @property
    def laid_width(self) -> float:
        """mm across the cloth as it lies, selvedges included; folded, one side is the fold."""
        return self.lay_width + self.selvedge * (1 if self.folded else 2)

    @property
    def piece_width(self) -> float:
        """mm that a piece may be wide with its allowances, as it is drafted."""
        return self.lay_width / self.enlarge[0]

    def wished_width(self, length: float) -> float:
        """mm that a piece that can be pieced, so long with its allowances, should be wide at most."""
        if self.piecing == FROM_HAND:
            across, along = self.enlarge
            boxes = [bounds(piece.outline) for piece in self.remnants]
            wide = [(x1 - x0) / across for x0, y0, x1, y1 in boxes if y1 - y0 >= length * along]
            return min(self.piece_width, max(wide, default=self.piece_width))
        return self.piece_width * PIECING[self.piecing]

    @property
    def enlarge(self) -> tuple[float, float]:
        """Factors for a piece's width and length when the cloth is cut before it is washed."""
        if self.washed_first:
            return 1.0, 1.0
        return 1 / (1 - self.shrinkage_weft), 1 / (1 - self.shrinkage_warp)

    @property
    def may_turn(self) -> bool:
        """Whether pieces may lie across the grain: not on a nap, nor where they are cut larger one way."""
        across, along = self.enlarge
        return self.turned and not self.nap and across == along

    def to_buy(self, cut_length: float) -> float:
        """mm to buy for `cut_length` mm of lay."""
        return cut_length / (1 - self.shrinkage_warp) if self.washed_first else cut_length

    def cut_length_on_hand(self) -> float | None:
        """mm that the cloth on hand gives to cut from, after washing."""
        if self.on_hand is None:
            return None
        return self.on_hand * (1 - self.shrinkage_warp if self.washed_first else 1.0)

    @property
    def area_on_hand(self) -> float | None:
        """mm² of what is there already, remnants among it; None where nothing is said of that."""
        length = self.cut_length_on_hand()
        if length is None and not self.remnants:
            return None
        return (length or 0.0) * self.usable_width + sum(piece.area for piece in self.remnants)

    def weight_of(self, length: float) -> float | None:
        """Grams of `length` mm as bought."""
        return None if self.weight is None else self.weight * self.width * length / 1e6

    def price_of(self, length: float) -> float | None:
        """What `length` mm as bought costs, in the price's own currency."""
        return None if self.price is None else self.price * length / 1000


@dataclass
class _Reader:
    """Reads a cloth's fields as typed, gathering a sentence for each that does not read."""

    texts: Mapping[str, Any]
    unit: Unit
    part: str
    problems: list[Problem] = field(default_factory=list)

    def remnants(self) -> tuple[PieceOnHand, ...]:
        """Those of REMNANTS that are filled in, in their order; one sentence for all that are too many."""
        found: list[PieceOnHand] = []
        more = [name for name in self.texts if name.startswith(REMNANT) and name not in REMNANTS]
        if more:
            count = len(more) + sum(name in self.texts for name in REMNANTS)
            self.say(REMNANTS[0], f"{count} pieces of cloth are given: at most {MOST_PIECES} are laid at "
                     "once. Give the largest first, and what is left the next time.")
        for number, name in enumerate(REMNANTS, 1):
            if self.text(name):
                try:
                    found.append(read_piece_on_hand(
                        self.text(name), number, self.unit, field_of(self.part, name)))
                except BadInput as error:
                    self.problems += error.problems
        names = [piece.name for piece in found]
        for twice in dict.fromkeys(name for name in names if names.count(name) > 1):
            self.say(REMNANTS[0], f"Two pieces of cloth are called “{twice}”: give each a name of its own.")
        return tuple(found)

    def text(self, name: str) -> str:
        return writable(str(self.texts.get(name) or "")).strip()

    def choice(self, name: str, choices: Mapping[str, Any]) -> str:
        text = self.text(name)
        if text and text not in choices:
            self._wrong(name, f"“{text[:20]}” is not among {', '.join(choices)}.", 0.0)
        return text if text in choices else next(iter(choices))

    def length(self, name: str, title: str, default: float, least: float, most: float) -> float:
        text = self.text(name)
        if not text:
            return default
        try:
            value = parse_length(text, self.unit)
        except LengthError as error:
            return self._wrong(name, f"{title}: {error}", default)
        if not least <= value <= most:
            return self._wrong(
                name, f"{title} of {said(value)} cannot be cut from"
                f"{', not even a strap' if name == 'width' and value < least else ''}: "
                f"give {said(least)} to {said(most)}.",
                default,
            )
        return value

    def percent(self, name: str, title: str) -> float:
        text = self.text(name).rstrip("%").strip().replace(",", ".")
        if not text:
            return 0.0
        value = self._number(text)
        if value is None:
            return self._wrong(name, f"{title}: “{text[:20]}” is not a percentage such as 6.", 0.0)
        if not 0 <= value / 100 <= MOST_SHRINKAGE:
            return self._wrong(
                name,
                f"{title} of {text[:20]} % leaves no cloth to trust: give 0 to "
                f"{MOST_SHRINKAGE:.0%}, or wash and measure a sample first.",
                0.0,
            )
        return value / 100

    def amount(self, name: str, title: str, text: str | None = None) -> float | None:
        text = (self.text(name) if text is None else text).replace(",", ".")
        if not text:
            return None
        value = self._number(text)
        if value is None or not 0 < value < 1e6:
            self._wrong(name, f"{title}: “{text[:20]}” is not an amount such as 250.", 0.0)
            return None
        return value

    def price(self) -> float | None:
        """Of a metre: a bare amount, “24 a metre” or “22 a yard”."""
        text = self.text("price")
        of = _OF_A_LENGTH.search(text)
        try:
            length = parse_length(f"1 {of[1]}") if of else 1000.0
        except LengthError:
            of, length = None, 1000.0
        price = self.amount("price", "Price", text[: of.start()] if of else text)
        return price and price * 1000.0 / length

    def flag(self, name: str, default: bool) -> bool:
        text = self.text(name).lower()
        if text in ("", "yes", "true", "1", "no", "false", "0"):
            return default if not text else text in ("yes", "true", "1")
        self._wrong(name, f"“{text[:20]}” is neither yes nor no.", 0.0)
        return default

    def _wrong(self, name: str, sentence: str, value: float) -> float:
        self.say(name, sentence)
        return value

    def say(self, name: str, sentence: str) -> None:
        whose = "" if self.part == "main" else f"The {self.part}: "
        self.problems.append(Problem(field_of(self.part, name), whose + sentence))

    @staticmethod
    def _number(text: str) -> float | None:
        if len(text) > 12 or not text.isascii() or not text.replace(".", "", 1).isdigit():
            return None
        return float(text)


def field_of(part: str, name: str) -> str:
    """What a problem calls a cloth's field: cloth_width, and for a lining cloth_lining_width."""
    return f"cloth_{name}" if part == "main" else f"cloth_{part}_{name}"


REMNANT = "remnant_"
REMNANTS = tuple(f"{REMNANT}{number}" for number in range(1, MOST_PIECES + 1))
"""The fields in which pieces of it are typed, one in each (see pieces_on_hand)."""

TYPED = (
    *(name for name in Cloth.__dataclass_fields__ if name not in ("shrinkage_said", "remnants")), *REMNANTS)
"""The fields that a person fills in, by name."""


def read_cloth(texts: Mapping[str, Any], unit: Unit = "cm", part: str = "main") -> Cloth:
    """The cloth as typed: a field that is empty keeps its default. `part` is which of a garment's
    cloths it is.

    Raises BadInput naming every field (as `field_of` does) that does not read.
    """
    reader = _Reader(texts, unit, part)
    for name in texts:
        if name not in TYPED and not str(name).startswith(REMNANT):
            reader.say(str(name)[:40], f"A cloth has no “{str(name)[:40]}”.")
    cloth = Cloth(
        name=reader.text("name")[:LONGEST_TEXT],
        width=reader.length(
            "width", "Cloth width", USUAL_WIDTH if part == "main" else USUAL_LINING, NARROWEST, WIDEST),
        selvedge=reader.length("selvedge", "Selvedge", 10.0, 0.0, 100.0),
        on_hand=reader.length("on_hand", "Cloth on hand", 0.0, 50.0, 1e5) or None,
        shrinkage_warp=reader.percent("shrinkage_warp", "Shrinkage along the cloth"),
        shrinkage_weft=reader.percent("shrinkage_weft", "Shrinkage across the cloth"),
        shrinkage_said=bool(reader.text("shrinkage_warp")),
        washed_first=reader.flag("washed_first", True),
        nap=reader.flag("nap", False),
        two_sided=reader.flag("two_sided", True),
        folded=reader.flag("folded", False),
        turned=reader.flag("turned", False),
        weight=reader.amount("weight", "Weight"),
        price=reader.price(),
        piecing=reader.choice("piecing", PIECING),
        **{name: reader.text(name)[:LONGEST_TEXT] for name in LOOKS},
        remnants=reader.remnants(),
    )
    if not reader.problems and cloth.lay_width < 30:
        reader.say(
            "width",
            f"A cloth {said(cloth.width)} wide leaves {said(cloth.lay_width)} to cut from: not even a "
            "strap. Give its full width between the edges.",
        )
    if cloth.folded and cloth.remnants:
        reader.say(
            REMNANTS[0], "Pieces of cloth are cut from a single layer: lay it unfolded, or leave them out.")
    if reader.problems:
        raise BadInput(reader.problems)
    return cloth
