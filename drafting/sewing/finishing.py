"""What is done to edges, before the seams and after them. See `order` for the rules."""

from collections.abc import Iterator, Sequence

from ..pattern import InnerLine, Pattern, Piece, Seam, SeamEdge
from .graph import SeamGraph, copy_of, opening_of, parts_of
from .tasks import INNER_LAYERS, JOINING, LINED, Task, of_lines, of_seams


def is_neck(graph: SeamGraph, part: SeamEdge) -> bool:
    return graph.pattern.piece(part.piece).role(part.edge) == "neck"


def folded(graph: SeamGraph, part: SeamEdge) -> bool:
    """Whether the edge is turned in along its own line, as a hem is."""
    allowance = graph.pattern.piece(part.piece).allowances.get(part.edge)
    return allowance is not None and allowance.fold and allowance.width > 0


def hangs(graph: SeamGraph, part: SeamEdge) -> bool:
    """Whether the edge is a hem that must hang level."""
    return any(hang.hem == part.edge for hang in graph.pattern.piece(part.piece).hangs)


def is_strip(pattern: Pattern, piece: Piece) -> bool:
    """A strap, tie or loop: sewn on at a point, folded lengthwise, its long edges left bare."""
    folds = [line.path.length for line in piece.inner_lines if line.kind == "fold"]
    bare = sum(edge.length for edge in piece.outline.edges if not piece.allowance(edge.name))
    sewn_on = any(a.piece == piece.name for a in pattern.attachments)
    return sewn_on and bool(folds) and bare >= 1.9 * max(folds)


def strips(graph: SeamGraph) -> Iterator[Task]:
    """Straps, ties and loops are made first of all."""
    pattern = graph.pattern
    found = [copy for copy in graph.copies if is_strip(pattern, pattern.piece(copy[0]))]
    if found:
        yield Task("strip", copies=tuple(found))


def finishing(graph: SeamGraph, joined: Sequence[Task]) -> Iterator[Task]:
    """When all seams are felled: edges, what is sewn on, tucks, hanging, hem, lining."""
    facings = opening_facings(graph)
    if facings:
        yield of_seams("face", facings)
    opened = [seam for task in joined for seam in task.seams if opening_of(seam)]
    if opened:
        yield of_seams("opening", opened)
    done = {part for task in joined if task.kind != "eyelet" for part in task.lines}
    hems = [part for part in graph.free_edges if folded(graph, part) and part not in done]
    hanging = [part for part in hems if hangs(graph, part)]
    for edges in alike(graph, [part for part in hems if part not in hanging]):
        yield of_lines("edge", edges)
    if facings:
        yield of_lines("fasten", [part for seam in facings for part in faced_edges(graph, seam)])
    attached = tuple(a for a in graph.pattern.attachments
                     if all(seam.treatment in LINED for seam in graph.seams_at(a.to)))
    if attached:
        yield Task("attach", attachments=attached,
                   copies=tuple(dict.fromkeys((a.piece, a.copy) for a in attached)))
    # A tuck draws the hem up unevenly where the cloth is flared: it is sewn before the hem is levelled.
    tucks = list(growth_tucks(graph))
    if tucks:
        yield of_lines("tuck", tucks)
    if hanging:
        yield of_lines("hang", hanging)
        yield of_lines("hem", hanging)
    yield from _lining(graph, joined)
    yield Task("check")


def _lining(graph: SeamGraph, joined: Sequence[Task]) -> Iterator[Task]:
    """Seams left for when the edges are hemmed: the lining, then bindings over its edge."""
    sewn = {seam.name for task in joined if task.kind in JOINING for seam in task.seams}
    sewn |= {seam.name for seam in opening_facings(graph)}
    left = [seam for seam in graph.pattern.seams if seam.name not in sewn]
    lining = [seam for seam in left if seam.treatment in LINED]
    if lining:
        yield of_seams("lining", lining)
    for seam in left:
        if seam.treatment in INNER_LAYERS:
            yield of_seams("face", [seam])


def opening_facings(graph: SeamGraph) -> tuple[Seam, ...]:
    """Seams that face the edges of an opening in a seam: at no neck, along no line inside a piece."""
    return tuple(
        seam for seam in graph.pattern.seams
        if seam.treatment == "faced"
        and not any(is_neck(graph, part) or graph.inner_kind(part) for part in parts_of(seam)))


def faced_edges(graph: SeamGraph, seam: Seam) -> tuple[SeamEdge, ...]:
    """The garment's side of such a seam: the piece of more cloth."""
    return max((seam.a, seam.b), key=lambda side: sum(graph.area(copy_of(part)) for part in side))


def corded_edges(graph: SeamGraph) -> tuple[SeamEdge, ...]:
    """Edges whose casing a cord comes out of through eyelets: no seam there is left open for it."""
    if graph.pattern.options.get("waist") != "drawstring":
        return ()
    cased = tuple(part for part in graph.free_edges
                  if graph.pattern.piece(part.piece).role(part.edge) == "waist")
    beside = (seam for part in cased for near in graph.neighbours(part) for seam in graph.seams_at(near))
    return () if any(map(opening_of, beside)) else cased


def alike(graph: SeamGraph, parts: Sequence[SeamEdge]) -> list[tuple[SeamEdge, ...]]:
    """Edges hemmed in one go: equal allowances, and either of one name or of one piece."""
    def related(one: SeamEdge, other: SeamEdge) -> bool:
        if is_neck(graph, one) and is_neck(graph, other):
            return True
        widths = [graph.pattern.piece(part.piece).allowance(part.edge) for part in (one, other)]
        return widths[0] == widths[1] and (one.edge == other.edge or one.piece == other.piece)

    groups: list[list[SeamEdge]] = []
    for part in parts:
        touching = [group for group in groups if any(related(part, other) for other in group)]
        merged = [other for group in touching for other in group] + [part]
        groups = [group for group in groups if group not in touching] + [merged]
    return [tuple(group) for group in groups]


def growth_tucks(graph: SeamGraph) -> Iterator[SeamEdge]:
    """The foot of every tuck."""
    for piece, copy in graph.pattern.copies():
        for line in tuck_feet(piece):
            yield SeamEdge(piece.name, line.name, copy)


def tuck_feet(piece: Piece) -> tuple[InnerLine, ...]:
    """The lower stitching line of each tuck."""
    return tuple(line for line in piece.inner_lines if line.role == "tuck foot")
