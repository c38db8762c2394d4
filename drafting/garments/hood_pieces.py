"""The hood's shape, and its pieces and seams in one layer of cloth or two."""

from dataclasses import replace
from math import pi

from ..geometry import Allowance, Arc, Cubic, Edge, Line, Outline, Path, Point
from ..pattern import Half, Hang, InnerLine, Piece, Seam, SeamEdge
from .gore import Gores
from .hood_shape import LAP_SWING, HoodShape, SetGore

ROUNDING = 0.4
TAIL_TIP = 0.5
"""Radius of a rounded crown over the panel's smaller side, and a tail's width at its tip over that at
its root. common practice, no source."""


def hood_layer(shape: HoodShape, cloth: str) -> tuple[list[Piece], list[Seam]]:
    """The panels and gores of one layer, and the seams that make it up."""
    seams = _panel_seams(shape, cloth)
    pieces = [_panel(shape, cloth)]
    for gore in shape.gores:
        gores = gore.gores(cloth)
        pieces.append(_gore_piece(shape, gore, gores, cloth))
        for index in range(len(gores.titles)):
            seams += gores.seams(index, *_filled(gore, gores, cloth, index), shape.seam)
    return pieces, seams


def _name(cloth: str) -> str:
    return "panel" if cloth == "main" else "lining panel"


def _copy(cloth: str, side: str) -> int:
    """Drawn from outside, the first panel is the left; the lining's right side faces inwards."""
    return 1 if (side == "left") == (cloth == "main") else 2


def _both(cloth: str, edge: str) -> tuple[SeamEdge, SeamEdge]:
    """An edge of the left and of the right panel."""
    return (SeamEdge(_name(cloth), edge, _copy(cloth, "left")),
            SeamEdge(_name(cloth), edge, _copy(cloth, "right")))


def _filled(
    gore: SetGore, gores: Gores, cloth: str, index: int
) -> tuple[tuple[SeamEdge, ...], tuple[SeamEdge, ...]]:
    """The panels' edges that the gore's two sides, in the order of `gores.sides`, are sewn to."""
    if gore.slit:
        slit = (SeamEdge(_name(cloth), gore.name.replace("gore", "slit"), index + 1),)
        return slit, slit
    lower = "front lower" if gore.name == "front gore" else "back lower"
    left, right = _both(cloth, lower)
    return ((left,), (right,)) if gores.sides[0] == "left" else ((right,), (left,))


def _edge_allowance(shape: HoodShape) -> Allowance:
    return Allowance(shape.seam) if shape.lined else Allowance(shape.hem, fold=True)


def _panel(shape: HoodShape, cloth: str) -> Piece:
    """The left side seen from outside, the face to the left."""
    depth, neck, hem_at = shape.depth, shape.height, shape.height + shape.cape
    seam, edge = Allowance(shape.seam), _edge_allowance(shape)
    edges = [
        *_crown_edges(shape, cloth),
        Edge("back lower", Path.through(Point(depth, neck), Point(depth, hem_at))),
        Edge("hem", Path.through(Point(depth, hem_at), Point(-shape.overlap, hem_at))),
        *_front_edges(shape),
    ]
    free = ("hem", "face", "front")
    name = _name(cloth)
    sides = ("left", "right") if cloth == "main" else ("right", "left")
    level = Path.through(Point(-shape.overlap, neck), Point(depth, neck))
    names = {edge.name for edge in edges} | {slit.name for slit in _slits(shape)}
    return Piece(
        name=name,
        title="side panel" if cloth == "main" else "lining side panel",
        outline=Outline(tuple(edges)),
        allowances={e.name: edge if e.name in free else seam for e in edges} | _comb_end(shape, edge),
        cut=2,
        mirrored=True,
        copies=tuple(f"{side} {name}" for side in sides),
        inner_lines=(InnerLine("neck", level, "level"), *_comb_line(shape), *_slits(shape)),
        hangs=(Hang("hem", level, shape.cape),),
        cloth=cloth,
        faces={name: half for name, half in _PANEL_FACES.items() if name in names},
    )


