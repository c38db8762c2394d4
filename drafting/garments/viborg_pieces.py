"""The Viborg shirt's pieces and seams: the upper body and its lining, the skirts, and the neck's band."""

from dataclasses import dataclass, replace
from functools import cached_property
from itertools import pairwise

from ..geometry import Allowance, Edge, Outline, Path, Point
from ..pattern import Hang, InnerLine, Notch, Piece, Seam, SeamEdge
from .body_block import Block
from .body_seams import Parts, block_parts
from .neck import Neck
from .options import Options
from .shapes import rectangle

BAND, BAND_SEAM = 12.0, 6.0
"""mm: the neck's band when folded, and its allowance. common practice, no source."""

FROM_EDGES = 20.0
"""mm that the rows keep from the body's edges, where seams are felled. common practice, no source."""


class SquareNeck(Neck):
    """A neck hole of four straight edges; the slit runs on down the square's edge on the wearer's left."""

    @cached_property
    def front(self) -> Path:
        return self._three_edges(self.front_depth)

    @cached_property
    def back(self) -> Path:
        return self._three_edges(self.back_depth)

    def _three_edges(self, depth: float) -> Path:
        a = self.half_width
        return Path.through(Point(-a, 0), Point(-a, depth), Point(a, depth), Point(a, 0))

    def cuts(self) -> tuple[InnerLine, ...]:
        a, low, high = self.half_width, self.front_depth, -self.back_depth
        hole = Path.through(Point(a, low), Point(a, high), Point(-a, high), Point(-a, low), Point(a, low))
        slit = Path.through(Point(a, low), Point(a, self.lowest))
        return InnerLine("neck", hole, "hole", "neck"), InnerLine("neck slit", slit, "slit")


@dataclass(frozen=True)
class Shirt:
    """`whole` is the body block as if uncut, `top` its upper body; `asked` what the block was asked. mm."""

    asked: Options
    whole: Block
    top: Block
    lap: float
    skirt: float


def shirt_parts(shirt: Shirt, options: Options) -> Parts:
    parts, width = block_parts(shirt.top, shirt.asked), options["seam_allowance"]
    body = _body(parts.pieces[0], Allowance(width))
    rows = rows_of_quilting(shirt, options)
    lining = replace(
        body, name="body lining", title="body lining", roles={}, faces={}, notches=(),
        inner_lines=(*(replace(line, role=None) for line in body.inner_lines
                       if line.kind in ("hole", "fold")), *rows))
    body = replace(body, inner_lines=(*body.inner_lines, *rows))
    quilted = Seam("quilting", tuple(SeamEdge(lining.name, row.name) for row in rows),
                   tuple(SeamEdge(body.name, row.name) for row in rows), 0.0, treatment="quilted", order=-1)
    band = _band(shirt, options)
    bound = Seam("neck band", (SeamEdge("neck band", "neck"),), (SeamEdge("body", "neck"),), BAND_SEAM,
                 stitch="back", treatment="bound", order=40)
    laps = [Seam(f"{side} lap of the skirts", (SeamEdge("skirt", f"{drawn} lap", 1),),
                 (SeamEdge("skirt", f"{side} lap", 2),), width, treatment="layered", order=78)
            for side, drawn in (("left", "right"), ("right", "left"))]
    # The back skirt's laps lie under the front one's, and go with them.
    hung = (*(SeamEdge("skirt", name, 1) for name in ("left lap", "waist", "right lap")),
            SeamEdge("skirt", "waist", 2))
    around = (SeamEdge("body", "front waist"), SeamEdge("body", "back waist"))
    waist = Seam("skirts to the waist", hung, around, width, order=80)
    return Parts((body, lining, *parts.pieces[1:], _skirt(shirt, options), band),
                 (quilted, *parts.seams, bound, *laps, waist))


def _body(plain: Piece, seam: Allowance) -> Piece:
    """The block's upper body, whose lower edges are sewn to the skirts."""
    edges = tuple(Edge(edge.name.replace(" hem", " waist"), edge.path) for edge in plain.outline.edges)
    return replace(
        plain,
        outline=Outline(edges),
        allowances={edge.name: seam for edge in edges} | {"neck": Allowance(BAND_SEAM)},
        hangs=(),
    )


def rows_of_quilting(shirt: Shirt, options: Options) -> tuple[InnerLine, ...]:
    """Across the body below the neck, front and back, and one over each shoulder."""
    top, reach = shirt.top, shirt.top.width / 2 - FROM_EDGES
    end, beside = top.length - FROM_EDGES, (top.neck.half_width + top.width / 2) / 2
    paths = [Path.through(Point(x, -end), Point(x, end)) for x in (-beside, beside)]
    for way, start in ((1, top.neck.lowest), (-1, top.neck.back_depth)):
        count = int((end - start) // options["row_spacing"])
        paths += [Path.through(Point(-reach, way * y), Point(reach, way * y))
                  for y in (end - n * options["row_spacing"] for n in range(count))]
    return tuple(InnerLine(f"row {n}", path, "row") for n, path in enumerate(paths, 1))


def _skirt(shirt: Shirt, options: Options) -> Piece:
    width, lap = shirt.top.width + shirt.lap, shirt.lap
    at = [Point(x, 0.0) for x in (0.0, lap, width - lap, width)]
    right, left = Point(width, shirt.skirt), Point(0.0, shirt.skirt)
    names = ("left lap", "waist", "right lap", "right edge", "hem", "left edge")
    corners = (*at, right, left, at[0])
    outline = Outline(tuple(Edge(name, Path.through(a, b))
                            for name, (a, b) in zip(names, pairwise(corners), strict=True)))
    top = Path.through(at[0], at[-1])
    seam, hem = Allowance(options["seam_allowance"]), Allowance(2 * options["hem_depth"], fold=True)
    return Piece(
        name="skirt",
        title="skirt",
        outline=outline,
        allowances={name: hem if name in ("left edge", "right edge", "hem") else seam for name in names},
        cut=2,
        copies=("front skirt", "back skirt"),
        notches=tuple(mark for side in ("left", "right") for mark in (
            Notch(f"{side} lap", lap / 2, "side seam"),
            Notch("waist", 0.0, "end of the other skirt", from_end=side == "right"))),
        hangs=(Hang("hem", top, shirt.skirt, shirt.top.length),),
    )


def _band(shirt: Shirt, options: Options) -> Piece:
    """Round the neck, going on in a tie at either end."""
    girth, tie = shirt.top.neck.girth, options["tie_length"]
    length = girth + 2 * tie
    across = rectangle(2 * BAND, length, ("one end", "long", "other end", "inside"))
    parts = [("one tie", 0.0, tie), ("neck", tie, tie + girth), ("other tie", tie + girth, length)]
    edges = [edge for whole in across.edges for edge in (
        [Edge(name, Path.through(Point(2 * BAND, a), Point(2 * BAND, b))) for name, a, b in parts if b > a]
        if whole.name == "long" else [whole])]
    return Piece(
        name="neck band",
        title="neck band",
        outline=Outline(tuple(edges)),
        allowances={edge.name: Allowance(BAND_SEAM) for edge in edges},
        inner_lines=(InnerLine("fold", Path.through(Point(BAND, 0), Point(BAND, length))),),
        roles={"neck": "neck"},
    )
