"""Piecing: a piece wider than the cloth is cut along the grain, and the pattern gains seams.

A piece that is its own mirror image is cut on both sides alike, so that it hangs alike on both and front
and back agree; another on one side. What stays keeps as much of the usable width as may be, and what is
pieced on lies at its sides, where it shows least; that is never narrower than fingers can fell.
"""

from collections.abc import Callable, Container, Iterator
from dataclasses import replace
from typing import Literal

from ..geometry import Point, bounds
from ..geometry.polygon import is_simple, left_half, mirror_axis
from ..geometry.split import Crossing, chords, split_outline
from ..pattern import Pattern, Piece
from ..words.problems import BadInput, Problem
from ..words.wording import said
from .cloth import field_of
from .cut_in_two import PIECING_ALLOWANCE, CutInTwo

Chord = tuple[Crossing, Crossing]

NARROWEST_STRIP = 50.0
"""mm between the sewing lines of what is pieced on. common practice, no source."""

LEAST = NARROWEST_STRIP - 0.5
"""mm, as above, to within how a curve is measured."""

FURTHER = 20.0
"""mm by which a cut is tried further in when it cannot be made."""

ALIKE = "on both sides alike"


def fit_to_width(
    pattern: Pattern, usable_width: float, cloth: str = "main",
    wish: Callable[[float], float] | None = None, folded: bool = False,
) -> Pattern:
    """The pattern with every piece of the cloth named no wider than `usable_width` with allowances.

    On `folded` cloth a piece that is its own mirror image may lie on the fold, and be twice as wide.
    Pieces wider than their length's `wish` are pieced too, to save cloth, where they can be. Notes name the
    pieces that were pieced, and how. Raises BadInput when one that must be pieced cannot be, saying why.
    """
    whole: set[str] = set()
    while True:
        wide = _too_wide(pattern, cloth, lambda _: usable_width, folded)
        limit, why = usable_width, f"more than the cloth's {said(usable_width)}: it is pieced"
        if wide is None and wish is not None:
            wide = _too_wide(pattern, cloth, wish, folded, whole)
            limit = wish(_length(wide)) if wide else usable_width
            why = "and pieced to save cloth"
        if wide is None:
            return pattern
        try:
            pieced, cut = _pieced(pattern, wide, limit, field_of(cloth, "width"))
        except BadInput:
            if limit == usable_width:
                raise
            whole.add(wide.name)
            continue
        notes = (f"The {piece.title} is {said(_width(piece))} wide with its allowances, {why} along the "
                 f"grain, {how}." for piece, how in cut)
        pattern = replace(pieced, notes=(*pattern.notes, *notes))


def _too_wide(
    pattern: Pattern, cloth: str, width: Callable[[float], float], folded: bool, but: Container[str] = ()
) -> Piece | None:
    """The first piece of the cloth named that is wider than `width` of its length, or twice that on the
    fold."""
    return next((
        p for p in pattern.pieces
        if p.cloth == cloth and p.name not in but and _excess(p, width(_length(p))) > 0.05
        and not (folded and _excess(p, 2 * width(_length(p))) <= 0.05 and half_of(p))
    ), None)


def half_of(piece: Piece) -> tuple[Point, ...] | None:
    """The left half of a piece's cutting line where the other is its mirror image, to lie on a fold."""
    axis = mirror_axis(piece.cutting_line)
    return None if axis is None else left_half(piece.cutting_line, axis)


def _width(piece: Piece) -> float:
    left, _, right, _ = bounds(piece.cutting_line)
    return right - left


def _length(piece: Piece) -> float:
    _, top, _, bottom = bounds(piece.cutting_line)
    return bottom - top


def _excess(piece: Piece, usable_width: float) -> float:
    return _width(piece) - usable_width


def _pieced(
    pattern: Pattern, piece: Piece, usable_width: float, field: str
) -> tuple[Pattern, tuple[tuple[Piece, str], ...]]:
    """The pattern with the piece cut where its parts fit, what was cut, and how that was done.

    Front and back that are nearly as wide as each other are cut in the same places.
    """
    symmetrical = mirror_axis(piece.outline.polygon) is not None
    if symmetrical:
        partners = [p for p in pattern.pieces if _is_its_other_half(p, piece)]
        wide = [p for p in partners if _excess(p, usable_width) > 0.05]
        together = _cut_on_both_sides(pattern, (piece, *wide), usable_width)
        if together:
            whole = [p.title for p in partners if p not in wide]
            alone = f", and not on the {' and the '.join(whole)}, narrow enough as it is" if whole else ""
            return together, tuple((p, ALIKE + alone) for p in (piece, *wide))
        after = wide and _cut_on_both_sides(pattern, (piece,), usable_width)
        if after:
            names = " and the ".join(p.title for p in wide)
            return after, ((piece, f"{ALIKE}, but not where the {names} can be cut"),)
    after = _cut_on_one_side(pattern, piece, usable_width)
    if after:
        return after, ((piece, "on one side, since there is no room for the same on both" if symmetrical
                        else "on one side, since its sides are not alike"),)
    why = (f"a strip pieced on to it would be narrower than {said(NARROWEST_STRIP)}, too narrow to fell"
           if not _holes(piece) or usable_width - PIECING_ALLOWANCE < NARROWEST_STRIP
           else "wherever it could be pieced the seam would run through a hole in it")
    raise BadInput([Problem(
        field,
        f"The {piece.title} is {said(_width(piece))} wide with its allowances and the cloth gives "
        f"{said(usable_width)}: that is {said(_excess(piece, usable_width))} too little, and {why}. "
        "A wider cloth or smaller allowances would do.",
    )])