_PANEL_FACES: dict[str, Half] = {
    "back": "back", "back lower": "back", "front": "front", "front lower": "front", "front slit": "front",
}
"""Those of a side panel's edges and slits that are on one half; which of them there are, the shape says."""


def _comb_end(shape: HoodShape, edge: Allowance) -> dict[str, Allowance]:
    """A lining stops short of the comb, whose end is turned in by itself."""
    return {"comb end": Allowance(edge.width, fold=True)} if shape.comb else {}


def _comb_line(shape: HoodShape) -> tuple[InnerLine, ...]:
    path = Path.through(Point(0, 0), Point(shape.depth, 0))
    return (InnerLine("comb", path, "level"),) if shape.comb else ()


def _crown_edges(shape: HoodShape, cloth: str) -> list[Edge]:
    """From the top of the face over the crown and down the back to the neck."""
    depth, neck = shape.depth, shape.height
    face_top, corner, nape = Point(0, -shape.comb), Point(depth, -shape.comb), Point(depth, neck)
    if shape.rounded:
        r = ROUNDING * min(depth, neck)
        arc = Arc(Point(depth - r, r), r, -pi / 2, pi / 2)
        return [Edge("crown", Path((Line(face_top, arc.start), arc, Line(arc.end, nape))))]
    top = Edge("top", Path.through(face_top, corner))
    if not shape.tail or cloth == "lining":
        return [top, Edge("back", Path.through(corner, nape))]
    under_tail = Point(depth, shape.tail_width)
    return [top, Edge("mouth", Path.through(corner, under_tail)),
            Edge("back", Path.through(under_tail, nape))]


def _front_edges(shape: HoodShape) -> list[Edge]:
    """From the hem up to the top of the face, and of the comb above it."""
    comb = [Edge("comb end", Path.through(Point(0, 0), Point(0, -shape.comb)))] if shape.comb else []
    return [*_face_edges(shape), *comb]


def _face_edges(shape: HoodShape) -> list[Edge]:
    face_top, chin = Point(0, 0), Point(0, shape.face)
    neck, hem = Point(0, shape.height), Point(0, shape.height + shape.cape)
    if not shape.overlap:
        closed = [Edge("chin", Path.through(neck, chin))] if neck.y - chin.y > 0.05 else []
        end = chin if closed else neck
        return [Edge("front lower", Path.through(hem, neck)), *closed,
                Edge("face", Path.through(end, face_top))]
    # From the lap's corner the edge swings in to the chin, upright at both ends.
    out = shape.overlap
    corner, reach = Point(-out, shape.face + LAP_SWING * out), LAP_SWING / 2 * out
    swing = Cubic(corner, corner - Point(0, reach), chin + Point(0, reach), chin)
    return [Edge("front", Path.through(Point(-out, hem.y), corner)),
            Edge("face", Path((swing, Line(chin, face_top))))]


def _slits(shape: HoodShape) -> tuple[InnerLine, ...]:
    """From the hem up, under the middle of the shoulder and on the line where closed fronts meet."""
    across = {"front gore": 0.0, "shoulder gore": shape.depth / 2}
    hem = shape.height + shape.cape
    return tuple(
        InnerLine(gore.name.replace("gore", "slit"),
                  Path.through(Point(across[gore.name], hem), Point(across[gore.name],
                                                                    hem - gore.length)), "slit")
        for gore in shape.gores
        if gore.slit
    )


def _gore_piece(shape: HoodShape, gore: SetGore, gores: Gores, cloth: str) -> Piece:
    seam, edge = Allowance(shape.seam), _edge_allowance(shape)
    piece = gores.piece(seam, edge, below=gore.below, cloth=cloth)
    return _squared(piece, gore.length, gores.sides) if shape.square_gores else piece


