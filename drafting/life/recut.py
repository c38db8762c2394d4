"""What smaller garment comes out of an old one: its pieces laid on the old one's cloth, whole, with joins,
or not."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from ..cloth.cloth import Cloth, read_cloth
from ..geometry import area
from ..pattern import Pattern
from ..words.problems import BadInput

if TYPE_CHECKING:
    from ..lay.joined import JoinedFilling
    from ..lay.remnant import Remnant

SECONDS = 2.0
"""Of search for each garment."""

HOPELESS = 0.95
"""Part of the old cloth that pieces can fill at most: more is not tried. common practice, no source."""


@dataclass(frozen=True)
class Wanted:
    """A garment that might be cut, and for whom."""

    name: str
    pattern: Pattern


@dataclass(frozen=True)
class Recut:
    """What becomes of a wanted garment: `left` names pieces without a place, `joined` in how many parts a
    piece is that is joined, `used` the part of the old cloth that it takes. `filling` None is not tried, for
    there is too little cloth."""

    wanted: Wanted
    used: float
    left: tuple[str, ...]
    joined: dict[str, int]
    filling: "JoinedFilling | None" = None

    @property
    def whole(self) -> bool:
        return not self.left and not self.joined

    @property
    def with_joins(self) -> bool:
        return not self.left and bool(self.joined)


def recut(
    old: "Sequence[Remnant]", wanted: Iterable[Wanted], *, seconds: float = SECONDS, seed: int = 0
) -> tuple[Recut, ...]:
    """Best first: whole and using most of the cloth, then with the fewest joins, then what lacks least."""
    made = [_tried(old, one, seconds, seed) for one in wanted]
    return tuple(sorted(made, key=_rank))


def _rank(one: Recut) -> tuple[bool, int, int, float]:
    return bool(one.left), len(one.left), sum(one.joined.values()), -one.used


def _tried(old: "Sequence[Remnant]", wanted: Wanted, seconds: float, seed: int) -> Recut:
    from ..lay.bolt import ToCut, shapes_of
    from ..lay.joined import fill_joined
    from ..lay.shape import Shape

    pattern = wanted.pattern
    there = sum(remnant.area for remnant in old)
    needed = sum(abs(area(p.cutting_line)) * p.cut for p in pattern.pieces if p.cloth == "main")
    used = needed / there if there else float("inf")
    if used > HOPELESS:
        return Recut(wanted, used, _titles(pattern), {})
    cloth: Cloth = read_cloth({})
    laid = [Shape(s.name, tuple((y, -x) for x, y in s.outline), s.quantity, s.rotations, s.mirroring)
            for s in shapes_of((ToCut(pattern, ""),), cloth)]  # a quarter turn: the grain runs along x there
    try:
        made = fill_joined(laid, old, frozenset(s.name for s in laid), seconds=seconds, seed=seed)
    except BadInput:
        return Recut(wanted, used, _titles(pattern), {})
    left = tuple(shape.name for shape, _ in made.filling.left)
    return Recut(wanted, used, left, made.parts, made)


def _titles(pattern: Pattern) -> tuple[str, ...]:
    return tuple(piece.title for piece in pattern.pieces if piece.cloth == "main")
