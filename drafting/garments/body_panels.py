"""The body block's panels: front and back, in one over the shoulders or in two, and an open front.

Down each side runs a chain of edges: the armhole, the gusset, the side seam, the gore. They are named
for the wearer's side, so the front's left edges stand on the right of its drawing.
"""

from collections.abc import Iterator

from ..geometry import Allowance, Edge, Line, Outline, Path, Point
from ..pattern import HALVES, Half, Hang, InnerLine, Notch, Piece, SeamEdge
from .body_block import Block
from .neck import ALLOWANCE as NECK_ALLOWANCE
from .panels import ConePanel

SIDES = ("left", "right")
NECK_TURNED = 8.0
"""mm turned in at a neck edge without a facing. common practice, no source."""

Chain = list[tuple[str, float]]


def side_chain(block: Block) -> Chain:
    """The edges down a side from the shoulder, with their lengths."""
    end = block.length
    start = block.gore_depth if block.side_gore else end
    if not block.sleeve:
        # Above the armhole's depth the seam stays open.
        chain = [("side", start)]
    else:
        chain = [("armhole", block.armhole), ("gusset", block.gusset),
                 ("side", start - block.gusset_foot)]
    chain.append(("gore", end - start))
    return [(name, length) for name, length in chain if length > 1e-6]


def on_panel(block: Block, half: str, side: str, name: str) -> SeamEdge:
    """The edge of the front or back `half` on a wearer's `side`."""
    if block.folded:
        whole = name == "armhole"
        return SeamEdge("body", f"{side} armhole" if whole else f"{half} {side} {name}")
    if half == "front" and block.overlap is not None:
        return SeamEdge("front", name, 1 + SIDES.index(side))
    return SeamEdge(half, f"{side} {name}")


def panels(block: Block, seam: Allowance, hem: Allowance, *, turned_neck: bool) -> tuple[Piece, ...]:
    """The front and the back, or the body that is both."""
    neck = Allowance(NECK_TURNED, fold=not block.folded) if turned_neck else Allowance(NECK_ALLOWANCE)
    if block.folded:
        return (_folded(block, seam, hem, neck),)
    front = (_open_front(block, seam, hem, neck) if block.overlap is not None
             else _panel(block, "front", seam, hem, neck))
    return front, _panel(block, "back", seam, hem, neck)


def _folded(block: Block, seam: Allowance, hem: Allowance, neck: Allowance) -> Piece:
    half, end, chain = block.width / 2, block.length, side_chain(block)
    edges = [_line("back hem", Point(-half, -end), Point(half, -end))]
    edges += _over_the_shoulder(chain, "left", half, end, "back", "front")
    edges.append(_line("front hem", Point(half, end), Point(-half, end)))
    edges += [_flipped(edge) for edge in _over_the_shoulder(chain, "right", half, end, "front", "back")]
    notches = [
        notch
        for panel, side, at_end in (("back", "left", True), ("front", "left", False),
                                    ("front", "right", True), ("back", "right", False))
        for notch in _chain_notches(block, f"{panel} {side} ", at_end)
    ]
    if block.sleeve:
        notches += [Notch(f"{side} armhole", block.armhole, "shoulder") for side in SIDES]
    level = Path((Line(Point(-half, 0.0), Point(half, 0.0)),))
    reach = block.neck.half_width
    return Piece(
        name="body",
        title="body",
        outline=Outline(tuple(edges)),
        allowances=_allowances(edges, seam, hem, "front hem", "back hem") | {"neck": neck},
        notches=tuple(notches),
        inner_lines=(
            *block.neck.cuts(),
            InnerLine("left shoulder", Path.through(Point(reach, 0), Point(half, 0)), "fold"),
            InnerLine("right shoulder", Path.through(Point(-half, 0), Point(-reach, 0)), "fold"),
            *_marks(block, "front", 1),
            *_marks(block, "back", -1),
        ),
        grain=(Point(0.3 * block.width, 0.25 * end), Point(0.3 * block.width, 0.7 * end)),
        hangs=(Hang("front hem", level, end), Hang("back hem", level, end)),
        faces={f"{half} {side} {name}": half
               for half in HALVES for side in SIDES for name, _ in chain if name != "armhole"}
        | _slit_faces(block),
    )


def _over_the_shoulder(
    chain: Chain, side: str, half: float, end: float, first: str, second: str
) -> list[Edge]:
    """The right side of the drawing from the top down: up the first panel, down the second."""
    edges: list[Edge] = []
    y = -end
    for panel, links in ((first, chain[::-1]), (second, chain)):
        for name, length in links:
            a, b = Point(half, y), Point(half, y + length)
            if name == "armhole" and edges and edges[-1].name == f"{side} armhole":
                edges[-1] = _line(f"{side} armhole", edges[-1].path.start, b)
            else:
                named = f"{side} armhole" if name == "armhole" else f"{panel} {side} {name}"
                edges.append(_line(named, a, b))
            y += length
    return edges


def _flipped(edge: Edge) -> Edge:
    """Turned half round: the left side of the drawing is the right one seen upside down."""
    return Edge(edge.name, edge.path.moved(lambda p: -p))


def _slit_faces(block: Block, *halves: Half) -> dict[str, Half]:
    """Of the slits for middle gores on those halves, all where none is named."""
    return {f"{half} slit": half for half in block.middles if half in (halves or HALVES)}


