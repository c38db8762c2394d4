"""The work in a step: its rows of stitches, and what they come to."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from ..pattern import Attachment, Pattern, Piece, Seam, SeamEdge
from .cloths import SewnCloth
from .felling import Side, laid_towards, other_side, side_of
from .finishing import folded
from .graph import SeamGraph, copy_of, opening_of
from .pace import Pace
from .stitches import Stack, needlefuls, thread_to_cut
from .tasks import INNER_LAYERS, JOINING, Task
from .treatments import EDGES, SEAMS, Site, StitchRow, edge_treatment

REINFORCED = 40.0
"""mm whipped on each side of a slit's end. common practice, no source."""

BAR = 15.0
"""mm of whip stitch laid across the end of an opening. common practice, no source."""

EYELET = 25.0
"""mm round an eyelet for a cord. common practice, no source."""

SLIT_TURN = 8.0
"""mm of cloth rolled in along a slit. common practice, no source."""

FASTENED_EVERY, FASTENING, LOOP_CORD = 40.0, 25.0, 40.0
"""mm between loops or hooks along an opening, of whip stitch round each, and of cord for a loop. common
practice, no source."""

TUCK_ROWS = 2


@dataclass(frozen=True)
class Work:
    """What rows come to: stitches, mm of thread used up, minutes."""

    stitches: int = 0
    thread: float = 0.0
    minutes: float = 0.0


@dataclass(frozen=True)
class Measured:
    """A line that a step works on: mm of it, and of cloth beyond it. `seam` names it in the table."""

    label: str
    length: float
    allowance: float
    seam: str = ""


