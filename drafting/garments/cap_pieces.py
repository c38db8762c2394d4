"""The cap's pieces and seams: the cap spread out, its back edges, and its ties."""

from math import pi

from ..geometry import Allowance, Arc, Edge, Line, Outline, Path, Point
from ..pattern import Attachment, InnerLine, Piece, SchematicPlace, Seam, SeamEdge
from .options import Options
from .shapes import rectangle

TIE_CUT_WIDTH = 30.0
TIE_JOINT = 15.0
"""mm: the strip that a tie is folded from, and what of it is sewn down inside the corner. common
practice, no source."""


def cap_piece(options: Options) -> Piece:
    """Spread out, seen from outside, the front edge at the foot: the wearer's left is on the right."""
    half, depth = options["front_edge"] / 2, options["depth"]
    start, edges = _back_edges(options, half)
    hem, seam = Allowance(2 * options["hem_depth"], fold=True), Allowance(options["seam_allowance"])
    lower_left, lower_right = Point(half, depth), Point(-half, depth)
    left, right = edges, [Edge(edge.name.replace("left", "right"),
                               edge.path.moved(lambda p: Point(-p.x, p.y)).reversed())
                          for edge in reversed(edges)]
    return Piece(
        name="cap",
        title="cap",
        outline=Outline((
            *left,
            Edge("left side", Path.through(Point(half, 0), lower_left)),
            Edge("front", Path.through(lower_left, lower_right)),
            Edge("right side", Path.through(lower_right, Point(-half, 0))),
            *right,
        )),
        allowances={
            **{edge.name: seam for edge in (*left, *right)},
            **{name: hem for name in ("left side", "front", "right side")},
        },
        inner_lines=(InnerLine("fold over the crown", Path.through(start, Point(0, depth))),),
        # Beside the fold, where both can be read.
        grain=(Point(half / 2, depth / 4), Point(half / 2, depth * 0.8)),
        faces={"back left": "back", "back right": "back"},
    )


def _back_edges(options: Options, half: float) -> tuple[Point, list[Edge]]:
    """Where the fold ends at the back, and the edges from there out to the left corner."""
    size, corner = options["rounding"], Point(half, 0)
    if options.is_("back", "plain"):
        return Point(0, 0), [Edge("back left", Path.through(Point(0, 0), corner))]
    start = Point(0, size)
    if options.is_("back", "shaped"):
        arc = Arc(Point(size, size), size, pi, pi / 2)
        return start, [Edge("back left", Path((arc, Line(Point(size, 0), corner))))]
    foot = Point(size / 2, 0)
    return start, [Edge("dart left", Path.through(start, foot)),
                   Edge("back left", Path.through(foot, corner))]


def back_seam(options: Options, name: str, edge: str, order: int = 0) -> Seam:
    return Seam(name, (SeamEdge("cap", f"{edge} left"),), (SeamEdge("cap", f"{edge} right"),),
                options["seam_allowance"], order=order)


def tie_piece(options: Options) -> Piece:
    length = options["tie_length"]
    fold = Path.through(Point(TIE_CUT_WIDTH / 2, 0), Point(TIE_CUT_WIDTH / 2, length))
    return Piece(
        name="tie",
        title="tie",
        outline=rectangle(TIE_CUT_WIDTH, length, ("end", "right", "other end", "left")),
        allowances={"end": Allowance(TIE_JOINT), "other end": Allowance(TIE_JOINT)},
        cut=2,
        copies=("left tie", "right tie"),
        inner_lines=(InnerLine("fold", fold),),
    )


def tie_ends(options: Options) -> tuple[Attachment, ...]:
    # The wearer's left is where the front edge starts.
    return (
        Attachment("left tie to the jaw", "tie", 1, SeamEdge("cap", "front"), 0.0),
        Attachment("right tie to the jaw", "tie", 2, SeamEdge("cap", "front"),
                   options["front_edge"]),
    )


def schematic(options: Options, tied: bool) -> tuple[SchematicPlace, ...]:
    """The cap spread out, the ties hanging from its front corners."""
    cap = (SchematicPlace("cap", 1, 0.0, 0.0),)
    if not tied:
        return cap
    half, below = options["front_edge"] / 2, options["depth"] + 20.0
    ties = (
        SchematicPlace("tie", 1, half - TIE_CUT_WIDTH, below), SchematicPlace("tie", 2, -half, below),
    )
    return (*cap, *ties)
