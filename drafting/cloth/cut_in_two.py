"""A piece cut in two down the page, and the pattern that sews the parts together again."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Literal

from ..geometry import Allowance, Path
from ..geometry.polygon import holds_point
from ..geometry.split import SplitPart, split_path
from ..pattern import Attachment, Notch, Pattern, Piece, Seam, SeamEdge

PIECED_ON = "piecing"
"""What a part pieced on is called, so that nobody takes it for a strap."""

PIECING_ALLOWANCE = 15.0
"""mm on both sides of a piecing seam, enough to fell. common practice, no source."""


@dataclass(frozen=True)
class CutInTwo:
    """One piece cut in two at `x`: the parts as pieces, and the pattern with its new seam.

    `keeps` is the part that stays the piece; the other is pieced on to it.
    """

    pattern: Pattern
    piece: Piece
    left: SplitPart
    right: SplitPart
    edge: str
    x: float
    keeps: Literal["left", "right"]

    @property
    def main(self) -> SplitPart:
        return self.left if self.keeps == "left" else self.right

    @property
    def strip(self) -> SplitPart:
        return self.right if self.keeps == "left" else self.left

    @cached_property
    def strip_name(self) -> str:
        """Named after the whole piece, however often that is cut: “front piecing”, “front piecing 2”."""
        taken = {piece.name for piece in self.pattern.pieces}
        whole = _whole(self.piece.name)
        names = (f"{whole} {PIECED_ON}{f' {n}' if n > 1 else ''}" for n in range(1, 99))
        return next(name for name in names if name not in taken)

    @property
    def main_piece(self) -> Piece:
        return self._part_piece(self.main)

    @property
    def strip_piece(self) -> Piece:
        name, told = self.strip_name, self._told
        return replace(
            self._part_piece(self.strip), name=name, title=name,
            copies=tuple(f"{_whole(copy)} {told}" for copy in self.piece.copies),
        )

    @property
    def _told(self) -> str:
        """“piecing”, or “piecing 2”."""
        return self.strip_name[self.strip_name.rindex(PIECED_ON):]

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
        pieces = [self.main_piece if piece is self.piece else piece for piece in self.pattern.pieces]
        of_the_whole = [n for n, piece in enumerate(pieces) if _whole(piece.name) == _whole(self.piece.name)]
        pieces.insert(of_the_whole[-1] + 1, self.strip_piece)
        seams = [replace(s, a=self._side(s.a), b=self._side(s.b)) for s in self.pattern.seams]
        joins = [
            Seam(
                f"{self.piece.copy_name(copy)} to its {self._told}",
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


def _whole(name: str) -> str:
    """What a piece was called before anything was pieced on to it."""
    return name.split(f" {PIECED_ON}")[0]
