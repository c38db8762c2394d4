"""The apron dress's panels, and the seams between them, in each of its styles.

Left and right are the wearer's; pieces show their outer side. So the front's left edge stands on the
right of the drawing, and the left side's front edge on the left of it.
"""

from dataclasses import replace

from ..geometry import Allowance, Edge, Outline, Path, Point
from ..pattern import Half, Hang, InnerLine, Notch, Piece, SchematicPlace, Seam, SeamEdge
from .apron_girths import SIXTH, THIRD, Tube
from .apron_opening import facing_seams, opened, opened_at, opening_facing
from .apron_straight import ROUND_THE_BODY, straight_panels, straight_seams
from .apron_tube import pleat_gap
from .gore import SLIT_TURN, Gore, Gores
from .growth_band import clear_of_the_hem, with_growth_tuck
from .options import Options
from .panels import Panel, WaistedPanel, WidenedPanel
from .schematic import GAP, below
from .straps import Places, strap_notches

STRAP_FROM_MIDDLE = 0.28
"""Of a third of the top girth, from the middle of front or back to a strap. common practice, no
source."""


def strap_places(options: Options, tube: Tube) -> Places:
    away = STRAP_FROM_MIDDLE * tube.top * THIRD
    if options.is_("style", "wrapped"):
        half, lap = tube.top / 2, options["wrap_overlap"]
        middle = half / 2
        # The laps lie at the wearer's left: the end of the front's top edge, the start of the back's.
        return {"front": (middle + away, middle - away),
                "back": (lap + middle - away, lap + middle + away)}
    third = tube.top * THIRD
    front, back = (third + tube.pleats) / 2, third / 2
    pleated_away = away + tube.pleats / 2
    return {"front": (front + pleated_away, front - pleated_away), "back": (back - away, back + away)}


def panels(options: Options, tube: Tube, opening: float) -> tuple[Piece, ...]:
    if options.is_("style", "wrapped"):
        return _wrapped(options, tube)
    if options.is_("style", "straight-panels"):
        made = straight_panels(tube, opening, options["scoop"], Allowance(options["seam_allowance"]),
                               _top(options), _hem(options))
        return tuple(_tucked(options, piece) if piece.hangs else piece for piece in made)
    return _four(options, tube, opening)


def panel_seams(options: Options, tube: Tube, opening: float) -> tuple[Seam, ...]:
    if options.is_("style", "wrapped"):
        return _wrapped_seams(options, tube)
    if options.is_("style", "straight-panels"):
        return straight_seams(tube, opening, options["seam_allowance"])
    return (*_pleat_seams(options), *_four_seams(options, opening))


def _top(options: Options) -> Allowance:
    return Allowance(2 * options["top_hem_depth"], fold=True)


def _hem(options: Options) -> Allowance:
    return Allowance(2 * options["hem_depth"], fold=True)


def _tucked(options: Options, piece: Piece) -> Piece:
    """The piece with its growth tuck, where one is asked for."""
    tuck = options["growth_tuck"]
    if not tuck:
        return piece
    (hang,) = piece.hangs
    return with_growth_tuck(piece, hang, clear_of_the_hem(tuck), tuck)


def _four(options: Options, tube: Tube, opening: float) -> tuple[Piece, ...]:
    seam = Allowance(options["seam_allowance"])
    back, side = tube.panel(THIRD), tube.panel(SIXTH)
    front: Panel = back
    if tube.pleats:
        front = WidenedPanel.of(tube.panel(THIRD, less_hem=tube.pleats), tube.pleats)
    level = "waist" if tube.waist_depth else "top level"
    straps = {name: strap_notches(options, at) for name, at in strap_places(options, tube).items()}

    def piece(name: str, shape: Panel, left: str, right: str, half: Half | None = None) -> Piece:
        return _tucked(options, Piece(
            name=name,
            title=name,
            outline=shape.outline(left, right, options["scoop"] if name == "side" else 0.0),
            allowances={"top": _top(options), left: seam, right: seam, "hem": _hem(options)},
            inner_lines=(InnerLine(level, shape.level, "level"),),
            hangs=(Hang("hem", shape.level, shape.hem_length),),
            half=half,
        ))

    def waist(edge: str, from_end: bool = False) -> tuple[Notch, ...]:
        return (Notch(edge, tube.waist_depth, "waist", from_end),) if tube.waist_depth else ()

    front_piece = piece("front", front, "right", "left", "front")
    front_piece = replace(
        front_piece, inner_lines=(*front_piece.inner_lines, *_pleat_lines(options, tube, front)),
        notches=(*waist("left"), *waist("right", True), *straps["front"]))
    back_piece = replace(piece("back", back, "left", "right", "back"),
                         notches=(*waist("right"), *waist("left", True), *straps["back"]))
    side_piece = replace(
        piece("side", side, "front", "back"), cut=2, mirrored=True, copies=("left side", "right side"),
        faces={"front": "front", "back": "back"}, notches=(*waist("back"), *waist("front", True)))
    if not opening:
        return front_piece, back_piece, side_piece
    front_piece = opened_at(front_piece, "left", opening)
    return (front_piece, back_piece, opened_at(side_piece, "front", opening),
            opening_facing(front_piece.line(opened("left")).length, seam, _top(options)))


