"""The order of work, found from the seam graph.

No garment is known here. Each task waits for those it cannot be done without; among the tasks that can
be done the rules below choose (common practice, no source):

- a lining that is quilted to its piece first of all, since both are one from then on;
- the neck while the piece is light, and with it the seams that end at the neck;
- pleats, and gores set into slits whose ends are reinforced first, while all is flat;
- gussets to the smaller of their partners before that is sewn to the larger, or, if the sewer
  prefers, last of all with the corners pinned;
- what a longer seam runs across (a shoulder under a sleeve's top, a strip pieced on) before that seam
  and before other pieces hang on it;
- flat before closed: a seam that joins two assemblies before one that closes an assembly on itself;
- the garment before its lining, then smallest piece first.

What must lie flat (slits, eyelets, pleats, strips pieced on, a neck that no seam crosses) is done first;
then `fitting` has the garment basted and tried on, and each seam is sewn, and felled before another
meets it or closes what it lies in. `finishing` goes on with the edges, tucks and the hem.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from ..pattern import Pattern, Seam, SeamEdge
from .finishing import alike, corded_edges, finishing, folded, hangs, is_neck, opening_facings, strips
from .fitting import before_the_fitting, felled_in_turn, fitting
from .graph import Copy, Joined, SeamGraph, copy_of, parts_of
from .tasks import (
    INNER_LAYERS,
    LAYERED,
    LINED,
    PLEATED,
    QUILTED,
    RIDGE,
    Kind,
    Task,
    around,
    copies_in,
    felled_later,
    of_lines,
)

GussetOrder = Literal["first", "last"]

QUILT, NECK, GORE, GUSSET, ACROSS, FLAT, CLOSING, LAST = range(8)
"""How urgent a task is."""


@dataclass(frozen=True)
class _Item:
    """A task still to be placed: its own urgency and the names of what it waits for."""

    name: str
    task: Task
    rank: int
    after: frozenset[str]
    together: tuple[tuple[SeamEdge, ...], ...] = ()


def order_of_work(
    pattern: Pattern, *, gussets: GussetOrder = "first", let_out: bool = False
) -> tuple[Task, ...]:
    """Every task from the first strip to the last hem; every seam in exactly one that joins."""
    graph = SeamGraph(pattern)
    joined = tuple(_merged(_placed(_Items(graph, gussets).all(), graph), graph))
    early, late = before_the_fitting(joined)
    return (
        *strips(graph),
        *felled_in_turn(graph, early),
        *fitting(graph, late, let_out=let_out),
        *felled_in_turn(graph, late, early),
        *finishing(graph, joined),
    )


class _Items:
    """Everything that is done before the edges are finished, with what it waits for."""

    def __init__(self, graph: SeamGraph, gussets: GussetOrder) -> None:
        self.graph = graph
        self.gussets = gussets
        self._across = {
            name for seam in graph.pattern.seams for side in (seam.a, seam.b)
            for name in graph.joins_before(side)
        }

    def all(self) -> list[_Item]:
        lined = {part for seam in self.graph.pattern.seams if seam.treatment in LINED
                 for part in parts_of(seam)}
        at_openings = opening_facings(self.graph)
        # A lining goes in when all else is hemmed, and a binding that covers its edge after it.
        found = [
            self._seam(seam) for seam in self.graph.pattern.seams
            if seam.treatment not in LINED and seam not in at_openings
            and not (seam.treatment in INNER_LAYERS and lined & set(parts_of(seam)))
        ]
        found += self._worked_flat()
        found += self._caught()
        found += self._necks()
        return _hurried(found)

    def _seam(self, seam: Seam) -> _Item:
        kind: Kind = ("face" if seam.treatment in INNER_LAYERS
                      else "pleat" if seam.treatment == PLEATED else "join")
        parts = parts_of(seam)
        after = self.graph.joins_before(seam.a) | self.graph.joins_before(seam.b)
        after |= self._gusset_before(seam)
        after |= {f"reinforce {part}" for part in parts}
        after |= {f"catch {a.name}" for a in self.graph.pattern.attachments if a.to in parts}
        after |= {other.name for part in parts for other in self.graph.seams_at(part)
                  if other.treatment == LAYERED}
        if seam.treatment == RIDGE:
            after |= {other.name for other in self.graph.pattern.seams
                      if other is not seam and around((other,)) == around((seam,))}
        after |= {f"edge {part}" for part in self._hemmed_before(seam)}
        if kind == "face":
            after |= {f"vent {cut}" for cut in self._vents() if self.graph.meet([cut], parts)}
        rank = self._rank(seam, kind)
        return _Item(seam.name, Task(kind, (seam,), by_flatness=rank == FLAT), rank,
                     frozenset(after - {seam.name}), (seam.a, seam.b))

    def _rank(self, seam: Seam, kind: Kind) -> int:
        if kind == "face":
            return NECK
        if seam.treatment == QUILTED:
            return QUILT
        if seam.treatment != RIDGE and any(self.graph.inner_kind(part) for part in parts_of(seam)):
            return GORE
        gussets = [copy_of(p) for p in parts_of(seam) if copy_of(p) in self.graph.gussets]
        if gussets and self.gussets == "last":
            return LAST
        if any(self._smaller_partner(g) in set(map(copy_of, parts_of(seam))) for g in gussets):
            return GUSSET
        return ACROSS if seam.name in self._across else FLAT

    def _smaller_partner(self, gusset: Copy) -> Copy | None:
        """The one piece that the gusset is sewn to before that is sewn on; none if two are alike."""
        areas = sorted((self.graph.area(copy), copy) for copy in self.graph.partners(gusset)
                       if copy not in self.graph.gussets)
        if len(areas) < 2 or areas[0][0] > 0.999 * areas[1][0]:
            return None
        return areas[0][1]

    def _gusset_before(self, seam: Seam) -> set[str]:
        """A seam between two partners of a gusset waits for the gusset's seams to the smaller one."""
        if self.gussets == "last":
            return set()
        copies = set(map(copy_of, parts_of(seam)))
        found: set[str] = set()
        for gusset in self.graph.gussets - copies:
            smaller = self._smaller_partner(gusset)
            if smaller in copies and copies & (self.graph.partners(gusset) - {smaller}):
                found |= {
                    other.name for other in self.graph.pattern.seams
                    if {gusset, smaller} <= set(map(copy_of, parts_of(other)))
                }
        return found

    def _hemmed_before(self, seam: Seam) -> list[SeamEdge]:
        """Free edges that end where a facing or binding ends, or that are laid over each other: they are
        hemmed before that covers them."""
        return self._edges_run_into(parts_of(seam)) if seam.treatment in (*INNER_LAYERS, LAYERED) else []

    def _edges_run_into(self, parts: Sequence[SeamEdge]) -> list[SeamEdge]:
        near = dict.fromkeys(n for part in parts for n in self.graph.neighbours(part))
        return [part for part in near
                if part in self.graph.free_edges and folded(self.graph, part)
                and not hangs(self.graph, part) and not is_neck(self.graph, part)]

    def _vents(self) -> Iterator[SeamEdge]:
        """Slits that nothing is sewn into and that are no neck's."""
        return (cut for cut in self.graph.free_cuts
                if self.graph.inner_kind(cut) == "slit" and not is_neck(self.graph, cut))

    def _worked_flat(self) -> Iterator[_Item]:
        corded = corded_edges(self.graph)
        if corded:
            yield _Item("eyelets", of_lines("eyelet", corded), LAST, frozenset())
        for cut in self._vents():
            yield _Item(f"vent {cut}", of_lines("vent", [cut]), LAST, frozenset())
        for slit in self.graph.slits:
            if any(seam.treatment not in INNER_LAYERS for seam in self.graph.seams_at(slit)):
                yield _Item(f"reinforce {slit}", of_lines("reinforce", [slit]), LAST, frozenset())

    def _caught(self) -> Iterator[_Item]:
        for a in self.graph.pattern.attachments:
            if any(seam.treatment not in LINED for seam in self.graph.seams_at(a.to)):
                task = Task("catch", attachments=(a,))
                yield _Item(f"catch {a.name}", task, LAST, frozenset(), ((a.to,),))

    def _necks(self) -> Iterator[_Item]:
        """The hem of a neck that is not faced, and of free edges that a binding or a seam runs over."""
        necks = [part for part in (*self.graph.free_edges, *self.graph.free_cuts)
                 if is_neck(self.graph, part) and self._is_turned_in(part)]
        for together in alike(self.graph, necks):
            yield _Item(f"neck {together}", of_lines("neck", together), NECK,
                        frozenset(self._ending_between(together)))
        at_openings = opening_facings(self.graph)
        for seam in self.graph.pattern.seams:
            if seam.treatment not in LINED and seam not in at_openings:
                for part in self._hemmed_before(seam):
                    yield _Item(f"edge {part}", of_lines("edge", [part]), LAST, frozenset())

    def _is_turned_in(self, part: SeamEdge) -> bool:
        """A neck or its slit; but not that of a lining, which is turned in when it is felled on."""
        if self.graph.seams_at(part) and not folded(self.graph, part):
            return False
        width = self.graph.pattern.piece(part.piece).allowance(part.edge)
        return width > 0 or self.graph.inner_kind(part) == "slit"

    def _ending_between(self, parts: Sequence[SeamEdge]) -> set[str]:
        copies = set(map(copy_of, parts))
        by_name = {seam.name: seam for seam in self.graph.pattern.seams}
        return {name for name in self.graph.ending_at(parts)
                if set(map(copy_of, parts_of(by_name[name]))) <= copies}


