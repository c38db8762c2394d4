"""Patterns on a bolt: what to lay, what the lay means in cloth to buy, and whose share is whose."""

from collections.abc import Generator, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from math import ceil
from typing import TYPE_CHECKING

from ..cloth.cloth import Cloth
from ..cloth.pieces_on_hand import PieceOnHand
from ..cloth.piecing import fit_to_width, half_of
from ..geometry import Point, area, bounds
from ..pattern import Pattern, Piece
from .layout import Layout
from .shape import Mirroring, Shape

if TYPE_CHECKING:
    from .engine import Search
    from .on_hand import OnHand

ON_FOLD = " on the fold"
"""How the name of a piece ends of which a half is laid there."""


@dataclass(frozen=True)
class ToCut:
    """One garment to cut from the bolt, and whose it is."""

    pattern: Pattern
    owner: str = ""


@dataclass(frozen=True)
class Share:
    """One owner's part of the bolt, by the area of their pieces; mm, grams, the price's currency."""

    owner: str
    part: float
    length: float
    weight: float | None
    price: float | None


@dataclass(frozen=True)
class BoltLay:
    """A lay on a bolt. `cut_length` is measured on the cloth as it is cut, `buy_length` as bought.

    `part` is which of the garments' cloths is laid, as their pieces name it. `on_hand` are lays of the same
    orders on pieces of the cloth that are there already, each with what is left over of its own; nothing of
    them is on the bolt, which may have nothing to hold then. Of such a lay `piece` is the cloth.
    """

    cloth: Cloth
    orders: tuple[ToCut, ...]
    layout: Layout
    notes: tuple[str, ...]
    part: str = "main"
    on_hand: "tuple[BoltLay, ...]" = ()
    left_over: tuple[tuple[tuple[float, float], ...], ...] = ()
    piece: PieceOnHand | None = None

    @property
    def cut_length(self) -> float:
        return self.layout.length

    @property
    def buy_length(self) -> float:
        return self.cloth.to_buy(self.cut_length)

    @property
    def missing(self) -> float | None:
        """mm that the cloth on hand is too short by; None when it is enough or nothing is on hand."""
        on_hand = self.cloth.cut_length_on_hand()
        if on_hand is None or self.cut_length <= on_hand + 0.05:
            return None
        return self.cut_length - on_hand

    def shares(self, bought: float | None = None) -> tuple[Share, ...]:
        """Each owner's part of what is bought, mm, or of the exact length; in the order they were given.
        They add up to the whole."""
        length = self.buy_length if bought is None else bought
        areas: dict[str, float] = {order.owner: 0.0 for order in self.orders}
        for placement in self.layout.placements:
            size = abs(area([Point(*corner) for corner in placement.outline]))
            areas[placement.group] = areas.get(placement.group, 0.0) + size
        whole = sum(areas.values()) or 1.0
        return tuple(
            Share(
                owner, part / whole, length * part / whole,
                self.cloth.weight_of(length * part / whole),
                self.cloth.price_of(length * part / whole),
            )
            for owner, part in areas.items()
        )


def fitted(orders: Sequence[ToCut], cloth: Cloth, part: str = "main") -> tuple[ToCut, ...]:
    """The orders with every piece that is wider than the cloth pieced. Raises BadInput."""
    return tuple(
        replace(o, pattern=fit_to_width(
            o.pattern, cloth.piece_width, part, cloth.wished_width, cloth.folded))
        for o in orders
    )


def shapes_of(orders: Sequence[ToCut], cloth: Cloth, part: str = "main") -> tuple[Shape, ...]:
    """What the lay is to place: cutting lines, as large as shrinkage asks, and how each may lie.

    On folded cloth one placement gives two pieces: half as many are laid, and pieces of one garment
    that are alike, as a front and a back may be, are cut together. Where that leaves one over, or they
    are wider than a layer, they are laid in half on the fold, if they are their own mirror image.
    """
    return tuple(_shapes(orders, cloth, part))


def _shapes(orders: Sequence[ToCut], cloth: Cloth, part: str) -> Iterator[Shape]:
    for owner, name, count, pieces in _laid_together(orders, cloth, part):
        doubled, on_fold = _doubled(count, pieces[0], cloth)
        if doubled:
            yield _shape(name, doubled, pieces[0], owner, cloth)
        if on_fold:
            yield _on_fold(name, on_fold, pieces[0], owner, cloth)


def pieces_of(orders: Sequence[ToCut], cloth: Cloth, part: str = "main") -> dict[str, tuple[Piece, ...]]:
    """The pieces that each of the shapes is, by its name: several where they are cut together."""
    named = [(name, pieces) for _, name, _, pieces in _laid_together(orders, cloth, part)]
    return {**dict(named), **{f"{name}{ON_FOLD}": pieces for name, pieces in named}}


