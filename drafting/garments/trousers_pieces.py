"""The trousers' pieces and seams: a panel for each leg, the seat gusset, and loops for a belt."""

from math import sqrt

from ..geometry import Allowance, Cubic, Edge, Outline, Path, Point
from ..pattern import (
    HALVES,
    Attachment,
    InnerLine,
    Notch,
    Piece,
    SchematicPlace,
    Seam,
    SeamEdge,
)
from .legs import (
    Legs,
)
from .options import Options
from .schematic import GAP, below
from .sleeve import square_gusset
from .strips import loop_strip

LOOP_LENGTH, LOOP_WIDTH, LOOP_JOINT = 60.0, 40.0, 10.0
"""mm: a belt loop and the strip it is folded from. common practice, no source."""

TURN_UNDER = 10.0
"""mm turned under at a casing's edge. common practice, no source."""

LOOPS_AT = (0.12, 0.5, 0.88)
"""Parts of each leg's waist, from the back to the front, at which its belt loops sit. common practice, no
source."""


def trouser_pieces(options: Options, legs: Legs) -> tuple[Piece, ...]:
    seam = Allowance(options["seam_allowance"])
    gusset = square_gusset("seat gusset", legs.gusset,
                           ("left front", "left back", "right back", "right front"), seam,
                           ("seat gusset",), ("front", "back", "back", "front"))
    if not options.is_("waist", "belt-loops"):
        return _leg(options, legs, seam), gusset
    copies = tuple(f"belt loop {n}" for n in range(1, 2 * len(LOOPS_AT) + 1))
    loops = loop_strip("belt loop", LOOP_LENGTH, LOOP_WIDTH, LOOP_JOINT, copies)
    return _leg(options, legs, seam), gusset, loops


def _leg(options: Options, legs: Legs, seam: Allowance) -> Piece:
    """The right leg seen from outside, its front to the right; the left one is turned over."""
    reach, foot, taper = legs.width / 2, legs.gusset_foot, legs.taper
    hem = taper.end_edge.moved(lambda p: Point(p.x, p.y + foot))
    back_top, front_top = Point(-reach, 0.0), Point(reach, legs.drop)
    front_corner, back_corner = Point(reach, legs.back_rise), Point(-reach, legs.back_rise)
    front_foot, back_foot = Point(reach, foot), Point(-reach, foot)
    edges = (
        Edge("waist", Path((Cubic(back_top, back_top + Point(legs.width / 3, 0),
                                  front_top - Point(legs.width / 3, 0), front_top),))),
        Edge("front seam", Path.through(front_top, front_corner)),
        Edge("front gusset", Path.through(front_corner, front_foot)),
        Edge("front inseam", Path.through(front_foot, hem.start)),
        Edge("hem", hem),
        Edge("back inseam", Path.through(hem.end, back_foot)),
        Edge("back gusset", Path.through(back_foot, back_corner)),
        Edge("back seam", Path.through(back_corner, back_top)),
    )
    slit = options["ankle_slit"]
    return Piece(
        name="leg",
        title="leg",
        outline=Outline(edges),
        allowances={edge.name: seam for edge in edges} | {
            "waist": Allowance(options["casing"] + TURN_UNDER, fold=True, under=TURN_UNDER),
            "hem": Allowance(2 * options["hem_depth"], fold=True),
        },
        cut=2,
        mirrored=True,
        copies=("right leg", "left leg"),
        notches=(
            Notch("front gusset", 0.0, "gusset"),
            Notch("front inseam", 0.0, "inseam"),
            Notch("back gusset", 0.0, "gusset", from_end=True),
            Notch("back inseam", 0.0, "inseam", from_end=True),
            *((Notch("front seam", options["front_slit"], "slit"),) if options["front_slit"] else ()),
            *((Notch("front inseam", slit, "slit", from_end=True), Notch("back inseam", slit, "slit"))
              if slit else ()),
        ),
        inner_lines=(InnerLine("outside of the leg", Path.through(
            Point(0.0, legs.drop / 2), Point(0.0, foot + taper.length)), "level"),),
        roles={"waist": "waist", "hem": "hem"},
        faces={f"{half} {edge}": half
               for half in HALVES for edge in ("seam", "gusset", "inseam")},
    )


def trouser_seams(options: Options) -> tuple[Seam, ...]:
    width = options["seam_allowance"]

    def leg(edge: str, copy: int) -> tuple[SeamEdge, ...]:
        return (SeamEdge("leg", edge, copy),)

    seams = [
        Seam(f"{side} leg's {half} to seat gusset",
             (SeamEdge("seat gusset", f"{side} {half}"),), leg(f"{half} gusset", copy), width, order=10)
        for copy, side in ((1, "right"), (2, "left"))
        for half in ("front", "back")
    ]
    seams.append(Seam("front seam", leg("front seam", 1), leg("front seam", 2), width,
                      open_from_top=options["front_slit"], order=20))
    # Its edges run upwards; the back is left whole.
    seams.append(Seam("back seam", leg("back seam", 1), leg("back seam", 2), width, order=20))
    seams += [
        Seam(f"{side} inseam", leg("back inseam", copy), leg("front inseam", copy), width,
             open_from_top=options["ankle_slit"], order=30)
        for copy, side in ((1, "right"), (2, "left"))
    ]
    return tuple(seams)


def loop_ends(options: Options, pieces: tuple[Piece, ...]) -> tuple[Attachment, ...]:
    if not options.is_("waist", "belt-loops"):
        return ()
    length = pieces[0].outline["waist"].length
    places = [(copy, part * length) for copy in (1, 2) for part in LOOPS_AT]
    return tuple(
        Attachment(f"belt loop {n}", "belt loop", n, SeamEdge("leg", "waist", copy), at)
        for n, (copy, at) in enumerate(places, 1)
    )


def schematic(legs: Legs, pieces: tuple[Piece, ...]) -> tuple[SchematicPlace, ...]:
    """The legs side by side, fronts in the middle, the gusset between them."""
    x = legs.width / 2 + legs.gusset / sqrt(2) + GAP
    placed = (
        SchematicPlace("leg", 1, -x, 0.0),
        SchematicPlace("leg", 2, x, 0.0, mirrored=True),
        SchematicPlace("seat gusset", 1, 0.0, legs.back_rise, turn=45.0),
    )
    loops = [("belt loop", n) for piece in pieces if piece.name == "belt loop"
             for n in range(1, piece.cut + 1)]
    return (*placed, *below(placed, pieces, loops))