def _hurried(items: list[_Item]) -> list[_Item]:
    """What an urgent task waits for is as urgent as the task. Items of one name are one."""
    items = list({item.name: item for item in items}.values())
    rank = {item.name: item.rank for item in items}
    for _ in items:
        for item in items:
            for name in item.after:
                if name in rank:
                    rank[name] = min(rank[name], rank[item.name])
    return [replace(item, rank=rank[item.name]) for item in items]


def _placed(items: list[_Item], graph: SeamGraph) -> Iterator[Task]:
    """The tasks one after another, the most urgent of those possible first."""
    joined = Joined(graph.copies, graph)
    done: set[str] = set()
    left = dict(enumerate(items))
    known = {item.name for item in items}
    run: tuple[Task, ...] = ()
    while left:
        ready = [i for i, item in left.items()
                 if (item.after & known) <= done and all(map(joined.are_one, item.together))]
        # A ring of tasks that wait for one another is broken at the most urgent.
        i = min(ready or left, key=lambda i: (*_urgency(left[i], joined, run, graph), i))
        item = left.pop(i)
        done.add(item.name)
        task = _as_it_stands(item.task, joined)
        joined.join(_parts(task))
        run = (*run, task) if _go_together(graph, run, task) else (task,)
        yield task


def _urgency(
    item: _Item, joined: Joined, run: Sequence[Task], graph: SeamGraph
) -> tuple[float, ...]:
    task = _as_it_stands(item.task, joined)
    if not task.seams:
        return 0, item.rank, 0, 0
    rank = CLOSING if item.rank == FLAT and task.closes else item.rank
    areas = joined.areas(_parts(task))
    order = min(seam.order for seam in task.seams)
    unlike = not _go_together(graph, run, task)
    return joined.is_inside(_parts(task)), rank, order, areas[0], unlike, areas[-1]


