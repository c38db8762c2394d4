"""The cloak's shapes, and its pieces and seams in one layer of cloth or two."""

from collections.abc import Sequence
from math import degrees, pi

from ..geometry import Allowance, Path, Point, polar
from ..pattern import Attachment, InnerLine, LineRole, Notch, Piece, SchematicPlace, Seam, SeamEdge
from .cloak_shape import Sector, Sheet, free_edge
from .options import Options
from .schematic import GAP, below
from .shapes import rectangle, ring_sector
from .strips import band, loop_strip

BINDING_WIDTH = 10.0
LOOP_CUT_WIDTH, LOOP_LENGTH, LOOP_JOINT = 30.0, 100.0, 20.0
"""mm. common practice, no source."""


def _piece_name(shape: Sector | Sheet, cloth: str) -> str:
    part = "quarter" if isinstance(shape, Sector) else "width"
    name = "cloak" if shape.parts == 1 else part
    return name if cloth == "main" else f"lining {name}"


def layer_piece(options: Options, shape: Sector | Sheet, cloth: str) -> Piece:
    """The straight edge that is the wearer's right front lies up the page, the neck on the left.

    The lining is the mirror image: its right side faces inwards.
    """
    first, last = ("right", "left") if cloth == "main" else ("left", "right")
    name = _piece_name(shape, cloth)
    fold = options.is_("lining", "none")
    seam, edge = Allowance(options["seam_allowance"]), Allowance(free_edge(options), fold)
    roles: dict[str, LineRole] = {}
    if isinstance(shape, Sector):
        roles = {"hem": "hem", "neck": "neck"}
        front = edge if shape.parts == 1 else seam
        outline = ring_sector(shape.radius, shape.reach, shape.angle / shape.parts,
                              ("hem", last, "neck", first))
        # Bound, the neck is cut on its line: the binding folds over it.
        allowances = {"hem": edge, first: front, last: front}
    else:
        level = Allowance(0.0) if shape.selvedges else edge if shape.parts == 1 else seam
        outline = rectangle(shape.height / shape.parts, shape.width, (first, "bottom", last, "top"))
        allowances = {"top": level, "bottom": level, first: edge, last: edge}
    return Piece(
        name=name,
        title=name,
        outline=outline,
        allowances=allowances,
        cut=shape.parts,
        notches=_clasp_notches(shape, first, last) if cloth == "main" else (),
        inner_lines=_fold(shape) if cloth == "main" else (),
        cloth=cloth,
        roles=roles,
    )


def _clasp_notches(shape: Sector | Sheet, first: str, last: str) -> tuple[Notch, ...]:
    # One edge starts at the neck and the other ends there.
    label = "clasp" if shape.parts == 1 or isinstance(shape, Sheet) else "clasp, at the fronts only"
    if isinstance(shape, Sheet) and shape.parts > 1:
        label = "clasp, on the upper width only"
    return (Notch(first, shape.clasp, label), Notch(last, shape.clasp, label, True))


def _fold(shape: Sector | Sheet) -> tuple[InnerLine, ...]:
    """Where a rectangle is folded over at the neck, on the upper one of its widths."""
    if not isinstance(shape, Sheet) or not 0 < shape.folded < shape.height / shape.parts:
        return ()
    return (InnerLine("fold at the neck", Path.through(
        Point(shape.folded, 0.0), Point(shape.folded, shape.width)), "fold"),)


def _edges(shape: Sector | Sheet, cloth: str) -> dict[str, tuple[SeamEdge, ...]]:
    """The free edges of the whole cloak, each as the edges of its parts that make it up."""
    name = _piece_name(shape, cloth)

    def of_all(edge: str) -> tuple[SeamEdge, ...]:
        return tuple(SeamEdge(name, edge, copy) for copy in range(1, shape.parts + 1))

    if isinstance(shape, Sector):
        return {"right front": (SeamEdge(name, "right", 1),),
                "left front": (SeamEdge(name, "left", shape.parts),),
                "hem": of_all("hem"), "neck": of_all("neck")}
    return {"right front": of_all("right"), "left front": of_all("left"),
            "hem": (SeamEdge(name, "bottom", shape.parts),), "neck": (SeamEdge(name, "top", 1),)}


def joins(options: Options, shape: Sector | Sheet, cloth: str) -> list[Seam]:
    """The seams between the parts of one layer."""
    name = _piece_name(shape, cloth)
    selvedges = isinstance(shape, Sheet) and shape.selvedges
    one, other = ("left", "right") if isinstance(shape, Sector) else ("bottom", "top")
    return [
        Seam(
            f"{name} {copy} to {copy + 1}",
            (SeamEdge(name, one, copy),), (SeamEdge(name, other, copy + 1),),
            0.0 if selvedges else options["seam_allowance"],
            stitch="whip" if selvedges else "running",
            treatment="butted selvedges" if selvedges else "run-and-fell",
        )
        for copy in range(1, shape.parts)
    ]


def lining_seams(options: Options, shape: Sector | Sheet) -> list[Seam]:
    """The lining felled to the cloak along every edge, before the neck is bound."""
    inner, outer = _edges(shape, "lining"), _edges(shape, "main")
    return [
        Seam(f"lining, {side}", inner[side], outer[side], options["seam_allowance"],
             stitch="fell", treatment="felled lining", order=1)
        for side in outer
    ]


def binding(shape: Sector) -> Piece:
    return band("neck binding", shape.edge, BINDING_WIDTH, BINDING_WIDTH, ())


def bound_neck(shape: Sector) -> Seam:
    return Seam("neck binding to the neck", (SeamEdge("neck binding", "neck"),),
                _edges(shape, "main")["neck"], BINDING_WIDTH, stitch="back", treatment="bound", order=2)


def loop_piece() -> Piece:
    return loop_strip("loop", LOOP_LENGTH, LOOP_CUT_WIDTH, LOOP_JOINT, ("loop",))


def loop_end(shape: Sector | Sheet) -> tuple[Attachment, ...]:
    right_front = _edges(shape, "main")["right front"][0]
    return (Attachment("loop to the right front", "loop", 1, right_front, shape.clasp),)


def schematic(shape: Sector | Sheet, pieces: Sequence[Piece]) -> tuple[SchematicPlace, ...]:
    """The parts of the cloak spread out, round the neck or one width beside the other; its strips below."""
    name = _piece_name(shape, "main")
    copies = range(1, shape.parts + 1)
    if isinstance(shape, Sheet):
        step = shape.height / shape.parts + GAP
        placed = [SchematicPlace(name, copy, (copy - 1) * step, 0.0) for copy in copies]
    else:
        turn, away = shape.angle / shape.parts, GAP if shape.parts > 1 else 0.0
        placed = []
        for copy in copies:
            shift = polar(away, turn * (copy - 0.5) - pi / 2)
            placed.append(SchematicPlace(name, copy, shift.x, shift.y, degrees(turn * (copy - 1))))
    strips = [(piece.name, 1) for piece in pieces if piece.name in ("neck binding", "loop")]
    return (*placed, *below(placed, pieces, strips))