def _squared(piece: Piece, side: float, sides: tuple[str, str]) -> Piece:
    """A square in the wedge's place, its apex the corner at (0, 0); the hem is the two sides away
    from that, and hangs in a point."""
    apex, right, foot, left = Point(0, 0), Point(side, 0), Point(side, side), Point(0, side)
    outline = Outline((
        Edge(sides[1], Path.through(apex, right)),
        Edge("hem", Path.through(right, foot, left)),
        Edge(sides[0], Path.through(left, apex)),
    ))
    return replace(piece, outline=outline, hangs=(), grain=None)


def _panel_seams(shape: HoodShape, cloth: str) -> list[Seam]:
    """The two panels to each other."""
    prefix = "" if cloth == "main" else "lining "

    def seam(name: str, edge: str, order: int = 0) -> Seam:
        left, right = _both(cloth, edge)
        return Seam(prefix + name, (left,), (right,), shape.seam, order=order)

    if shape.rounded:
        seams = [seam("crown and back", "crown", 1)]
    else:
        seams = [seam("crown", "top", 1), seam("back", "back", 1)]
    if shape.comb:
        left, right = _both(cloth, "comb")
        seams.append(Seam("comb", (left,), (right,), 0.0, treatment="ridge", order=3))
    if not shape.overlap and shape.height - shape.face > 0.05:
        seams.append(seam("under the chin", "chin"))
    return seams


def lining_seams(shape: HoodShape) -> list[Seam]:
    """The lining felled to the hood round the face and along the hem."""
    def felled(where: str, inner: tuple[SeamEdge, ...], outer: tuple[SeamEdge, ...]) -> Seam:
        return Seam(f"lining, {where}", inner, outer, shape.seam, stitch="fell",
                    treatment="felled lining", order=2)

    seams = [felled("face", _both("lining", "face"), _both("main", "face"))]
    if shape.overlap:
        left, right = zip(_both("lining", "front"), _both("main", "front"), strict=True)
        seams += [felled("left front", *((edge,) for edge in left)),
                  felled("right front", *((edge,) for edge in right))]
    return [*seams, felled("hem", _hems(shape, "lining"), _hems(shape, "main"))]


def _hems(shape: HoodShape, cloth: str) -> tuple[SeamEdge, ...]:
    gores = (gore.gores(cloth) for gore in shape.gores)
    return (*_both(cloth, "hem"), *(
        SeamEdge(each.name, "hem", index + 1) for each in gores for index in range(len(each.titles))
    ))


def tail_piece(shape: HoodShape) -> Piece:
    """One strip, folded lengthwise: the root at the head of the page."""
    root, tip = shape.tail_width, shape.tail_width * TAIL_TIP
    seam = Allowance(shape.seam)
    a, b = Point(-root, 0), Point(root, 0)
    c, middle, d = Point(tip, shape.tail), Point(0, shape.tail), Point(-tip, shape.tail)
    edges = (
        Edge("root", Path.through(a, b)), Edge("right", Path.through(b, c)),
        Edge("right tip", Path.through(c, middle)), Edge("left tip", Path.through(middle, d)),
        Edge("left", Path.through(d, a)),
    )
    return Piece(
        name="tail",
        title="tail",
        outline=Outline(edges),
        allowances={edge.name: seam for edge in edges},
        inner_lines=(InnerLine("fold", Path.through(Point(0, 0), middle)),),
    )


def tail_seams(shape: HoodShape) -> list[Seam]:
    """The tail sewn to a tube, its end closed, and its root to the panels."""
    def own(name: str, a: str, b: str) -> Seam:
        return Seam(name, (SeamEdge("tail", a),), (SeamEdge("tail", b),), shape.seam)

    return [
        own("tail", "left", "right"),
        own("end of the tail", "left tip", "right tip"),
        Seam("tail to the hood", (SeamEdge("tail", "root"),), _both("main", "mouth"), shape.seam,
             order=2),
    ]