def _pleat_lines(options: Options, tube: Tube, front: Panel) -> tuple[InnerLine, ...]:
    """For each pleat the two lines that are sewn together, 2 × its depth apart, and the fold between.

    They lie evenly over the pleated part, and end at the waist.
    """
    if not tube.pleats:
        return ()
    depth, count, gap = options["pleat_depth"], options.count("pleat_count"), pleat_gap(
        tube, options.count("pleat_count")
    )
    start = -((count - 1) * gap + tube.pleats) / 2
    top = front.top_edge()

    def down(x: float) -> Path:
        head = _on(top, x)
        return Path.through(head, head + Point(0, tube.pleat_length))

    lines: list[InnerLine] = []
    for i in range(count):
        x, name = start + i * (gap + 2 * depth), f"pleat {i + 1}"
        lines += [
            InnerLine(f"{name}, right", down(x), "tuck"),
            InnerLine(f"{name}, fold", down(x + depth), "fold"),
            InnerLine(f"{name}, left", down(x + 2 * depth), "tuck"),
        ]
    return tuple(lines)


def _on(path: Path, x: float) -> Point:
    """The point of a path that runs from left to right at `x`."""
    points = path.points()
    for a, b in zip(points, points[1:], strict=False):
        if a.x <= x <= b.x and b.x > a.x:
            return a.towards(b, (x - a.x) / (b.x - a.x))
    raise ValueError(f"the path does not pass {x:.1f}")


def _pleat_seams(options: Options) -> tuple[Seam, ...]:
    if not options.is_("style", "pleated"):
        return ()
    return tuple(
        Seam(f"pleat {i}", (SeamEdge("front", f"pleat {i}, right"),),
             (SeamEdge("front", f"pleat {i}, left"),), 0.0, treatment="pleat")
        for i in range(1, options.count("pleat_count") + 1)
    )


def _four_seams(options: Options, opening: float) -> tuple[Seam, ...]:
    def seam(name: str, a: SeamEdge, *b: SeamEdge) -> Seam:
        return Seam(name, (a,), b, options["seam_allowance"])

    left, right = 1, 2
    both_parts = ("front", opened("front")) if opening else ("front",)
    return (
        seam("front to left side", SeamEdge("front", "left"), SeamEdge("side", "front", left)),
        seam("front to right side", SeamEdge("front", "right"),
             *(SeamEdge("side", part, right) for part in both_parts)),
        seam("back to left side", SeamEdge("back", "left"), SeamEdge("side", "back", left)),
        seam("back to right side", SeamEdge("back", "right"), SeamEdge("side", "back", right)),
        *(facing_seams(options["seam_allowance"], SeamEdge("front", opened("left")),
                       SeamEdge("side", opened("front"), left)) if opening else ()),
    )


def side_gores(tube: Tube) -> tuple[Gores, Gores]:
    """A wrapped dress's right and left gore: one between front and back, one in a slit of the back.

    The slit's own edges are turned in, so its gore is that much wider.
    """
    length, width = tube.below_waist, (tube.hem - tube.waist) / 2
    return (Gores("right gore", Gore(length, width), ("back", "front"), ("right gore",)),
            Gores("left gore", Gore(length, width + 2 * SLIT_TURN), ("front", "back"),
                  ("left gore",)))


