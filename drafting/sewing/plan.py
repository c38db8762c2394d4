"""The sewing plan: a pattern's steps in order, each with its real lengths, stitches, thread and time."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property

from ..pattern import Pattern, Seam, StitchKind
from .cloths import SewnCloth, usual_cloths
from .finishing import growth_tucks
from .graph import Copy, SeamGraph, opening_of
from .order import GussetOrder, order_of_work
from .pace import TYPICAL, Pace
from .seam_words import way_laid
from .task_words import words_for
from .tasks import JOINING, Kind, Task
from .treatments import SEAMS, StitchRow
from .work import Bench, Measured, Work, work_of

CHILD_STATURE = 1500.0
"""mm up to which a wearer is taken to be still growing. common practice, no source."""

PINNED: tuple[Kind, ...] = (*JOINING, "fell", "hem", "edge", "neck", "tuck")
"""Kinds of task whose lines are pinned before they are sewn."""


@dataclass(frozen=True)
class Choices:
    """How the sewer wants to work. Lengths in mm.

    `let_out` None keeps the allowances whole for someone still growing or a garment with a tuck.
    `cloths` by the name that pieces give theirs; those left out are taken to be the usual ones.
    """

    pace: Pace = TYPICAL
    gussets: GussetOrder = "first"
    let_out: bool | None = None
    stitch_lengths: Mapping[str, float] = field(default_factory=dict)
    cloths: Mapping[str, SewnCloth] = field(default_factory=dict)


@dataclass(frozen=True)
class Step:
    """One step. Lengths in mm; sentences carry theirs as marks for `wording.spell`.

    `seams` are joined here, each in one step only; `fells` are finished here.
    """

    number: int
    kind: Kind
    title: str
    sentences: tuple[str, ...]
    seams: tuple[str, ...]
    fells: tuple[str, ...]
    copies: tuple[Copy, ...]
    measures: tuple[Measured, ...]
    rows: tuple[StitchRow, ...]
    work: Work
    cautions: tuple[str, ...]
    task: Task

    @property
    def length(self) -> float:
        """mm of all the lines it works on."""
        return sum(measure.length for measure in self.measures)


@dataclass(frozen=True)
class SeamLine:
    """A row of the seam table. Lengths in mm; `step` and `felled` number the steps."""

    name: str
    length: float
    allowance: float
    ease: float
    stitch: StitchKind
    treatment: str
    towards: str
    step: int
    felled: int | None
    open_from_top: float


@dataclass(frozen=True)
class SewingPlan:
    """Everything a sewer needs once the pieces are cut."""

    pattern: Pattern
    choices: Choices
    cloths: Mapping[str, SewnCloth]
    steps: tuple[Step, ...]

    @cached_property
    def work(self) -> Work:
        """All the steps together."""
        return Work(
            sum(step.work.stitches for step in self.steps),
            sum(step.work.thread for step in self.steps),
            sum(step.work.minutes for step in self.steps),
        )

    @cached_property
    def seam_table(self) -> tuple[SeamLine, ...]:
        joined = {name: step.number for step in self.steps for name in step.seams}
        felled = {name: step.number for step in self.steps for name in step.fells}
        bench = Bench(self.pattern, self.cloths, self.choices.stitch_lengths)
        return tuple(
            self._line(bench, seam, joined[seam.name], felled.get(seam.name))
            for seam in sorted(self.pattern.seams, key=lambda seam: joined[seam.name])
        )

    def _line(self, bench: Bench, seam: Seam, step: int, felled: int | None) -> SeamLine:
        return SeamLine(
            name=seam.name,
            length=bench.sewn_length(seam),
            allowance=seam.allowance,
            ease=seam.ease,
            stitch=seam.stitch,
            treatment=SEAMS[seam.treatment].title,
            towards=way_laid(self.pattern, seam) if felled else "",
            step=step,
            felled=felled,
            open_from_top=opening_of(seam),
        )


def sewing_plan(pattern: Pattern, choices: Choices | None = None) -> SewingPlan:
    """The plan for a pattern; a pure function of both."""
    choices = choices or Choices()
    cloths = {**usual_cloths(pattern), **choices.cloths}
    let_out = _will_be_let_out(pattern) if choices.let_out is None else choices.let_out
    bench = Bench(pattern, cloths, choices.stitch_lengths)
    tasks = order_of_work(pattern, gussets=choices.gussets, let_out=let_out)
    steps = tuple(
        _step(number, task, bench, choices, let_out, _first_like(tasks, task, number))
        for number, task in enumerate(tasks, 1)
    )
    return SewingPlan(pattern, choices, cloths, steps)


def _first_like(tasks: Sequence[Task], task: Task, number: int) -> int | None:
    """The number of the first step that fells as this one does; None where this is the first."""
    if task.kind != "fell":
        return None
    return next((n for n, other in enumerate(tasks[:number - 1], 1) if other.kind == "fell"
                 and other.seams[0].treatment == task.seams[0].treatment), None)


def _will_be_let_out(pattern: Pattern) -> bool:
    stature = pattern.measurements.get("stature", CHILD_STATURE + 1)
    return stature <= CHILD_STATURE or any(growth_tucks(SeamGraph(pattern)))


def _beside(task: Task, bench: Bench, pace: Pace) -> float:
    """Minutes of a step that no stitch or pin takes."""
    seams = sum(map(bench.sewn_length, task.seams)) / 1000
    by_kind = {
        "baste": seams * pace.minutes_a_metre_of_basting,
        "fell": seams * pace.minutes_a_metre_of_pressing,
        "fit": pace.minutes_of_trying_on,
        "check": pace.minutes_of_trying_on,
        "hang": pace.minutes_of_levelling,
    }
    return pace.minutes_a_step + by_kind.get(task.kind, 0.0)


def _step(
    number: int, task: Task, bench: Bench, choices: Choices, let_out: bool, like: int | None
) -> Step:
    rows = bench.rows(task)
    words = words_for(task, rows, bench, let_out=let_out, like=like)
    pinned = sum(m.length for m in words.measures) if task.kind in PINNED else 0.0
    names = tuple(seam.name for seam in task.seams)
    return Step(
        number=number,
        kind=task.kind,
        title=words.title,
        sentences=words.sentences,
        seams=names if task.kind in JOINING else (),
        fells=names if task.kind == "fell" else (),
        copies=task.copies,
        measures=words.measures,
        rows=rows,
        work=work_of(rows, choices.pace, pinned, beside=_beside(task, bench, choices.pace)),
        cautions=words.cautions,
        task=task,
    )
