"""Piecing: a piece wider than the cloth is cut in two along the grain, and the pattern gains a seam.

The cut is set so that the larger part keeps the whole usable width and the smaller is a strip at the
side of the piece, where it shows least; a strip is never narrower than fingers can fell.
"""

from collections.abc import Container, Iterator
from dataclasses import dataclass, replace

from ..geometry import Allowance, Path, Point, bounds
from ..geometry.polygon import holds_point, is_simple, left_half, mirror_axis
from ..geometry.split import Crossing, SplitPart, chords, split_outline, split_path
from ..pattern import Attachment, Notch, Pattern, Piece, Seam, SeamEdge
from ..words.problems import BadInput, Problem
from ..words.wording import said
from .cloth import field_of

NARROWEST_STRIP = 50.0
"""mm between the sewing lines of a pieced-on strip. common practice, no source."""

LEAST = NARROWEST_STRIP - 0.5
"""mm, as above, to within how a curve is measured."""

PIECING_ALLOWANCE = 15.0
"""mm on both sides of a piecing seam, enough to fell. common practice, no source."""


def fit_to_width(
    pattern: Pattern, usable_width: float, cloth: str = "main", wish: float | None = None,
    folded: bool = False,
) -> Pattern:
    """The pattern with every piece of the cloth named no wider than `usable_width` with allowances.

    On `folded` cloth a piece that is its own mirror image may lie on the fold, and be twice as wide.
    Pieces wider than `wish` are pieced too, to save cloth, where they can be. Notes name the pieces
    that were pieced. Raises BadInput when one that must be pieced cannot be, saying why.
    """
    whole: set[str] = set()
    while True:
        wide = _too_wide(pattern, cloth, usable_width, folded)
        limit, why = usable_width, f"more than the cloth's {said(usable_width)}: it is pieced"
        if wide is None and wish is not None:
            wide = _too_wide(pattern, cloth, wish, folded, whole)
            limit, why = wish, "and pieced to save cloth"
        if wide is None:
            return pattern
        try:
            pieced = _pieced(pattern, wide, limit, field_of(cloth, "width"))
        except BadInput:
            if limit == usable_width:
                raise
            whole.add(wide.name)
            continue
        note = (f"The {wide.title} is {said(_width(wide))} wide with its allowances, {why} along the "
                "grain.")
        pattern = replace(pieced, notes=(*pattern.notes, note))


def _too_wide(
    pattern: Pattern, cloth: str, width: float, folded: bool, but: Container[str] = ()
) -> Piece | None:
    """The first piece of the cloth named that is wider than `width`, or twice that on the fold."""
    return next((
        p for p in pattern.pieces
        if p.cloth == cloth and p.name not in but and _excess(p, width) > 0.05
        and not (folded and _excess(p, 2 * width) <= 0.05 and half_of(p))
    ), None)


def half_of(piece: Piece) -> tuple[Point, ...] | None:
    """The left half of a piece's cutting line where the other is its mirror image, to lie on a fold."""
    axis = mirror_axis(piece.cutting_line)
    return None if axis is None else left_half(piece.cutting_line, axis)


def _width(piece: Piece) -> float:
    left, _, right, _ = bounds(piece.cutting_line)
    return right - left


def _excess(piece: Piece, usable_width: float) -> float:
    return _width(piece) - usable_width


def _pieced(pattern: Pattern, piece: Piece, usable_width: float, field: str) -> Pattern:
    edge = _new_edge(piece)
    for chord, x in _chords(piece, usable_width):
        left, right = split_outline(piece.outline, chord, edge)
        if min(part.outline.bounds[2] - part.outline.bounds[0] for part in (left, right)) < LEAST:
            continue
        cut = _Cut(pattern, piece, left, right, edge, x)
        made = cut.main_piece, cut.strip_piece
        if min(_excess(p, usable_width) for p in made) <= 0.05 and all(map(_can_be_cut, made)):
            return cut.pattern_after
    why = (f"a strip pieced on to it would be narrower than {said(NARROWEST_STRIP)}, too narrow to fell"
           if not _holes(piece) or usable_width - PIECING_ALLOWANCE < NARROWEST_STRIP
           else "wherever it could be pieced the seam would run through a hole in it")
    raise BadInput([Problem(
        field,
        f"The {piece.title} is {said(_width(piece))} wide with its allowances and the cloth gives "
        f"{said(usable_width)}: that is {said(_excess(piece, usable_width))} too little, and {why}. "
        "A wider cloth or smaller allowances would do.",
    )])