def _wrapped(options: Options, tube: Tube) -> tuple[Piece, ...]:
    """Front and back are half of the girth each, and reach past the left side line to lap."""
    lap, seam = options["wrap_overlap"], Allowance(options["seam_allowance"])
    narrow = WaistedPanel(tube.top / 2, tube.waist / 2, tube.waist / 2, tube.waist_depth,
                          tube.below_waist, tube.rounding)
    shape = WidenedPanel.of(narrow, lap)
    places = strap_places(options, tube)
    # On the back, seen from behind, the lap is the strip along the drawing's left.
    side_line = -(tube.waist / 2 + lap) / 2 + lap
    foot = shape.line_below(shape.hem_length).end.y  # a hair above its depth: the bent side takes it up
    slit = Path.through(Point(side_line, foot), Point(side_line, foot - tube.below_waist))

    def piece(half: Half, outline: Outline, more: tuple[InnerLine, ...] = ()) -> Piece:
        return _tucked(options, Piece(
            name=half,
            title=half,
            outline=outline,
            allowances={"top": _top(options), "hem": _hem(options), "left": _hem(options),
                        "right upper": seam, "right lower": seam},
            inner_lines=(InnerLine("waist", shape.level, "level"), *more),
            notches=strap_notches(options, places[half]),
            hangs=(Hang("hem", shape.level, shape.hem_length),),
            half=half,
        ))

    right, left = side_gores(tube)
    return (
        piece("front", _right_side_split(shape.outline("right", "left"), tube)),
        piece("back", _right_side_split(shape.outline("left", "right"), tube),
              (InnerLine("left slit", slit, "slit"),)),
        *(_gore_piece(options, gores) for gores in (right, left)),
    )


def _right_side_split(outline: Outline, tube: Tube) -> Outline:
    """The outline with its edge `right` parted at the waist."""
    edges: list[Edge] = []
    for edge in outline.edges:
        if edge.name != "right":
            edges.append(edge)
        elif edge.path.start.y < edge.path.end.y:
            upper, lower = edge.path.cut_at(tube.waist_depth)
            edges += [Edge("right upper", upper), Edge("right lower", lower)]
        else:
            lower, upper = edge.path.cut_at(tube.below_waist)
            edges += [Edge("right lower", lower), Edge("right upper", upper)]
    return Outline(tuple(edges))


def _gore_piece(options: Options, gores: Gores) -> Piece:
    piece = gores.piece(Allowance(options["seam_allowance"]), _hem(options))
    return _tucked(options, piece)


def _wrapped_seams(options: Options, tube: Tube) -> tuple[Seam, ...]:
    allowance = options["seam_allowance"]
    right, left = side_gores(tube)
    slit = (SeamEdge("back", "left slit"),)
    return (
        Seam("right side", (SeamEdge("front", "right upper"),), (SeamEdge("back", "right upper"),),
             allowance),
        *right.seams(0, (SeamEdge("back", "right lower"),), (SeamEdge("front", "right lower"),),
                     allowance),
        *left.seams(0, slit, slit, allowance),
    )


def schematic(options: Options, pieces: tuple[Piece, ...]) -> tuple[SchematicPlace, ...]:
    """The panels round the body from the left side to the right and back again, the straps below.

    Levels stand in one line, so the gores hang from the waist.
    """
    order: tuple[tuple[str, int], ...] = (("back", 1), ("side", 2), ("front", 1), ("side", 1))
    if options.is_("style", "wrapped"):
        order = (("left gore", 1), ("back", 1), ("right gore", 1), ("front", 1))
    if options.is_("style", "straight-panels"):
        order = ROUND_THE_BODY
    by_name = {piece.name: piece for piece in pieces}
    x, placed = 0.0, []
    for name, copy in order:
        left, _, right, _ = by_name[name].outline.bounds
        turned = by_name[name].mirrored and copy == 2
        placed.append(SchematicPlace(name, copy, x + (right if turned else -left), 0.0, mirrored=turned))
        x += right - left + GAP
    strips = [(piece.name, copy) for piece in pieces if not piece.hangs
              for copy in range(1, piece.cut + 1)]
    return (*placed, *below(placed, pieces, strips))
