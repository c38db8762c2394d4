"""Hose and footed stockings: each leg a tube cut on the bias, its seam behind, with an upper and a sole."""

from collections.abc import Iterator
from math import degrees, pi

from ..body import Body
from ..geometry import Allowance, Arc, Edge, Line, Outline, Path, Point
from ..pattern import Clearance, Pattern, Piece, Remedy, SchematicPlace, Seam, SeamEdge
from ..words.wording import said
from .drafted import drafted
from .fit import room
from .garment import Garment
from .hands_and_feet import foot_girth, foot_length
from .hose_shape import Hose, down_the_back, hose_for, slant
from .options import ChoiceOption, Chosen, LengthOption, Options
from .schematic import GAP

BIAS = pi / 4
LEAST_OVER_THE_HEEL, USUAL_OVER_THE_HEEL = 5.0, 15.0
_FOOTED = (Chosen("foot", ("footed",)),)

OPTIONS = (
    ChoiceOption("reach", "Reaches", "Where the top edge lies.", "knee",
                 {"knee": "to under the knee", "thigh": "to the thigh, held up from a belt"}),
    ChoiceOption("foot", "Foot", "How it ends below.", "footed",
                 {"footed": "with a foot", "open": "at the ankle, without a foot"}),
    LengthOption("foot_length", "Foot length", "From the heel to the longest toe, standing.",
                 foot_length, 80, 600, when=_FOOTED),
    LengthOption("foot_girth", "Girth of the foot", "Round the ball of the foot, standing.",
                 foot_girth, 80, 400, when=_FOOTED),
    ChoiceOption("grain", "Grain", "How the leg lies on the cloth; on the bias it gives and clings.", "bias",
                 {"bias": "on the bias", "straight": "along the cloth, looser at the ankle"}, "Cloth"),
    LengthOption("leg_ease", "Room round the leg", "Added to the girths of the leg.", 10.0, 0, 120, "Ease"),
    LengthOption("heel_ease", "Room over the heel", "Added to the girth over heel and instep.",
                 USUAL_OVER_THE_HEEL, 0, 80, "Ease"),
    LengthOption("seam_allowance", "Seam allowance", "Beyond the sewing line.", 12.0, 5, 25, "Allowances"),
    LengthOption("hem_depth", "Hem", "Finished depth at the top, turned twice.", 12.0, 0, 40, "Allowances"),
)


def draft(body: Body, options: Options) -> Pattern:
    """Raises BadInput when options contradict each other or the leg."""
    hose = hose_for(body, options)
    leg = _leg(options, hose)
    feet = _feet(options, hose) if hose.foot else ()
    finished = {"length": hose.length, "top_girth": hose.knots[0][1], "calf_girth": hose.calf,
                "ankle_girth": hose.ankle}
    if feet:
        finished |= {"foot_length": hose.sole, "foot_girth": hose.foot, "heel_seam": hose.seam}
    return drafted(
        GARMENT, body, options,
        pieces=(leg, *feet),
        seams=tuple(_seams(options["seam_allowance"], bool(feet))),
        finished=finished,
        clearances=_clearances,
        notes=_notes(options),
        schematic=tuple(_places(options, hose)),
    )


def _leg(options: Options, hose: Hose) -> Piece:
    """Spread out, the front down its middle; turned on the cloth where it is cut on the bias."""
    back = down_the_back(hose.knots)
    (_, top), (foot, ankle) = hose.knots[0], hose.knots[-1]
    other = back.moved(_opposite).reversed()
    seam, hem = Allowance(options["seam_allowance"]), Allowance(2 * options["hem_depth"], fold=True)
    edges = [Edge("top", Path.through(Point(-top / 2, 0), Point(top / 2, 0))), Edge("right back", back)]
    if hose.foot:
        half = Path((slant(ankle, hose.leg_rise),)).moved(lambda p: p + Point(0, foot - hose.leg_rise))
        edges.append(Edge("heel", half.reversed().joined(half.moved(_opposite))))
    else:
        edges.append(Edge("ankle", Path.through(Point(ankle / 2, foot), Point(-ankle / 2, foot))))
    edges.append(Edge("left back", other))
    turn = BIAS if options.is_("grain", "bias") else 0.0
    middle = Point(0, 0.4 * foot).turned(turn)
    along = Point(0, 0.3 * ankle)
    return Piece(
        name="leg",
        title="leg",
        outline=Outline(tuple(edges)).moved(lambda p: p.turned(turn)),
        allowances={edge.name: hem if edge.name in ("top", "ankle") else seam for edge in edges},
        cut=2,
        mirrored=True,
        copies=("left leg", "right leg"),
        grain=(middle - along, middle + along),
        roles={"top": "hem"} if hose.foot else {"top": "hem", "ankle": "hem"},
    )


