"""From a lay to its chalk plan: templates and their twins, and each template's marks and lines."""

from collections.abc import Iterator, Sequence
from itertools import combinations

from ..geometry import Point, area, bounds
from ..geometry.polygon import mirror_axis
from ..words.units import Unit
from .chalk import (
    ChalkLine,
    ChalkPiece,
    ChalkPlan,
    Inside,
    Mark,
    Stroke,
    ToChalk,
    Twin,
    down_the_cloth,
)
from .chalk_marks import AXIS_SLACK, SAME_PLACE, Marking, rounded, steps_of
from .chalk_runs import STRAIGHT, mirrored, runs_along, runs_round
from .chalk_twins import ALIKE, Motion, holds_all_of, motion_of_line, motions

ALLOWED = 2.95
"""mm by which a line drawn from the numbers may miss, a twin's too. source: the plan's contract, 3 mm."""

MOST_BY_SQUARE = (200.0, 1000.0)
"""mm across and down of a rectangle that is drawn from its upper corners with a square and a yardstick.
common practice, no source."""

TRIES = ((1.0, STRAIGHT), (0.5, STRAIGHT), (0.0, STRAIGHT), (0.0, STRAIGHT / 2), (0.0, STRAIGHT / 6))
"""Parts of the misses that rounding may take up, and rises under which a line is straight, until the
piece comes right."""


def chalk_plan(
    pieces: Sequence[ToChalk], width: float, length: float, unit: Unit = "cm", *, folded: bool = False,
    cloth: str = "",
) -> ChalkPlan:
    """The plan for placed pieces: x runs from the left selvedge to `width`, y from the cut end to `length`.

    Templates come nearest the cut end first, then their twins. Raises ValueError for an outline of fewer
    than three corners.
    """
    for piece in pieces:
        if len(piece.outline) < 3:
            raise ValueError(f"{piece.title} has fewer than three corners")
    alike = templates(pieces)
    own = sorted((t for t in pieces if t.title not in alike), key=lambda t: down_the_cloth(t.outline))
    made: dict[str, ChalkPiece] = {}
    for piece in own:
        made[piece.title] = _planned(piece, (width, length), unit, list(made.values()))
    twins = [
        _twin(piece, made[alike[piece.title][0].title], alike[piece.title][1], unit)
        for piece in sorted(pieces, key=lambda t: down_the_cloth(t.outline)) if piece.title in alike
    ]
    return ChalkPlan((*made.values(), *twins), width, length, unit, folded, cloth)


def templates(pieces: Sequence[ToChalk]) -> dict[str, tuple[ToChalk, Motion]]:
    """For each twin by title its template, and how that is laid to be cut round."""
    found: dict[str, tuple[ToChalk, Motion]] = {}
    templates: list[ToChalk] = []
    for piece in sorted(pieces, key=lambda p: (-len(p.spots) - len(p.insides), down_the_cloth(p.outline))):
        for template in templates:
            if template.on_fold != piece.on_fold:
                continue
            motion = next((m for m in motions(template.outline, piece.outline)
                           if holds_all_of(template, piece, m)), None)
            if motion:
                found[piece.title] = template, motion
                break
        else:
            templates.append(piece)
    return found


def _twin(piece: ToChalk, template: ChalkPiece, motion: Motion, unit: Unit) -> ChalkPiece:
    step = steps_of(unit)[-1]
    mark = template.marks[0].label
    at = motion.of(template.places[mark])
    without = tuple(
        m.label for m in template.marks
        if m.notes and not any(motion.of(p).distance(spot.at) <= 2 * SAME_PLACE for spot in piece.spots
                               for p in _both_places(template, m)) and _only_a_spot(template, m)
    )
    twin = Twin(template.title, mark, rounded(at.x, step), rounded(at.y, step), motion.over, motion.turned,
                without=without)
    return ChalkPiece(piece.title, piece, twin=twin)


def _both_places(piece: ChalkPiece, mark: Mark) -> list[Point]:
    at = piece.places
    return [at[label] for label in (mark.label, mark.label.lower()) if label in at]


