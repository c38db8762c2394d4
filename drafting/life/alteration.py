"""An alteration as an order of work: unpick, press, mark, sew, fell, hem; with lengths, thread and time.

Stitches are opened the other way round than they were sewn, and closed again in the order of the sewing
plan, so that no seam is sewn under a felling that still holds.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from typing import Literal

from ..pattern import Pattern, SeamEdge
from ..sewing.graph import SeamGraph, parts_of
from ..sewing.naming import capital, listed
from ..sewing.plan import Choices, SewingPlan, sewing_plan
from ..sewing.stitches import STITCHES
from ..sewing.tasks import JOINING, Task
from ..sewing.treatments import SEAMS, StitchRow
from ..sewing.work import Bench, Work, work_of
from ..words.wording import said
from .as_cut import AsCut, MovedEdge

AlterKind = Literal["cut", "unpick", "press", "mark", "sew", "fell", "hem", "try-on"]

CROSSING = 30.0
"""mm opened on each side where another seam crosses the end of one that is moved. common practice, no
source."""

Opened = frozenset[tuple[str, str]]
"""Pieces' edges that are sewn anew."""


@dataclass(frozen=True)
class AlterStep:
    """One step. Lengths in mm; sentences carry theirs as marks."""

    kind: AlterKind
    title: str
    sentences: tuple[str, ...]
    length: float
    work: Work


@dataclass(frozen=True)
class Alteration:
    """The steps in order, and the seams that they open."""

    steps: tuple[AlterStep, ...]
    opened: tuple[str, ...]

    @property
    def work(self) -> Work:
        return Work(sum(s.work.stitches for s in self.steps), sum(s.work.thread for s in self.steps),
                    sum(s.work.minutes for s in self.steps))


def alteration(sewn: Pattern, as_cut: AsCut, choices: Choices | None = None) -> Alteration:
    """What is to be done so that the garment sewn by a pattern becomes the one that its cloth holds.

    No steps where no line moves and nothing is let down.
    """
    choices = choices or Choices()
    moved = {(edge.piece, edge.edge): edge for edge in as_cut.moved()}
    tucks = _tucks(sewn) if as_cut.tuck_let_down else []
    if not moved and not tucks and not as_cut.new:
        return Alteration((), ())
    before, after = sewing_plan(sewn, choices), sewing_plan(as_cut.pattern, choices)
    opened = frozenset({*moved, *tucks})
    steps = [
        *_cut(as_cut),
        *_unpicked(before, opened),
        *_pressed(before, opened),
        *_marked(as_cut, moved.values(), choices),
        *_sewn(after, opened),
    ]
    names = tuple(seam.name for seam in sewn.seams if _is_open(parts_of(seam), opened))
    return Alteration(tuple(steps), names)


def _is_open(parts: Iterable[SeamEdge], opened: Opened) -> bool:
    return any((part.piece, part.edge) in opened for part in parts)


def _tucks(pattern: Pattern) -> list[tuple[str, str]]:
    return [(piece.name, line.name) for piece in pattern.pieces for line in piece.inner_lines
            if line.kind == "tuck"]


def _cut(as_cut: AsCut) -> Iterator[AlterStep]:
    if as_cut.new:
        yield AlterStep("cut", f"Cut new: {listed(as_cut.new)}", (
            "These are not there, or hold no more: cut them anew from the altered pattern.",), 0.0, Work())


def _unpicked(plan: SewingPlan, opened: Opened) -> Iterator[AlterStep]:
    """Every row that holds what is to be moved, the last sewn first."""
    pace = plan.choices.pace
    bench = Bench(plan.pattern, plan.cloths, plan.choices.stitch_lengths)
    graph = SeamGraph(plan.pattern)
    for step in reversed(plan.steps):
        part = _part_of(step.task, opened)
        rows = bench.rows(part) if part else ()
        length = sum(row.length for row in rows)
        if part and length:
            yield AlterStep("unpick", f"Unpick: {_subject(part)}", (
                f"Take out {_rows_in_words(rows)}: cut every third stitch and draw the thread.",),
                length, Work(minutes=pace.minutes_a_step
                             + length / 1000 * pace.minutes_a_metre_of_unpicking))
        crossed = _crossed(step.task, opened, graph)
        if crossed and not part:
            length = 2 * CROSSING * len(crossed)
            yield AlterStep("unpick", f"Open a little: {listed(crossed)}", (
                f"Open {said(CROSSING)} on each side where a seam that is moved meets it.",), length,
                Work(minutes=length / 1000 * pace.minutes_a_metre_of_unpicking))


def _part_of(task: Task, opened: Opened) -> Task | None:
    """The task with no more than its seams and lines that are opened; None where there are none."""
    seams = tuple(seam for seam in task.seams if _is_open(parts_of(seam), opened))
    lines = tuple(line for line in task.lines if (line.piece, line.edge) in opened)
    if task.kind in (*JOINING, "fell", "opening"):
        return replace(task, seams=seams, lines=()) if seams else None
    if task.kind in ("hem", "edge", "neck", "tuck", "vent"):
        return replace(task, seams=(), lines=lines) if lines else None
    return None


