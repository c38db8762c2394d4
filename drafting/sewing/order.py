"""The order of work, found from the seam graph.

No garment is known here. Each task waits for those it cannot be done without; among the tasks that can
be done the rules below choose (common practice, no source):

- the neck while the piece is light, and with it the seams that end at the neck;
- a slit's end reinforced before its gore goes in, and gores while all is flat;
- gussets to the smaller of their partners before that is sewn to the larger, or, if the sewer
  prefers, last of all with the corners pinned;
- flat before closed: a seam that joins two assemblies before one that closes an assembly on itself;
- smallest piece first;
- then a fitting, the felling, the free edges, what is sewn on, and a day of hanging before the hem.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from ..pattern import Attachment, InnerLine, Pattern, Piece, Seam, SeamEdge
from .graph import Copy, Joined, SeamGraph, copy_of, parts_of
from .treatments import seam_treatment

Kind = Literal[
    "strip", "reinforce", "neck", "join", "face", "catch", "fit", "let-out", "fell", "opening", "vent",
    "edge", "attach", "hang", "tuck", "hem", "check",
]
GussetOrder = Literal["first", "last"]

INNER_LAYERS = ("faced", "bound")
"""Treatments by which a facing or a binding is sewn on and felled in one go."""


@dataclass(frozen=True)
class Task:
    """What one step does. `lines` are edges, slits and tucks that it works on; `closes` says that a
    seam joins an assembly to itself; `last` that a gusset was left for last."""

    kind: Kind
    seams: tuple[Seam, ...] = ()
    lines: tuple[SeamEdge, ...] = ()
    attachments: tuple[Attachment, ...] = ()
    copies: tuple[Copy, ...] = ()
    closes: bool = False
    last: bool = False


@dataclass(frozen=True)
class _Item:
    """A task still to be placed: its own urgency and the names of what it waits for."""

    name: str
    task: Task
    rank: int
    after: frozenset[str]
    together: tuple[tuple[SeamEdge, ...], ...] = ()


NECK, GORE, GUSSET, FLAT, CLOSING, LAST = range(6)


def order_of_work(
    pattern: Pattern, *, gussets: GussetOrder = "first", let_out: bool = False
) -> tuple[Task, ...]:
    """Every task from the first strip to the last hem; every seam in exactly one of kind `join` or
    `face`."""
    graph = SeamGraph(pattern)
    items = _Items(graph, gussets)
    joined = tuple(_merged(_placed(items.all(), graph)))
    return (
        *_strips(graph),
        *joined,
        *_finishing(graph, joined, let_out=let_out),
    )


class _Items:
    """Everything that is done before the first fitting, with what it waits for."""

    def __init__(self, graph: SeamGraph, gussets: GussetOrder) -> None:
        self.graph = graph
        self.gussets = gussets

    def all(self) -> list[_Item]:
        found = [self._seam(seam) for seam in self.graph.pattern.seams]
        found += self._reinforced()
        found += self._caught()
        found += self._necks()
        return _hurried(found)

    def _seam(self, seam: Seam) -> _Item:
        kind: Kind = "face" if seam.treatment in INNER_LAYERS else "join"
        after = self.graph.joins_before(seam.a) | self.graph.joins_before(seam.b)
        after |= self._gusset_before(seam)
        after |= {f"reinforce {part}" for part in parts_of(seam) if self.graph.is_slit(part)}
        after |= {f"catch {a.name}" for a in self.graph.pattern.attachments if a.to in parts_of(seam)}
        rank = self._rank(seam, kind)
        return _Item(seam.name, Task(kind, (seam,), last=rank == LAST), rank,
                     frozenset(after - {seam.name}), (seam.a, seam.b))

    def _rank(self, seam: Seam, kind: Kind) -> int:
        if kind == "face":
            return NECK
        if any(self.graph.is_slit(part) for part in parts_of(seam)):
            return GORE
        gussets = [copy_of(p) for p in parts_of(seam) if copy_of(p) in self.graph.gussets]
        if gussets and self.gussets == "last":
            return LAST
        if any(self._smaller_partner(g) in map(copy_of, parts_of(seam)) for g in gussets):
            return GUSSET
        return FLAT

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

    def _reinforced(self) -> Iterator[_Item]:
        for slit in self.graph.slits:
            if self.graph.seams_at(slit):
                yield _Item(f"reinforce {slit}", Task("reinforce", lines=(slit,)), LAST, frozenset())

    def _caught(self) -> Iterator[_Item]:
        for a in self.graph.pattern.attachments:
            if self.graph.seams_at(a.to):
                task = Task("catch", attachments=(a,))
                yield _Item(f"catch {a.name}", task, LAST, frozenset(), ((a.to,),))

    def _necks(self) -> Iterator[_Item]:
        necks = [part for part in self.graph.free_edges if is_neck(part) and folded(self.graph, part)]
        for together in _alike(necks):
            yield _Item(f"neck {together}", Task("neck", lines=together), NECK,
                        frozenset(self._ending_between(together)), (together,))

    def _ending_between(self, parts: Sequence[SeamEdge]) -> set[str]:
        copies = set(map(copy_of, parts))
        by_name = {seam.name: seam for seam in self.graph.pattern.seams}
        return {name for name in self.graph.ending_at(parts)
                if set(map(copy_of, parts_of(by_name[name]))) <= copies}


def _hurried(items: list[_Item]) -> list[_Item]:
    """What an urgent task waits for is as urgent as the task."""
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
    before: Task | None = None
    while left:
        ready = [i for i, item in left.items()
                 if (item.after & known) <= done and all(map(joined.are_one, item.together))]
        # A ring of tasks that wait for one another is broken at the most urgent.
        i = min(ready or left, key=lambda i: (*_urgency(left[i], joined, before), i))
        item = left.pop(i)
        done.add(item.name)
        before = _as_it_stands(item.task, joined)
        joined.join(_parts(before))
        yield before


def _urgency(item: _Item, joined: Joined, before: Task | None) -> tuple[float, ...]:
    task = _as_it_stands(item.task, joined)
    if not task.seams:
        return item.rank, 0, 0, 0
    rank = CLOSING if item.rank == FLAT and task.closes else item.rank
    areas = joined.areas(_parts(task))
    order = min(seam.order for seam in task.seams)
    unlike = before is None or _likeness(before) != _likeness(task)
    return rank, order, areas[0], unlike, areas[-1]


def _as_it_stands(task: Task, joined: Joined) -> Task:
    parts = _parts(task)
    closes = bool(parts) and joined.are_one(parts)
    return replace(task, copies=tuple(dict.fromkeys(_copies(task))), closes=closes)


def _parts(task: Task) -> list[SeamEdge]:
    return [part for seam in task.seams for part in parts_of(seam)]


def _copies(task: Task) -> Iterator[Copy]:
    for seam in task.seams:
        yield from map(copy_of, parts_of(seam))
    yield from map(copy_of, task.lines)
    for a in task.attachments:
        yield a.piece, a.copy
        yield copy_of(a.to)


def _merged(tasks: Iterable[Task]) -> Iterator[Task]:
    """Tasks alike that follow one another become one: left and right, or a gusset's two edges."""
    waiting: Task | None = None
    for task in tasks:
        if waiting and _likeness(waiting) == _likeness(task):
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
    if task.kind in ("join", "face"):
        seam = task.seams[0]
        around = {part.piece for part in parts_of(seam)}
        flat = task.closes if len(around) > 1 and not task.last else None
        return task.kind, frozenset(around), seam.treatment, seam.stitch, flat, task.last
    if task.kind == "reinforce":
        return task.kind
    if task.kind == "catch":
        return task.kind, task.attachments[0].piece
    return object()