def _feet(options: Options, hose: Hose) -> tuple[Piece, Piece]:
    """Upper and sole, each half the foot's girth wide, their toes down the page."""
    near, far = (Path((part,)) for part in slant(hose.foot, hose.foot_rise).split(0.5))
    wide, side = hose.foot / 4, hose.sole - hose.foot_rise / 2
    seam = Allowance(options["seam_allowance"])
    # The upper is hollow behind, up to the instep; the sole goes on behind it to the heel.
    upper = near.moved(lambda p: Point(p.x, hose.foot_rise / 2 - p.y))
    sole = far.moved(lambda p: Point(2 * wide - p.x, hose.foot_rise / 2 - p.y)).reversed()

    def piece(name: str, right: Path) -> Piece:
        corner, toes = right.end, Arc(Point(0, side - wide), wide, 0, pi)
        round_foot = Path((Line(corner, toes.start), toes, Line(toes.end, _opposite(corner))))
        left = right.moved(_opposite).reversed()
        rear = ((Edge("rear", left.joined(right)),) if name == "upper" else
                (Edge("left rear", left), Edge("right rear", right)))
        edges = (*rear, Edge("round the foot", round_foot))
        return Piece(
            name=name, title=name, outline=Outline(edges),
            allowances={edge.name: seam for edge in edges}, cut=2, mirrored=True,
            copies=(f"left {name}", f"right {name}"),
        )

    return piece("upper", upper), piece("sole", sole)


def _seams(allowance: float, footed: bool) -> Iterator[Seam]:
    for copy, side in ((1, "left"), (2, "right")):
        yield Seam(f"{side} leg, back", (SeamEdge("leg", "right back", copy),),
                   (SeamEdge("leg", "left back", copy),), allowance, stitch="back")
        if not footed:
            continue
        yield Seam(f"{side} upper to sole", (SeamEdge("upper", "round the foot", copy),),
                   (SeamEdge("sole", "round the foot", copy),), allowance, stitch="back",
                   treatment="felled-open")
        # The sole is seen from below: what is its left lies under the leg's right.
        foot = (SeamEdge("sole", "left rear", copy), SeamEdge("upper", "rear", copy),
                SeamEdge("sole", "right rear", copy))
        yield Seam(f"{side} foot to leg", (SeamEdge("leg", "heel", copy),), foot, allowance, stitch="back",
                   treatment="felled-open", order=1)


def _clearances(body: Body, options: Options) -> tuple[Clearance, ...]:
    hose = hose_for(body, options)
    limit, guessed = body["heel_ankle_girth"] + LEAST_OVER_THE_HEEL, body.is_estimated("heel_ankle_girth")
    remedies = (Remedy(f"{said(USUAL_OVER_THE_HEEL)} over the heel", "heel_ease",
                       f"{USUAL_OVER_THE_HEEL:g} mm"),)
    drawn = hose.ankle * (1 + hose.gives)
    found = (
        room("room at the calf", body, "calf_girth", hose.calf, 0.0),
        Clearance("the heel passes the ankle", drawn, limit,
                  f"The cloth gives from {said(hose.ankle)} round the ankle to as much.",
                  "Heel and instep do not come through.", remedies, guessed),
    )
    if not hose.foot:
        return found
    return (*found, Clearance("the heel seam goes over heel and instep", hose.seam, limit,
                              "It lies over both without pulling.", "It cuts into heel and instep.",
                              remedies, guessed))


def _notes(options: Options) -> tuple[str, ...]:
    notes = ["The seam goes down the back; a garter under the knee holds it up."
             if options.is_("reach", "knee") else
             "The seam goes down the back; loops or points at the top hang it from a belt."]
    if options.is_("grain", "bias"):
        notes.append("The legs lie aslant on the cloth, one as the other's mirror image, so that neither "
                     "twists. Baste, draw them on and smooth them upwards before you sew the back.")
    return tuple(notes)


def _places(options: Options, hose: Hose) -> Iterator[SchematicPlace]:
    turn = -degrees(BIAS) if options.is_("grain", "bias") else 0.0
    step = max(girth for _, girth in hose.knots) + GAP
    low = hose.length + GAP
    for copy in (1, 2):
        yield SchematicPlace("leg", copy, (copy - 1) * step, 0.0, turn)
        if hose.foot:
            yield SchematicPlace("upper", copy, (copy - 1) * step, low)
            yield SchematicPlace("sole", copy, (copy - 1) * step, low + hose.sole + GAP)


def _opposite(p: Point) -> Point:
    return Point(-p.x, p.y)


GARMENT = Garment(
    name="hose",
    title="Hose and stockings",
    summary="A seam behind, cut on the bias to cling, with a foot of an upper and a sole or without.",
    needs=("calf_girth",),
    uses=("ankle_girth", "heel_ankle_girth", "under_knee_girth", "knee_height", "thigh_girth",
          "inside_leg_height", "stature"),
    options=OPTIONS,
    draft=draft,
    history="Einhard's Franks wore hose under their leg bands. Those of Emperor Henry III, buried at Speyer "
            "in 1056, hung from a belt by loops; a piece from the harbour of Hedeby is read as hose. How a "
            "foot was cut before 1100 is inferred.",
    provenance="Einhard, Life of Charlemagne, chapter 23; the record of the hose from Speyer; from memory: "
               "Hägg 1984, Die Textilfunde aus dem Hafen von Haithabu",
    worn_at="legs",
    usual_fibre="wool",
    usual_wearer="man",
    long=False,
    held_by={},
    instead=("leg-wraps", "trousers"),
    cuts_instead={"reach=thigh": ("knee",)},
)