def _crossed(task: Task, opened: Opened, graph: SeamGraph) -> tuple[str, ...]:
    """What a task sewed that is not moved itself, and meets a line that is."""
    moved = [SeamEdge(piece, edge, copy) for piece, edge in opened
             for copy in range(1, graph.pattern.piece(piece).cut + 1)]
    if task.kind == "fell":
        return tuple(seam.name for seam in task.seams if graph.meet(parts_of(seam), moved))
    if task.kind in ("hem", "edge", "neck"):
        met = [line for line in task.lines if graph.meet((line,), moved)]
        return (f"the {_hem_word(task)} at {len(met)} places",) if met else ()
    return ()


def _hem_word(task: Task) -> str:
    return "neck edge" if task.kind == "neck" else "hem" if task.kind == "hem" else "turned edge"


def _subject(task: Task) -> str:
    if task.seams:
        what = "felling of " if task.kind == "fell" else ""
        return f"{what}{listed([seam.name for seam in task.seams])}"
    if task.kind == "tuck":
        return "the growth tuck"
    return f"{_hem_word(task)} of {listed(list(dict.fromkeys(line.piece for line in task.lines)))}"


def _rows_in_words(rows: Iterable[StitchRow]) -> str:
    by_stitch: dict[str, float] = {}
    for row in rows:
        by_stitch[STITCHES[row.stitch].title] = by_stitch.get(STITCHES[row.stitch].title, 0.0) + row.length
    return listed([f"{said(length)} of {title}" for title, length in by_stitch.items()])


def _pressed(plan: SewingPlan, opened: Opened) -> Iterator[AlterStep]:
    pattern, pace = plan.pattern, plan.choices.pace
    length = sum(pattern.piece(piece).line(edge).length * pattern.piece(piece).cut for piece, edge in opened)
    yield AlterStep("press", "Press what was opened", (
        "Brush out the thread ends and press the creases flat, damp, before anything is marked.",),
        length, Work(minutes=pace.minutes_a_step + length / 1000 * pace.minutes_a_metre_of_pressing))


def _marked(as_cut: AsCut, moved: Iterable[MovedEdge], choices: Choices) -> Iterator[AlterStep]:
    pattern = as_cut.pattern
    by_piece: dict[str, list[MovedEdge]] = {}
    for edge in moved:
        by_piece.setdefault(edge.piece, []).append(edge)
    for name, edges in by_piece.items():
        piece = pattern.piece(name)
        length = piece.cut * sum(piece.outline[edge.edge].length for edge in edges)
        yield AlterStep("mark", f"Chalk the new lines: {piece.title}", tuple(_lines_in_words(edges)),
                        length, Work(minutes=length / 1000 * choices.pace.minutes_a_metre_of_marking))
    if as_cut.tuck_let_down:
        yield AlterStep("mark", "Let the growth tuck down", (
            f"It gives {said(as_cut.tuck_let_down)} of length; fold what is left of it anew.",), 0.0, Work())


def _lines_in_words(edges: Iterable[MovedEdge]) -> Iterator[str]:
    """“Left and right: 7.5 mm outside the old line”; lines that move alike in one sentence."""
    alike: dict[str, list[MovedEdge]] = {}
    for edge in edges:
        alike.setdefault(_where(edge), []).append(edge)
    for where, same in alike.items():
        left = min(edge.left for edge in same)
        names = capital(listed([edge.edge for edge in same]))
        yield f"{names}: {where}; {said(left)} of cloth is left beyond."


def _where(edge: MovedEdge) -> str:
    ways = [_way(mm) for mm in edge.out]
    if max(edge.out) - min(edge.out) < 1.0:
        return ways[1]
    return f"{ways[0]} at its start, {ways[1]} in the middle, {ways[2]} at its end"


def _way(mm: float) -> str:
    if abs(mm) < 0.5:
        return "on the old line"
    return f"{said(abs(mm))} {'outside' if mm > 0 else 'inside'} the old line"


def _sewn(plan: SewingPlan, opened: Opened) -> Iterator[AlterStep]:
    """What was opened closed again, by the altered pattern's own plan; tried on before it is felled."""
    pace = plan.choices.pace
    bench = Bench(plan.pattern, plan.cloths, plan.choices.stitch_lengths)
    tried = False
    for step in plan.steps:
        part = _part_of(step.task, opened)
        rows = bench.rows(part) if part else ()
        if not part or not rows:
            continue
        length = sum(row.length for row in rows)
        kind: AlterKind = "sew" if part.kind in JOINING else "fell" if part.kind == "fell" else "hem"
        if kind != "sew" and not tried:
            tried = True
            yield AlterStep("try-on", "Try it on again", (
                "Only when it fits is the rest finished; nothing is trimmed before.",), 0.0,
                Work(minutes=pace.minutes_of_trying_on))
        yield AlterStep(kind, f"{capital(kind)}: {_subject(part)}", (
            f"Sew {_rows_in_words(rows)}{' along the new line' if kind == 'sew' else ''}.",
            *_how(part)), length, work_of(rows, pace, length, beside=pace.minutes_a_step))


def _how(task: Task) -> tuple[str, ...]:
    """How the seams are joined or finished, each way once."""
    if task.kind == "fell":
        return tuple(dict.fromkeys(SEAMS[seam.treatment].say_finish for seam in task.seams))
    if task.kind in JOINING:
        return tuple(dict.fromkeys(SEAMS[seam.treatment].say_join for seam in task.seams))
    return ()