def is_neck(part: SeamEdge) -> bool:
    return "neck" in part.edge


def folded(graph: SeamGraph, part: SeamEdge) -> bool:
    """Whether the edge is turned in along its own line, as a hem is."""
    allowance = graph.pattern.piece(part.piece).allowances.get(part.edge)
    return allowance is not None and allowance.fold and allowance.width > 0


def is_strip(pattern: Pattern, piece: Piece) -> bool:
    """A strap, tie or loop: sewn on at a point, folded lengthwise, its long edges left bare."""
    folds = [line.path.length for line in piece.inner_lines if line.kind == "fold"]
    bare = sum(edge.length for edge in piece.outline.edges if not piece.allowance(edge.name))
    sewn_on = any(a.piece == piece.name for a in pattern.attachments)
    return sewn_on and bool(folds) and bare >= 1.9 * max(folds)


def _strips(graph: SeamGraph) -> Iterator[Task]:
    pattern = graph.pattern
    strips = [copy for copy in graph.copies if is_strip(pattern, pattern.piece(copy[0]))]
    if strips:
        yield Task("strip", copies=tuple(strips))


def _finishing(graph: SeamGraph, joined: Sequence[Task], *, let_out: bool) -> Iterator[Task]:
    """From the first fitting on: felling, edges, what is sewn on, hanging, tucks, the hem."""
    seams = [seam for task in joined for seam in task.seams]
    later = [seam for seam in seams if _finished_later(seam)]
    if seams and graph.pattern.clearances:
        yield Task("fit")
    if let_out and later:
        yield Task("let-out", seams=tuple(later))
    yield from _felled(joined)
    opened = [seam for seam in seams if seam.open_from_top > 0]
    if opened:
        yield Task("opening", seams=tuple(opened), copies=_around(opened))
    vents = tuple(slit for slit in graph.slits if not graph.seams_at(slit) and not _faced(graph, slit))
    if vents:
        yield Task("vent", lines=vents, copies=tuple(dict.fromkeys(map(copy_of, vents))))
    hems = [part for part in graph.free_edges if folded(graph, part) and not is_neck(part)]
    hanging = [part for part in hems if _hangs(graph, part)]
    for together in _alike([part for part in hems if part not in hanging]):
        yield _edge_task("edge", together)
    attached = [a for a in graph.pattern.attachments if not graph.seams_at(a.to)]
    if attached:
        yield Task("attach", attachments=tuple(attached),
                   copies=tuple(dict.fromkeys((a.piece, a.copy) for a in attached)))
    if hanging:
        yield Task("hang", copies=tuple(dict.fromkeys(map(copy_of, hanging))))
    tucks = tuple(_tucks(graph))
    if tucks:
        yield Task("tuck", lines=tucks, copies=tuple(dict.fromkeys(map(copy_of, tucks))))
    for together in _alike(hanging):
        yield _edge_task("hem", together)
    yield Task("check")


