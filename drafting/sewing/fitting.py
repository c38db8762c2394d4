"""Before, at and after the fitting: what is done flat, what is basted, and when each seam is felled.

common practice, no source: baste and try on; then each seam is sewn and felled before another meets it, so
that no felling stops at a seam, and before what it lies in is closed to a tube.
"""

from collections.abc import Iterable, Iterator, Sequence

from ..pattern import Pattern, Seam
from .graph import Joined, SeamGraph, copy_of, parts_of
from .naming import smaller_first
from .tasks import LINED, WORKED_FLAT, Task, felled_later, of_seams


def before_the_fitting(tasks: Iterable[Task]) -> tuple[tuple[Task, ...], tuple[Task, ...]]:
    """The tasks done flat before the garment is basted, and the others; each in their order.

    Early are strips pieced on, what must lie flat, and what comes first of all without a seam to fell.
    """
    early: list[Task] = []
    late: list[Task] = []
    for task in tasks:
        pieced = bool(task.seams) and all(seam.order < 0 for seam in task.seams)
        first = not late and not any(map(felled_later, task.seams))
        (early if pieced or task.kind in WORKED_FLAT or first else late).append(task)
    return tuple(early), tuple(late)


def fitting(graph: SeamGraph, late: Sequence[Task], *, let_out: bool) -> Iterator[Task]:
    """Baste, try on, and say which allowances are kept. A lining is not basted."""
    pattern = graph.pattern
    if pattern.clearances and pattern.seams:
        basted = [seam for task in late if task.kind == "join" for seam in task.seams
                  if any(pattern.piece(part.piece).cloth == "main" for part in parts_of(seam))]
        if basted:
            yield of_seams("baste", basted)
        if any(seam.order >= 0 for seam in pattern.seams):
            yield Task("fit")
    kept = [seam for task in late for seam in task.seams if felled_later(seam)]
    if let_out and kept:
        yield of_seams("let-out", kept)


def felled_in_turn(
    graph: SeamGraph, tasks: Sequence[Task], before: Iterable[Task] = ()
) -> Iterator[Task]:
    """The tasks, and between them the felling of what the next one meets or closes.

    `before` are tasks done already, whose seams are felled.
    """
    joined = Joined(graph.copies, graph)
    for task in before:
        _join(joined, task.seams)
    waiting: list[Seam] = []
    for task in tasks:
        lines = [*task.lines, *(part for seam in task.seams for part in parts_of(seam))]
        closed = _closed_by(joined, task)
        due = [seam for seam in waiting
               if graph.meet(parts_of(seam), lines) or joined.root(copy_of(seam.a[0])) in closed]
        for together in _felled(graph.pattern, waiting):
            if any(seam in due for seam in together):
                yield of_seams("fell", together)
                waiting = [seam for seam in waiting if seam not in together]
        yield task
        _join(joined, task.seams)
        waiting += filter(felled_later, task.seams)
    for together in _felled(graph.pattern, waiting):
        yield of_seams("fell", together)


def _join(joined: Joined, seams: Iterable[Seam]) -> None:
    for seam in seams:
        joined.join(parts_of(seam))


def _closed_by(joined: Joined, task: Task) -> set[object]:
    """The assemblies, as they are before it, that a task sews to themselves."""
    if any(seam.treatment in LINED for seam in task.seams):
        return set()
    return {joined.root(copy_of(seam.a[0])) for seam in task.seams if joined.are_one(parts_of(seam))}


def _felled(pattern: Pattern, seams: Sequence[Seam]) -> list[list[Seam]]:
    """In the order of sewing, those round the same small piece together."""
    groups: dict[tuple[str, str], list[Seam]] = {}
    for seam in seams:
        small, _ = smaller_first(pattern, seam)
        groups.setdefault((seam.treatment, small[0].piece), []).append(seam)
    return list(groups.values())