def _can_be_cut(piece: Piece) -> bool:
    """Whether the allowances stay clear of each other: not so where a seam comes near a dart."""
    return is_simple(piece.cutting_line)


def _new_edge(piece: Piece) -> str:
    names = {edge.name for edge in piece.outline.edges}
    return next(name for n in range(1, 999) if (name := f"piecing {n}") not in names)


def _chords(piece: Piece, usable_width: float) -> Iterator[tuple[tuple[Crossing, Crossing], float]]:
    """Where to cut: stretches of lines down the piece, with the line's x.

    Lines that cut the piece right through come first, since on a hollow piece a stretch between two
    edges leaves the rest to be cut by another seam.
    """
    several: list[tuple[tuple[Crossing, Crossing], float]] = []
    for x in _places(piece, usable_width):
        if not _through_a_hole(piece, x):
            try:
                found = chords(piece.outline, x)
            except ValueError:  # the line grazes the outline: an odd number of crossings
                continue
            if len(found) == 1:
                yield found[0], x
            else:
                several += [(chord, x) for chord in found]
    yield from several


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
            strip += 20.0


@dataclass(frozen=True)
class _Cut:
    """One piece cut in two at `x`: the parts as pieces, and the pattern with its new seam."""

    pattern: Pattern
    piece: Piece
    left: SplitPart
    right: SplitPart
    edge: str
    x: float

    @property
    def main(self) -> SplitPart:
        return max(self.left, self.right, key=lambda part: part.outline.area)

    @property
    def strip(self) -> SplitPart:
        return self.right if self.main is self.left else self.left

    @property
    def strip_name(self) -> str:
        taken = {piece.name for piece in self.pattern.pieces}
        names = (f"{self.piece.name} strip{f' {n}' if n > 1 else ''}" for n in range(1, 99))
        return next(name for name in names if name not in taken)

    @property
    def main_piece(self) -> Piece:
        return self._part_piece(self.main)

    @property
    def strip_piece(self) -> Piece:
        name = self.strip_name
        return replace(
            self._part_piece(self.strip), name=name, title=name,
            copies=tuple(f"{copy} strip" for copy in self.piece.copies),
        )

    def _part_piece(self, part: SplitPart) -> Piece:
        piece = self.piece
        lines = [
            replace(line, path=path)
            for line in piece.inner_lines
            if (path := self._within(part, line.path)) is not None
        ]
        allowances = {
            name: piece.allowances[origin]
            for name, (origin, _) in part.origins.items()
            if origin in piece.allowances
        }
        inner = {line.name: piece.allowances[line.name] for line in lines
                 if line.name in piece.allowances}
        kept = {line.name: line.name for line in lines} | {
            name: origin for name, (origin, _) in part.origins.items()
        }
        hangs = tuple(
            replace(hang, hem=name)
            for hang in piece.hangs
            for name, (origin, _) in part.origins.items()
            if origin == hang.hem
        )
        return replace(
            piece,
            outline=part.outline,
            allowances={**allowances, **inner, self.edge: Allowance(PIECING_ALLOWANCE)},
            grain=None,
            notches=tuple(self._notches(part)),
            inner_lines=tuple(lines),
            hangs=hangs,
            roles={name: piece.roles[was] for name, was in kept.items() if was in piece.roles},
            faces={name: piece.faces[was] for name, was in kept.items() if was in piece.faces},
        )

    def _within(self, part: SplitPart, path: Path) -> Path | None:
        """What of an inner line lies on the part: its own half where the cut crosses it, else all or
        nothing."""
        cut = part.outline[self.edge].path
        halves = split_path(path, self.x, *sorted((cut.start.y, cut.end.y)))
        if halves:
            return halves[0 if part is self.left else 1]
        middle = path.point_along(path.length / 2)
        on_main = holds_point(self.main.outline.polygon, middle)
        return path if on_main == (part is self.main) else None

    def _notches(self, part: SplitPart) -> Iterator[Notch]:
        for notch in self.piece.notches:
            length = self.piece.outline[notch.edge].length
            at = length - notch.distance if notch.from_end else notch.distance
            for name, start, end in self._spans(part, notch.edge):
                if start <= at <= end:
                    yield Notch(name, at - start, notch.label)

    def _spans(self, part: SplitPart, edge: str) -> Iterator[tuple[str, float, float]]:
        """The edges of a part that were cut from `edge`, with where on it they start and end."""
        for name, (origin, start) in part.origins.items():
            if origin == edge:
                yield name, start, start + part.outline[name].length

    def _places_of(self, edge: str) -> list[tuple[float, float, str, str]]:
        """Start, end, piece and edge for everything that an edge (or slit) has become."""
        found = [
            (start, end, piece_name, name)
            for part, piece_name in ((self.main, self.piece.name), (self.strip, self.strip_name))
            for name, start, end in self._spans(part, edge)
        ]
        return sorted(found) or sorted(self._owners_of_the_line(edge))

    def _owners_of_the_line(self, name: str) -> Iterator[tuple[float, float, str, str]]:
        """As above for a slit or hole: one part has it, or it runs over both."""
        start = self.piece.line(name).start
        for part in (self.main_piece, self.strip_piece):
            for line in part.inner_lines:
                if line.name == name:
                    at = start.distance(line.path.start)
                    yield at, at + line.path.length, part.name, name

    def _side(self, side: tuple[SeamEdge, ...]) -> tuple[SeamEdge, ...]:
        parts: list[SeamEdge] = []
        for part in side:
            if part.piece != self.piece.name:
                parts.append(part)
            else:
                parts += [SeamEdge(piece, edge, part.copy)
                          for _, _, piece, edge in self._places_of(part.edge)]
        return tuple(parts)

    def _attachment(self, attachment: Attachment) -> Attachment:
        if attachment.to.piece != self.piece.name:
            return attachment
        for start, end, piece, edge in self._places_of(attachment.to.edge):
            if start <= attachment.distance <= end:
                to = SeamEdge(piece, edge, attachment.to.copy)
                return replace(attachment, to=to, distance=attachment.distance - start)
        return attachment

    @property
    def pattern_after(self) -> Pattern:
        pieces: list[Piece] = []
        for piece in self.pattern.pieces:
            pieces += [self.main_piece, self.strip_piece] if piece is self.piece else [piece]
        seams = [replace(s, a=self._side(s.a), b=self._side(s.b)) for s in self.pattern.seams]
        strip = self.strip_name.removeprefix(self.piece.name).strip()
        joins = [
            Seam(
                f"{self.piece.copy_name(copy)} to its {strip}",
                (SeamEdge(self.piece.name, self.edge, copy),),
                (SeamEdge(self.strip_name, self.edge, copy),),
                PIECING_ALLOWANCE,
                order=-1,
            )
            for copy in range(1, self.piece.cut + 1)
        ]
        return replace(
            self.pattern,
            pieces=tuple(pieces),
            seams=(*joins, *seams),
            attachments=tuple(self._attachment(a) for a in self.pattern.attachments),
            schematic=tuple(
                q for p in self.pattern.schematic
                for q in ((p, replace(p, piece=self.strip_name)) if p.piece == self.piece.name else (p,))
            ),
        )