def _only_a_spot(piece: ChalkPiece, mark: Mark) -> bool:
    """Whether no line goes through it and no string is held there."""
    used = {label.upper() for line in piece.lines for stroke in line.strokes
            for label in (*stroke.marks, stroke.held)}
    used |= {line.twin.mark for line in piece.lines if line.twin}
    return mark.label not in used


def _planned(
    piece: ToChalk, cloth: tuple[float, float], unit: Unit, before: Sequence[ChalkPiece]
) -> ChalkPiece:
    """A template's marks and lines: nothing drawn from them, or round it, misses by more than ALLOWED."""
    axis = cloth[0] if piece.on_fold else mirror_axis(piece.outline)
    finest = steps_of(unit)[-1]
    allowed = ALLOWED - finest * 2 ** -0.5  # the rest is for where its twins come to lie
    lone = [spot.at for spot in piece.spots]
    lone += [p for line in piece.insides if line.kind != "hole" for p in (line.points[0], line.points[-1])]
    for slack, straight in TRIES:
        marking = Marking(axis, piece.on_fold, steps_of(unit), slack, lone)
        made = _Drawing(piece, marking, cloth, straight, before).made()
        if marking.astray <= allowed:
            break
    return made


class _Drawing:
    """One go at a piece."""

    def __init__(
        self, piece: ToChalk, marking: Marking, cloth: tuple[float, float], straight: float,
        before: Sequence[ChalkPiece],
    ) -> None:
        self._piece, self._marking, self._cloth, self._straight = piece, marking, cloth, straight
        self._before = before

    def _reach(self, p: Point) -> bool:
        return 0 <= p.x <= self._cloth[0] and 0 <= p.y <= self._cloth[1]

    def made(self) -> ChalkPiece:
        marking, axis = self._marking, self._marking.axis
        lines = [ChalkLine("outline", "", self._outline())]
        along: list[float] = []
        motion: tuple[ChalkPiece, Motion] | None = None
        for inside in _merged(self._piece.insides, axis):
            out = _down_the_piece(inside, self._piece, axis)
            if out is not None:
                along.append(rounded(out, marking.steps[-1]))
                continue
            if inside.kind == "hole":
                motion = self._as_before(inside)
            if motion and inside.kind in ("hole", "slit") and (twin := self._cut_round(inside, *motion)):
                lines.append(ChalkLine(inside.kind, inside.name, twin=twin))
            else:
                lines.append(self._line(inside))
        for spot in self._piece.spots:
            marking.point(spot.at, note=spot.label)
        return ChalkPiece(
            self._piece.title, self._piece, marking.middle, marking.marks, tuple(lines),
            tuple(dict.fromkeys(along)), None, _diagonal(lines[0], marking, self._piece.on_fold),
        )

    def _outline(self) -> tuple[Stroke, ...]:
        axis = self._marking.axis
        if axis is not None and _drawn_with_a_square(self._piece, axis):
            return self._marking.box(bounds(self._piece.outline))
        runs = runs_round(self._piece.outline, axis, self._reach, self._straight)
        return self._marking.strokes(runs, symmetrical=axis is not None)

    def _line(self, inside: Inside) -> ChalkLine:
        marking = self._marking
        if inside.kind != "hole":
            runs = runs_along(inside.points, self._reach, self._straight)
            return ChalkLine(inside.kind, inside.name, marking.strokes(runs, symmetrical=False))
        own = mirror_axis(inside.points)
        mid = marking.axis is not None and own is not None and abs(own - marking.axis) <= AXIS_SLACK
        runs = runs_round(inside.points, marking.axis if mid else None, self._reach, self._straight)
        return ChalkLine("hole", inside.name, marking.strokes(runs, symmetrical=mid))

    def _as_before(self, hole: Inside) -> tuple[ChalkPiece, Motion] | None:
        """A template whose hole is the same, and how what was cut out of it is laid here."""
        for other in self._before:
            for line in other.true.insides:
                drawn_there = any(made.name == line.name and made.strokes for made in other.lines)
                if line.kind == "hole" and drawn_there and (
                    motion := motion_of_line(line.points, hole.points)
                ):
                    return other, motion
        return None

    def _cut_round(self, inside: Inside, other: ChalkPiece, motion: Motion) -> Twin | None:
        line = next((line for line in other.true.insides if line.kind == inside.kind
                     and motion.makes(line.points, inside.points, closed=line.kind == "hole")), None)
        there = line and next((made for made in other.lines if made.name == line.name and made.strokes), None)
        hole = next((made for made in other.lines if made.kind == "hole" and made.strokes), None)
        if line is None or there is None or hole is None:
            return None
        mark = hole.strokes[0].marks[0]
        there_is, axis = motion.of(other.places[mark]), self._marking.axis
        if axis is not None and abs(there_is.x - axis) <= SAME_PLACE:
            there_is = Point(axis, there_is.y)
        label = self._marking.point(there_is, note=f"{mark} of what was cut out of {other.title}")
        place = self._marking.places[label]
        return Twin(other.title, mark, place.x, place.y, motion.over, motion.turned, line.name, label)