def _edge_task(kind: Kind, parts: tuple[SeamEdge, ...]) -> Task:
    return Task(kind, lines=parts, copies=tuple(dict.fromkeys(map(copy_of, parts))))


def _finished_later(seam: Seam) -> bool:
    if seam.treatment in INNER_LAYERS:
        return False
    treatment = seam_treatment(seam.treatment)
    return bool(treatment.say_finish)


def _felled(joined: Sequence[Task]) -> Iterator[Task]:
    """Felling in the order of sewing; neighbours treated alike are felled in one step."""
    runs: list[list[Seam]] = []
    for task in joined:
        for seam in task.seams:
            if not _finished_later(seam):
                continue
            if runs and runs[-1][0].treatment == seam.treatment:
                runs[-1].append(seam)
            else:
                runs.append([seam])
    for run in runs:
        yield Task("fell", seams=tuple(run), copies=_around(run))


def _around(seams: Iterable[Seam]) -> tuple[Copy, ...]:
    return tuple(dict.fromkeys(copy_of(part) for seam in seams for part in parts_of(seam)))


def _faced(graph: SeamGraph, slit: SeamEdge) -> bool:
    """Whether a facing covers the slit: one is sewn to an edge of the same piece, at the neck."""
    return any(seam.treatment in INNER_LAYERS for edge in graph.edges_of(copy_of(slit))
               for seam in graph.seams_at(edge))


def _hangs(graph: SeamGraph, part: SeamEdge) -> bool:
    hang = graph.pattern.piece(part.piece).hang
    return hang is not None and hang.hem == part.edge


def _alike(parts: Sequence[SeamEdge]) -> list[tuple[SeamEdge, ...]]:
    """Edges hemmed in one go: equal allowances, and either of one name or of one piece."""
    groups: list[list[SeamEdge]] = []
    for part in parts:
        touching = [
            group for group in groups
            if any(part.edge == other.edge or part.piece == other.piece for other in group)
        ]
        merged = [other for group in touching for other in group] + [part]
        groups = [group for group in groups if group not in touching] + [merged]
    return [tuple(group) for group in groups]


def _tucks(graph: SeamGraph) -> Iterator[SeamEdge]:
    for piece, copy in graph.pattern.copies():
        for line in tuck_lines(piece):
            yield SeamEdge(piece.name, line.name, copy)


def tuck_lines(piece: Piece) -> tuple[InnerLine, ...]:
    """The lower stitching line of each tuck; lines come in pairs, told apart by their names."""
    lines = [line for line in piece.inner_lines if line.kind == "tuck"]
    lower = [line for line in lines if "lower" in line.name]
    return tuple(lower or lines[::2])