def _is_its_other_half(other: Piece, piece: Piece) -> bool:
    """Whether it is to the back what `piece` is to the front, or the other way round."""
    return (
        {other.half, piece.half} == {"front", "back"} and other.cloth == piece.cloth
        and abs(_width(other) - _width(piece)) < NARROWEST_STRIP
        and mirror_axis(other.outline.polygon) is not None
    )


def _cut_on_both_sides(
    pattern: Pattern, pieces: tuple[Piece, ...], usable_width: float
) -> Pattern | None:
    """All of them cut equally far from their middles on the left and the right, as far out as may be."""
    reach = usable_width / 2 - PIECING_ALLOWANCE
    while reach >= NARROWEST_STRIP / 2:
        after: Pattern | None = pattern
        for piece in pieces:
            after = after and _cut_alike(after, piece, reach, usable_width)
        if after:
            return after
        reach -= FURTHER
    return None


def _cut_alike(pattern: Pattern, piece: Piece, reach: float, usable_width: float) -> Pattern | None:
    left, _, right, _ = piece.outline.bounds
    middle = (left + right) / 2
    first = _cut_at(pattern, piece, middle - reach, "right")
    if not first:
        return None
    between = first.pattern_after
    second = _cut_at(between, between.piece(piece.name), middle + reach, "left")
    if second and _fits(second.main_piece, usable_width) and _fits(second.strip_piece, usable_width):
        return second.pattern_after
    return None


def _cut_at(
    pattern: Pattern, piece: Piece, x: float, keeps: Literal["left", "right"]
) -> CutInTwo | None:
    """Cut right through from top to bottom, where one line does it and clears the holes."""
    found = _chords_at(piece, x)
    return _cut(pattern, piece, found[0], x, keeps) if len(found) == 1 else None


def _cut_on_one_side(pattern: Pattern, piece: Piece, usable_width: float) -> Pattern | None:
    for chord, x in _chords(piece, usable_width):
        cut = _cut(pattern, piece, chord, x)
        if cut and any(_fits(part, usable_width) for part in (cut.main_piece, cut.strip_piece)):
            return cut.pattern_after
    return None


def _cut(
    pattern: Pattern, piece: Piece, chord: Chord, x: float, keeps: Literal["left", "right"] | None = None
) -> CutInTwo | None:
    """Both parts as wide as fingers can fell; the larger stays the piece where it is not said which."""
    edge = _new_edge(piece)
    left, right = split_outline(piece.outline, chord, edge)
    if min(part.outline.bounds[2] - part.outline.bounds[0] for part in (left, right)) < LEAST:
        return None
    larger: Literal["left", "right"] = "left" if left.outline.area >= right.outline.area else "right"
    cut = CutInTwo(pattern, piece, left, right, edge, x, keeps or larger)
    return cut if _can_be_cut(cut.main_piece) and _can_be_cut(cut.strip_piece) else None


def _fits(piece: Piece, usable_width: float) -> bool:
    return _excess(piece, usable_width) <= 0.05


def _can_be_cut(piece: Piece) -> bool:
    """Whether the allowances stay clear of each other: not so where a seam comes near a dart."""
    return is_simple(piece.cutting_line)


def _new_edge(piece: Piece) -> str:
    names = {edge.name for edge in piece.outline.edges}
    return next(name for n in range(1, 999) if (name := f"piecing {n}") not in names)


def _chords(piece: Piece, usable_width: float) -> Iterator[tuple[Chord, float]]:
    """Where to cut: stretches of lines down the piece, with the line's x.

    Lines that cut the piece right through come first, since on a hollow piece a stretch between two
    edges leaves the rest to be cut by another seam.
    """
    several: list[tuple[Chord, float]] = []
    for x in _places(piece, usable_width):
        found = _chords_at(piece, x)
        if len(found) == 1:
            yield found[0], x
        else:
            several += [(chord, x) for chord in found]
    yield from several


def _chords_at(piece: Piece, x: float) -> list[Chord]:
    """The stretches of the line down the piece at `x`; none through a hole."""
    if _through_a_hole(piece, x):
        return []
    try:
        return chords(piece.outline, x)
    except ValueError:  # the line grazes the outline: an odd number of crossings
        return []


def _through_a_hole(piece: Piece, x: float) -> bool:
    reach = 2 * PIECING_ALLOWANCE
    return any(left - reach < x < right + reach for left, right in _holes(piece))


def _holes(piece: Piece) -> list[tuple[float, float]]:
    """From where to where across the piece each of its holes reaches."""
    found = [bounds(line.path.points()) for line in piece.inner_lines if line.kind == "hole"]
    return [(left, right) for left, _, right, _ in found]


def _places(piece: Piece, usable_width: float) -> Iterator[float]:
    """Where to cut, the strip as narrow as may be first, on the right and then on the left."""
    left, _, right, _ = piece.outline.bounds
    cut_left, _, cut_right, _ = bounds(piece.cutting_line)
    room = usable_width - PIECING_ALLOWANCE
    if room < NARROWEST_STRIP:
        return
    for start, sign, outer in ((cut_left, 1, right), (cut_right, -1, left)):
        strip = max(NARROWEST_STRIP, (outer - start) * sign - room)
        while strip < right - left - NARROWEST_STRIP:
            yield outer - sign * strip
            strip += FURTHER