def _laid_together(
    orders: Sequence[ToCut], cloth: Cloth, part: str
) -> Iterator[tuple[str, str, int, tuple[Piece, ...]]]:
    """Whose each shape is, its name, how many there are to cut, and the pieces that it is."""
    for order, whose in zip(orders, whose_is_whose(orders), strict=True):
        for titles, count, pieces in _alike(order.pattern, part, together=cloth.folded):
            yield order.owner, f"{whose}: {titles}" if whose else titles, count, pieces


def whose_is_whose(orders: Sequence[ToCut]) -> tuple[str, ...]:
    """What tells the pieces of each garment from those of the others: “Hild”, or “Hild's hood”; "" for one
    alone. Alike in all, they are counted."""
    if len(orders) == 1:
        return ("",)
    owners = [order.owner for order in orders]
    found: list[str] = []
    for order in orders:
        garment = order.pattern.title.lower()
        several = owners.count(order.owner) > 1
        plain = f"{order.owner}'s {garment}" if several and order.owner else order.owner or garment
        name, number = plain, 2
        while name in found:
            name, number = f"{plain} ({number})", number + 1
        found.append(name)
    return tuple(found)


def _doubled(count: int, piece: Piece, cloth: Cloth) -> tuple[int, int]:
    """How many times a piece that is wanted `count` times is laid, off the fold and on it."""
    if not cloth.folded:
        return count, 0
    half = half_of(piece)
    if half is None:
        return ceil(count / 2), 0
    left, _, right, _ = bounds(piece.cutting_line)
    too_wide = right - left > cloth.piece_width + 0.05
    return (0, count) if too_wide else (count // 2, count % 2)


def _alike(pattern: Pattern, part: str, together: bool) -> Iterator[tuple[str, int, tuple[Piece, ...]]]:
    """The pieces of one cloth with how many to cut; equal outlines in one, if `together`."""
    groups: dict[object, list[Piece]] = {}
    for piece in pattern.pieces:
        if piece.cloth == part:
            key = tuple((round(p.x, 2), round(p.y, 2)) for p in piece.cutting_line)
            groups.setdefault(key if together else piece.name, []).append(piece)
    for pieces in groups.values():
        yield " and ".join(p.title for p in pieces), sum(p.cut for p in pieces), tuple(pieces)


def _shape(name: str, count: int, piece: Piece, owner: str, cloth: Cloth) -> Shape:
    across, along = cloth.enlarge
    mirroring: Mirroring = "none"
    if cloth.two_sided and not cloth.folded:
        mirroring = "free"
    elif piece.mirrored and not cloth.folded:
        mirroring = "pairs"
    return Shape(
        name=name,
        outline=tuple((p.x * across, p.y * along) for p in piece.cutting_line),
        quantity=count,
        rotations=_rotations(cloth, turned=cloth.may_turn and may_lie_across(piece)),
        mirroring=mirroring,
        group=owner,
    )


def _on_fold(name: str, count: int, piece: Piece, owner: str, cloth: Cloth) -> Shape:
    across, along = cloth.enlarge
    return Shape(
        name=f"{name}{ON_FOLD}",
        outline=tuple((p.x * across, p.y * along) for p in half_of(piece) or ()),
        quantity=count,
        rotations=_rotations(cloth),
        group=owner,
        at_fold=True,
    )


def may_lie_across(piece: Piece) -> bool:
    """Whether the garment allows it the weft for the warp: a piece that neither hangs nor goes round the
    waist, as sleeves, gussets, bands and straps. common practice, no source."""
    edges = [edge.name for edge in piece.outline.edges]
    return not any(piece.role(edge) in ("hem", "waist") for edge in edges)


def _rotations(cloth: Cloth, turned: bool = False) -> tuple[float, ...]:
    return (0.0,) if cloth.nap else (0.0, 180.0, 90.0, 270.0) if turned else (0.0, 180.0)


class BoltSearch:
    """A lay of the orders' pieces of one cloth, in the making. Raises BadInput for what cannot be laid."""

    def __init__(
        self, orders: Sequence[ToCut], cloth: Cloth, *, part: str = "main", seed: int = 0
    ) -> None:
        for _ in self._begin(orders, cloth, part, seed):
            pass

    @classmethod
    def in_steps(
        cls, orders: Sequence[ToCut], cloth: Cloth, *, part: str = "main"
    ) -> Generator[None, None, "BoltSearch"]:
        """The same, begun piece by piece, and ready to search: of many garments it takes a while."""
        search = cls.__new__(cls)
        yield from search._begin(orders, cloth, part, 0)
        yield from search._preparing()
        return search

    def _begin(self, orders: Sequence[ToCut], cloth: Cloth, part: str, seed: int) -> Iterator[None]:
        self._orders, self._cloth, self.part = tuple(orders), cloth, part
        ready: list[ToCut] = []
        for order in orders:
            ready += fitted([order], cloth, part)
            yield
        self._ready = tuple(ready)
        shapes: list[Shape] = []
        for shape in _shapes(self._ready, cloth, part):
            shapes.append(shape)
            yield
        self.key = tuple(shapes), cloth.lay_width, cloth.remnants, seed
        """The same for the same search."""

    def _preparing(self) -> Iterator[None]:
        """Begins the search in steps, which else begins when it is first asked for."""
        from .engine import Search

        _, width, _, seed = self.key
        _, shapes = self._from_hand
        if shapes:
            self._search = yield from Search.in_steps(shapes, width, seed=seed)

    @cached_property
    def _from_hand(self) -> "tuple[tuple[OnHand, ...], tuple[Shape, ...]]":
        """What is cut from pieces that are there already, and what is left to lay on the bolt."""
        shapes, _, pieces, seed = self.key
        if not pieces:
            return (), shapes
        from .on_hand import cut_from_hand

        return cut_from_hand(shapes, pieces, seed)

    @cached_property
    def _search(self) -> "Search | None":
        """Begun when it is first asked for: a lay for tearing needs none, nor one where the bolt is not
        needed."""
        from .engine import Search

        _, width, _, seed = self.key
        _, shapes = self._from_hand
        return Search(shapes, width, seed=seed) if shapes else None

    @property
    def seconds(self) -> float:
        return self._search.seconds if self._search else 0.0

    @property
    def rounds(self) -> int:
        return self._search.rounds if self._search else 0

    @property
    def buy_length(self) -> float:
        """About the length to buy for the best lay so far, mm: known at once."""
        return self._cloth.to_buy(self._search.length) if self._search else 0.0

    @property
    def bolt(self) -> BoltLay:
        """The best so far."""
        return self.with_layout(self._search.layout if self._search else self._nothing())

    def _nothing(self) -> Layout:
        _, width, _, seed = self.key
        return Layout(width, 0.0, 0.0, 1.0, 0.0, seed, 0, "y", ())

    def advance(self, seconds: float, max_rounds: int | None = None) -> bool:
        """Search for so long; False when there is nothing left to find or to do."""
        return self._search.advance(seconds, max_rounds) if self._search else False

    def finish(self) -> None:
        """Search on only until there is a first good lay."""
        for _ in self.finishing(0.05):
            pass

    def finishing(self, step: float) -> Generator[None, None, None]:
        """The same, going on each time it is asked to, for so many seconds."""
        while self._search and not self._search.constructed and self.advance(step):
            yield
        if self._search:
            yield from self._search.settling()

    def torn(self) -> BoltLay:
        """The lay for tearing instead."""
        from .tear import tearable_lay

        _, shapes = self._from_hand
        return self.with_layout(
            tearable_lay(shapes, self._cloth.lay_width) if shapes else self._nothing())

    def with_layout(self, layout: Layout) -> BoltLay:
        notes = tuple(_notes(self._orders, self._ready, self._cloth, self.part))
        found, _ = self._from_hand
        lays = tuple(
            BoltLay(_as_cloth(self._cloth, it.piece, it.layout), self._ready, it.layout, (), self.part, (),
                    it.left_over, it.piece)
            for it in found
        )
        return BoltLay(self._cloth, self._ready, layout, notes, self.part, lays)


def _as_cloth(cloth: Cloth, piece: PieceOnHand, layout: Layout) -> Cloth:
    """The cloth that a piece of it is, from edge to edge, as it lies."""
    washed = cloth.washed_first
    return replace(
        cloth, name=piece.name, width=layout.width, selvedge=0.0, on_hand=None, remnants=(),
        shrinkage_warp=0.0 if washed else cloth.shrinkage_warp,
        shrinkage_weft=0.0 if washed else cloth.shrinkage_weft,
    )


def lay_on_bolt(
    orders: Sequence[ToCut],
    cloth: Cloth,
    *,
    part: str = "main",
    tearable: bool = False,
    seconds: float = 5.0,
    seed: int = 0,
    max_rounds: int | None = None,
) -> BoltLay:
    """Lay the orders' pieces of one cloth. Raises BadInput for what cannot be laid, or nothing at all."""
    search = BoltSearch(orders, cloth, part=part, seed=seed)
    if tearable:
        return search.torn()
    search.advance(max(seconds - search.seconds, 0.0), max_rounds)
    return search.bolt


def _notes(
    orders: Sequence[ToCut], ready: Sequence[ToCut], cloth: Cloth, part: str
) -> Iterator[str]:
    for before, after in zip(orders, ready, strict=True):
        yield from after.pattern.notes[len(before.pattern.notes):]
    if cloth.folded:
        odd = [titles for order in ready for titles, count, pieces in _alike(order.pattern, part, True)
               if count % 2 and half_of(pieces[0]) is None]
        if odd:
            yield (f"On folded cloth these come out twice: {', '.join(odd)}. Cut them from one layer, or "
                   "lay the cloth flat.")
    if not cloth.washed_first and (cloth.shrinkage_warp or cloth.shrinkage_weft):
        yield ("The cloth is cut before its first wash, so the pieces are drawn larger by the shrinkage. "
               "Washing it first is surer.")