def _panel(block: Block, half: Half, seam: Allowance, hem: Allowance, neck: Allowance) -> Piece:
    """A whole front or back with seamed shoulders; the wearer's left is on the front's right."""
    on_right, on_left = ("left", "right") if half == "front" else ("right", "left")
    x, end, chain = block.width / 2, block.length, side_chain(block)
    hole = block.neck.front if half == "front" else block.neck.back
    edges = [
        _line(f"{on_left} shoulder", Point(-x, 0), hole.start),
        Edge("neck", hole),
        _line(f"{on_right} shoulder", hole.end, Point(x, 0)),
        *_down(chain, f"{on_right} ", x),
        _line("hem", Point(x, end), Point(-x, end)),
        *_up(chain, f"{on_left} ", -x),
    ]
    level = Path((Line(Point(-x, 0.0), Point(x, 0.0)),))
    return Piece(
        name=half,
        title=half,
        outline=Outline(tuple(edges)),
        allowances=_allowances(edges, seam, hem) | {"neck": neck},
        notches=(*_chain_notches(block, f"{on_right} ", False),
                 *_chain_notches(block, f"{on_left} ", True)),
        inner_lines=(*(block.neck.front_slit() if half == "front" else ()), *_marks(block, half, 1)),
        grain=(Point(0.3 * block.width, 0.35 * end), Point(0.3 * block.width, 0.75 * end)),
        hangs=(Hang("hem", level, end),),
        roles={"neck": "neck"},
        half=half,
        faces=_slit_faces(block, half),
    )


def _open_front(block: Block, seam: Allowance, hem: Allowance, neck: Allowance) -> Piece:
    """The left front of a coat, the middle at x = 0; the right one is turned over."""
    assert block.overlap is not None
    x, end, chain, lap = block.width / 2, block.length, side_chain(block), block.overlap
    depth = block.neck.front_depth
    middle = Point(0.0, depth)
    quarter = Path(block.neck.front.segments[1:])
    if block.lap_depth:
        front = Path.through(Point(-lap, end), Point(-lap, block.lap_depth), middle)
        hole = quarter
    else:
        corner = Point(-lap, depth)
        front = Path.through(Point(-lap, end), corner)
        hole = Path.through(corner, middle).joined(quarter)
    edges = [
        Edge("neck", hole),
        _line("shoulder", hole.end, Point(x, 0)),
        *_down(chain, "", x),
        _line("hem", Point(x, end), Point(-lap, end)),
        Edge("front edge", front),
    ]
    level = Path((Line(Point(-lap, 0.0), Point(x, 0.0)),))
    waist = Path.through(Point(-lap, block.waist), Point(x, block.waist))
    return Piece(
        name="front",
        title="front",
        outline=Outline(tuple(edges)),
        allowances=_allowances(edges, seam, hem) | {"neck": neck, "front edge": hem},
        cut=2,
        mirrored=True,
        copies=("left front", "right front"),
        notches=(*_chain_notches(block, "", False),
                 Notch("neck", quarter.length, "middle", from_end=True),
                 Notch("hem", lap, "middle", from_end=True)),
        inner_lines=(
            InnerLine("middle", Path.through(middle, Point(0.0, end)), "level"),
            *((InnerLine("waist", waist, "level"),) if block.waist < block.length else ()),
        ),
        grain=(Point(0.6 * x, 0.35 * end), Point(0.6 * x, 0.75 * end)),
        hangs=(Hang("hem", level, end),),
        roles={"neck": "neck"},
        half="front",
        faces={"front edge": "front"},
    )


def side_panels(block: Block, shape: ConePanel, seam: Allowance, hem: Allowance) -> Piece:
    """Under each arm of a narrow body, from the armhole to the hem."""
    outline = shape.outline("front", "back")
    return Piece(
        name="side panel",
        title="side panel",
        outline=outline,
        allowances={"top": seam, "front": seam, "back": seam, "hem": hem},
        cut=2,
        mirrored=True,
        copies=("left side panel", "right side panel"),
        notches=(Notch("top", shape.top_width / 2, "sleeve underarm"),),
        hangs=(Hang("hem", shape.level, shape.hem_length, block.armhole),),
        faces={"front": "front", "back": "back"},
    )


def _marks(block: Block, half: str, way: int) -> Iterator[InnerLine]:
    """The slit for a gore and the waist; `way` is −1 above the shoulder fold."""
    end, x = block.length, block.width / 2
    if half in block.middles:
        top = Point(0.0, way * block.middle_depth)
        yield InnerLine(f"{half} slit", Path.through(top, Point(0.0, way * end)), "slit")
    prefix = f"{half} " if block.folded else ""
    if block.waist < block.length:
        y = way * block.waist
        yield InnerLine(f"{prefix}waist", Path.through(Point(-x, y), Point(x, y)), "level")


def _down(chain: Chain, prefix: str, x: float) -> list[Edge]:
    edges, y = [], 0.0
    for name, length in chain:
        edges.append(_line(f"{prefix}{name}", Point(x, y), Point(x, y + length)))
        y += length
    return edges


def _up(chain: Chain, prefix: str, x: float) -> list[Edge]:
    return [Edge(edge.name, edge.path.reversed()) for edge in reversed(_down(chain, prefix, x))]


def _chain_notches(block: Block, prefix: str, at_end: bool) -> Iterator[Notch]:
    """Where one edge of a side ends and the next begins."""
    if not block.sleeve:
        yield Notch(f"{prefix}side", block.armhole, "armhole", from_end=at_end)
    for name, _ in side_chain(block)[1:]:
        label = name if name != "side" else "side panel" if block.side_panel else "side seam"
        yield Notch(f"{prefix}{name}", 0.0, label, from_end=at_end)


def _allowances(
    edges: list[Edge], seam: Allowance, hem: Allowance, *hems: str
) -> dict[str, Allowance]:
    """`hems` names the edges that are hemmed, `hem` where none is named."""
    return {edge.name: hem if edge.name in (hems or ("hem",)) else seam for edge in edges}


def _line(name: str, a: Point, b: Point) -> Edge:
    return Edge(name, Path((Line(a, b),)))