def _as_it_stands(task: Task, joined: Joined) -> Task:
    parts = _parts(task)
    closes = bool(parts) and joined.are_one(parts)
    return replace(task, copies=tuple(dict.fromkeys(copies_in(task))), closes=closes)


def _parts(task: Task) -> list[SeamEdge]:
    return [part for seam in task.seams for part in parts_of(seam)]


def _go_together(graph: SeamGraph, run: Sequence[Task], task: Task) -> bool:
    """Whether a task is like those before it, and none of their seams is to be felled before it."""
    if not run or _likeness(run[0]) != _likeness(task):
        return False
    felled = [part for other in run for seam in other.seams if felled_later(seam)
              for part in parts_of(seam)]
    return not felled or (run[0].closes == task.closes and not graph.meet(felled, _parts(task)))


def _merged(tasks: Iterable[Task], graph: SeamGraph) -> Iterator[Task]:
    """Tasks alike that follow one another become one: left and right."""
    waiting: Task | None = None
    for task in tasks:
        if waiting and _go_together(graph, (waiting,), task):
            waiting = replace(
                waiting,
                seams=waiting.seams + task.seams,
                lines=waiting.lines + task.lines,
                attachments=waiting.attachments + task.attachments,
                copies=tuple(dict.fromkeys(waiting.copies + task.copies)),
                closes=waiting.closes and task.closes,
            )
            continue
        if waiting:
            yield waiting
        waiting = task
    if waiting:
        yield waiting


def _likeness(task: Task) -> object:
    if task.seams:
        seam = task.seams[0]
        around = {part.piece for part in parts_of(seam)}
        copies = len(set(map(copy_of, parts_of(seam))))
        flat = task.closes if task.by_flatness and len(around) > 1 else None
        return task.kind, frozenset(around), copies, seam.treatment, seam.stitch, flat
    if task.kind in ("reinforce", "vent", "edge"):
        return task.kind
    if task.kind == "catch":
        return task.kind, task.attachments[0].piece
    return object()