class Bench:
    """Knows the pattern, its cloths and the sewer's stitches; answers with rows."""

    def __init__(
        self, pattern: Pattern, cloths: Mapping[str, SewnCloth], lengths: Mapping[str, float]
    ) -> None:
        self.pattern = pattern
        self.graph = SeamGraph(pattern)
        self._cloths = cloths
        self._lengths = lengths

    def thickness(self, piece: str) -> float:
        return self._cloths[self.pattern.piece(piece).cloth].thickness

    def sewn_length(self, seam: Seam) -> float:
        """mm of seam that is closed: the shorter side, less what stays open."""
        a, b = self.pattern.side_length(seam.a), self.pattern.side_length(seam.b)
        return max(0.0, min(a, b) - opening_of(seam))

    def rows(self, task: Task) -> tuple[StitchRow, ...]:
        """The rows of a task in the sewer's own stitch lengths; none where nothing is sewn.

        A row that must be sewn in shorter stitches than usual keeps them.
        """
        return tuple(replace(row, stitch_length=self._stitch_length(row)) for row in self._rows(task))

    def _stitch_length(self, row: StitchRow) -> float | None:
        own = self._lengths.get(row.stitch)
        return min(own, row.stitch_length) if own and row.stitch_length else own or row.stitch_length

    def _rows(self, task: Task) -> Iterable[StitchRow]:
        if task.kind in JOINING:
            for seam in task.seams:
                treatment, site = SEAMS[seam.treatment], self._site(seam)
                yield from treatment.join(site)
                if seam.treatment in INNER_LAYERS:
                    yield from treatment.finish(site)
        elif task.kind == "fell":
            for seam in task.seams:
                yield from SEAMS[seam.treatment].finish(self._site(seam))
        elif task.kind in ("neck", "edge", "hem"):
            for part in task.lines:
                if self.graph.inner_kind(part) == "slit":
                    yield from self._slit_rows(part)
                else:
                    yield from self._edge_rows(part)
        elif task.kind == "reinforce":
            for slit in task.lines:
                yield StitchRow("whip", 2 * REINFORCED, Stack(self.thickness(slit.piece)))
        elif task.kind == "eyelet":
            for part in task.lines:
                yield StitchRow("whip", EYELET, Stack(self.thickness(part.piece)))
        elif task.kind == "opening":
            for seam in task.seams:
                yield from self._opening_rows(seam)
        elif task.kind == "vent":
            for slit in task.lines:
                yield from self._slit_rows(slit)
        elif task.kind == "fasten":
            for part in task.lines:
                ground = self.thickness(part.piece)
                round_each = fastenings(self.length(part)) * FASTENING
                yield StitchRow("whip", BAR / 2 + round_each, Stack(2 * ground))
        elif task.kind == "strip":
            for copy in task.copies:
                yield self._strip_row(self.pattern.piece(copy[0]))
        elif task.kind in ("attach", "catch"):
            for a in task.attachments:
                yield self._attached_row(a)
        elif task.kind == "tuck":
            for line in task.lines:
                ground = self.thickness(line.piece)
                for _ in range(TUCK_ROWS):
                    yield StitchRow("running", self.length(line), Stack(2 * ground))

    def length(self, part: SeamEdge) -> float:
        return self.pattern.piece(part.piece).line(part.edge).length

    def _site(self, seam: Seam) -> Site:
        towards = laid_towards(self.pattern, seam)
        outer = None
        if seam.treatment in INNER_LAYERS:
            # The facing or binding is felled to the garment, whichever side names it.
            towards = other_side(self.layer_side(seam))
            outer = self.outer_edge(seam)
        ground = max(self.thickness(part.piece) for part in side_of(seam, towards))
        other = max(self.thickness(part.piece) for part in side_of(seam, other_side(towards)))
        length = self.sewn_length(seam)
        return Site(length, seam.allowance, seam.stitch, ground, other, outer)

    def layer_side(self, seam: Seam) -> Side:
        """Which side of a faced or bound seam is the facing: the one of less cloth."""
        area = [sum(self.graph.area(copy) for copy in {copy_of(part) for part in side})
                for side in (seam.a, seam.b)]
        return "a" if area[0] <= area[1] else "b"

    def outer_edge(self, seam: Seam) -> float | None:
        """mm of the facing's edges that no seam takes: those felled down inside."""
        layer = {copy_of(part) for part in side_of(seam, self.layer_side(seam))}
        free = [part for part in self.graph.free_edges
                if copy_of(part) in layer and not folded(self.graph, part)]
        return sum(self.length(part) for part in free) or None

    def _edge_rows(self, part: SeamEdge) -> tuple[StitchRow, ...]:
        allowance = self.pattern.piece(part.piece).allowance(part.edge)
        ground = self.thickness(part.piece)
        site = Site(self.length(part), allowance, "hem", ground, ground)
        return edge_treatment(allowance).finish(site)

    def _slit_rows(self, slit: SeamEdge) -> Iterable[StitchRow]:
        """Both edges rolled, and a bar across the end."""
        ground = self.thickness(slit.piece)
        site = Site(2 * self.length(slit), SLIT_TURN, "roll", ground, ground)
        yield from EDGES["rolled"].finish(site)
        yield StitchRow("whip", BAR, Stack(2 * ground))

    def _opening_rows(self, seam: Seam) -> Iterable[StitchRow]:
        for side in (seam.a, seam.b):
            ground = max(self.thickness(part.piece) for part in side)
            site = Site(opening_of(seam), seam.allowance, "hem", ground, ground)
            yield from edge_treatment(seam.allowance).finish(site)
        yield StitchRow("whip", BAR, Stack(2 * ground))

    def _strip_row(self, piece: Piece) -> StitchRow:
        layers = folds_of(piece) + 1
        return StitchRow("whip", strip_length(piece), Stack(layers * self.thickness(piece.name)))

    def _attached_row(self, a: Attachment) -> StitchRow:
        piece = self.pattern.piece(a.piece)
        layers, joint = folds_of(piece) + 1, joint_of(piece)
        around = 2 * (joint + strip_width(piece) / layers)
        return StitchRow("back", around, Stack(3 * self.thickness(a.to.piece),
                                         layers * self.thickness(piece.name)))


def fastenings(length: float) -> int:
    """How many loops or hooks on each edge of an opening so many mm long."""
    return max(2, int(length // FASTENED_EVERY) + 1)


def folds_of(piece: Piece) -> int:
    return sum(line.kind == "fold" for line in piece.inner_lines)


def strip_length(piece: Piece) -> float:
    """mm along its folds."""
    return max((line.path.length for line in piece.inner_lines if line.kind == "fold"),
               default=max(edge.length for edge in piece.outline.edges))


def strip_width(piece: Piece) -> float:
    """mm across, before it is folded. source: area over length, for a strip of even width."""
    return piece.outline.area / strip_length(piece)


def joint_of(piece: Piece) -> float:
    """mm of a strip's end that is sewn down."""
    return max((piece.allowance(edge.name) for edge in piece.outline.edges), default=0.0)


def work_of(
    rows: Iterable[StitchRow], pace: Pace, pinned: float = 0.0, *, beside: float = 0.0
) -> Work:
    """What the rows come to when sewn one after another; `pinned` mm are pinned first, and `beside`
    minutes go to what is no sewing."""
    rows = tuple(rows)
    path = sum(row.path for row in rows)
    sewing = sum(pace.stitching(row.stitch, row.count) for row in rows)
    return Work(
        stitches=sum(row.count for row in rows),
        thread=thread_to_cut(path),
        minutes=sewing + needlefuls(path) * pace.minutes_a_needleful
        + pinned / 1000 * pace.minutes_a_metre_of_pinning + beside,
    )
