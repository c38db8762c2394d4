"""What a step says, and what its words are made from.

Lengths are left as marks (`said`), to be spelled out in the reader's unit.
"""

from collections.abc import Iterable
from dataclasses import dataclass

from ..pattern import Seam, SeamEdge
from ..words.wording import said
from .naming import copies_named, copy_named
from .stitches import STITCHES
from .tasks import Task
from .treatments import StitchRow
from .work import Bench, Measured

PINS = "Count the pins in and out, and leave none in the garment."
IRON = "A hot iron and its steam burn: keep children and cords away from it."


@dataclass(frozen=True)
class JobWords:
    title: str
    sentences: tuple[str, ...]
    measures: tuple[Measured, ...] = ()
    cautions: tuple[str, ...] = ()


@dataclass(frozen=True)
class Job:
    """A task to be put into words. `like` numbers an earlier step whose seams are finished alike."""

    task: Task
    rows: tuple[StitchRow, ...]
    bench: Bench
    let_out: bool
    like: int | None = None

    def named(self) -> str:
        return copies_named(self.bench.pattern, self.task.copies)

    def stitched(self) -> str:
        """How the first row is sewn."""
        row = self.rows[0]
        stitch = STITCHES[row.stitch]
        return f"{stitch.title}, stitches {said(row.stitch_length or stitch.length)} long"

    def line(self, part: SeamEdge) -> Measured:
        pattern = self.bench.pattern
        label = f"{copy_named(pattern, part)}, {part.edge}"
        return Measured(label, self.bench.length(part),
                        pattern.piece(part.piece).allowance(part.edge))


def seam_lines(bench: Bench, seams: Iterable[Seam]) -> tuple[Measured, ...]:
    return tuple(Measured(seam.name, bench.sewn_length(seam), seam.allowance, seam.name)
                 for seam in seams)