def _drawn_with_a_square(piece: ToChalk, axis: float) -> bool:
    """Whether it is a rectangle no larger than a square and a yardstick reach, with nothing in it to
    measure."""
    left, top, right, bottom = bounds(piece.outline)
    wide, tall = right - left, bottom - top
    within = wide <= MOST_BY_SQUARE[0] and tall <= MOST_BY_SQUARE[1] and not piece.on_fold
    return within and abs(wide * tall - abs(area(list(piece.outline)))) <= ALIKE * (wide + tall) and not (
        piece.spots or any(_down_the_piece(line, piece, axis) is None for line in piece.insides))


def _merged(insides: Sequence[Inside], axis: float | None) -> Iterator[Inside]:
    """Two lines straight across that mirror each other are one, from side to side of the piece; holes first,
    for a slit may begin at one."""
    left = sorted(insides, key=lambda line: line.kind != "hole")
    while left:
        line = left.pop(0)
        twin = next((other for other in left if axis is not None and _mirror_level(line, other, axis)), None)
        if twin is None:
            yield line
            continue
        left.remove(twin)
        ends = sorted((*line.points, *twin.points), key=lambda p: p.x)
        yield Inside(_shared(line.name, twin.name), line.kind, (ends[0], ends[-1]))


def _mirror_level(one: Inside, other: Inside, axis: float) -> bool:
    if one.kind in ("hole", "slit") or one.kind != other.kind or len(one.points) != 2 or len(
            other.points) != 2:
        return False
    level = abs(one.points[0].y - one.points[1].y) <= AXIS_SLACK
    return level and all(
        any(mirrored(p, axis).distance(q) <= SAME_PLACE for q in other.points) for p in one.points)


def _shared(one: str, other: str) -> str:
    """What two names end in: “shoulder” of left shoulder and right shoulder."""
    words, others = one.split(), other.split()
    both = [a for a, b in zip(words[::-1], others[::-1], strict=False) if a == b]
    return " ".join(both[::-1]) or f"{one} and {other}"


def _down_the_piece(inside: Inside, piece: ToChalk, axis: float | None) -> float | None:
    """The distance from the middle line of a fold that runs down most of the piece, as its mirror image
    does too."""
    if axis is None or inside.kind in ("hole", "slit") or len(inside.points) != 2:
        return None
    (p, q), (_, top, _, bottom) = inside.points, bounds(piece.outline)
    if abs(p.x - q.x) > AXIS_SLACK or abs(p.y - q.y) < 0.6 * (bottom - top):
        return None
    out = abs(p.x - axis)
    return out if out <= AXIS_SLACK or any(
        len(line.points) == 2 and mirrored(p, axis).distance(line.points[k]) <= SAME_PLACE
        for line in piece.insides for k in (0, -1)
    ) else None


def _diagonal(outline: ChalkLine, marking: Marking, on_fold: bool) -> tuple[str, str, float] | None:
    """The longest way between two marks of the outline that are not neighbours, as the tape will read it."""
    at = marking.places
    labels = list(dict.fromkeys(label for stroke in outline.strokes for label in stroke.marks))
    if on_fold:
        labels = [label for label in labels if at[label].x <= (marking.middle or 0.0)]
    pairs = [
        (round(at[a].distance(at[b]), 6), a, b) for (i, a), (j, b) in combinations(enumerate(labels), 2)
        if 1 < j - i < len(labels) - 1
    ]
    if not pairs:
        return None
    size, a, b = max(pairs)
    return a, b, size


