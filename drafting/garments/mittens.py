"""Mittens: palm and back alike, round over the fingertips, with a thumb set into the seam between them.

The thumb is one piece, folded along its middle. Its base is twice as wide as the opening that palm and
back leave for it is long, and goes round that; the fold lies where thumb and hand part. The thumb stands at
the side, so a mitten fits either hand. Proportions: common practice, no source.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from math import pi

from ..body import Body
from ..geometry import Allowance, Arc, Edge, Line, Outline, Path, Point
from ..pattern import Clearance, InnerLine, Pattern, Piece, Remedy, SchematicPlace, Seam, SeamEdge
from ..words.cautions import OPEN_FIRE
from ..words.problems import BadInput, Problem
from ..words.wording import said
from .drafted import drafted
from .garment import Garment
from .hands_and_feet import THUMB_GIRTH_OF_HAND_GIRTH, THUMB_OF_HAND, hand_length, thumb_length
from .options import LengthOption, Options
from .rounding import round_to, up_to
from .schematic import GAP

OVER_THE_FINGERS, OVER_THE_THUMB, ROUND_THE_THUMB = 12.0, 10.0, 25.0
LEAST_EASE, PASSING, STRAIGHT = 30.0, 10.0, 5.0
"""mm beyond fingertips and thumb, round thumb and knuckles, over the hand with its thumb folded in, and of
straight edge beside a curve."""

OPENING_FROM_THE_WRIST, OPENING_OF_HAND = 0.12, 0.33
"""Of the hand's length: where the opening for the thumb begins, and how long it is."""


def _default_ease(body: Body) -> float:
    return up_to(max(LEAST_EASE, body["folded_hand_girth"] + PASSING - body["hand_girth"]), 5)


def _thumb_girth(body: Body) -> float:
    return THUMB_GIRTH_OF_HAND_GIRTH * body["hand_girth"] + ROUND_THE_THUMB


def _least_thumb(body: Body) -> float:
    """Longer than it is wide, folded: a plump small child's by the stature alone might not be."""
    return up_to(_thumb_girth(body) / 2 + STRAIGHT - OVER_THE_THUMB, 1)


OPTIONS = (
    LengthOption("hand_length", "Hand length", "From the wrist's crease to the tip of the middle finger.",
                 hand_length, 60, 260),
    LengthOption("thumb_length", "Thumb length", "From where it parts from the hand to its tip.",
                 lambda body: max(thumb_length(body), _least_thumb(body)), 15, 260),
    LengthOption("cuff_length", "Over the wrist", "From the crease of the wrist down to the edge.",
                 lambda body: max(40.0, round_to(0.042 * body["stature"], 5)), 40, 300),
    LengthOption("girth_ease", "Room round the hand", "Added to the girth round the knuckles.",
                 _default_ease, 0, 200, "Ease"),
    LengthOption("seam_allowance", "Seam allowance", "Beyond the sewing line.", 10.0, 5, 20, "Allowances"),
    LengthOption("hem_depth", "Hem", "Finished depth at the edge, turned twice.", 10.0, 0, 30, "Allowances"),
)


@dataclass(frozen=True)
class Mitten:
    """Finished sizes, mm. `opening` is each side's length of it; `foot` how far it lies above the edge."""

    width: float
    length: float
    opening: float
    foot: float
    thumb_length: float
    thumb_girth: float


def mitten_for(body: Body, options: Options) -> Mitten:
    """Raises BadInput for a thumb or a hand that no mitten goes round."""
    hand, thumb = options["hand_length"], options["thumb_length"]
    if thumb >= hand:
        raise _refused(
            f"A thumb of {said(thumb)} is as long as the whole hand of {said(hand)}, or longer: measure it "
            f"from where it parts from the hand, and give less, as a rule {said(THUMB_OF_HAND * hand)}.",
            "thumb_length", "hand_length")
    girth = _thumb_girth(body)
    opening = max(OPENING_OF_HAND * hand, girth / 2)
    found = Mitten(
        (body["hand_girth"] + options["girth_ease"]) / 2, options["cuff_length"] + hand + OVER_THE_FINGERS,
        opening, options["cuff_length"] + OPENING_FROM_THE_WRIST * hand, thumb + OVER_THE_THUMB, girth)
    widest = 4 * (found.length - found.foot - opening - STRAIGHT)
    if 2 * found.width > widest:
        raise _refused(
            f"A mitten {said(2 * found.width)} round is too wide for a hand {said(hand)} long: give less "
            f"room round it, at most {said(widest)} altogether, or a longer hand.",
            "hand_length", "girth_ease", "hand_girth")
    if thumb < _least_thumb(body):
        raise _refused(
            f"A thumb of {said(thumb)} is too short for {said(girth)} round it: give at least "
            f"{said(_least_thumb(body))}.",
            "thumb_length", "hand_girth")
    return found


def _refused(message: str, field: str, *also: str) -> BadInput:
    return BadInput([Problem(field, message, also=also)])


def draft(body: Body, options: Options) -> Pattern:
    """Raises BadInput when options contradict each other or the hand."""
    mitten = mitten_for(body, options)
    step, low, reach = mitten.width + GAP, mitten.length + GAP, 2 * mitten.opening + GAP
    return drafted(
        GARMENT, body, options,
        pieces=(_hand(options, mitten), _thumb(options, mitten)),
        seams=tuple(_seams(options["seam_allowance"])),
        finished={"length": mitten.length, "hand_girth": 2 * mitten.width,
                  "thumb_length": mitten.thumb_length},
        clearances=_clearances,
        notes=("The thumb stands at the side, so that each mitten fits either hand.",
               "Cloth that is well fulled is warmest, keeps the wet out longest and hardly frays."),
        cautions=(OPEN_FIRE,),
        schematic=(
            *(SchematicPlace("hand", copy, (copy - 1) * step + (mitten.width if copy in (2, 4) else 0), 0.0,
                             mirrored=copy in (2, 4)) for copy in (1, 2, 3, 4)),
            *(SchematicPlace("thumb", copy, mitten.opening + (copy - 1) * reach, low) for copy in (1, 2)),
        ),
    )


def _hand(options: Options, mitten: Mitten) -> Piece:
    """As the left palm: the thumb's side on the left, the fingers up."""
    half, width, length = mitten.width / 2, mitten.width, mitten.length
    foot = Point(0, length - mitten.foot)
    top = Point(0, foot.y - mitten.opening)
    over = Arc(Point(half, half), half, pi, pi)
    right, left = Point(width, length), Point(0, length)
    seam = Allowance(options["seam_allowance"])
    return Piece(
        name="hand", title="hand", cut=4, mirrored=True,
        copies=("left palm", "left back", "right back", "right palm"),
        outline=Outline((
            Edge("fingers", Path((Line(top, over.start), over, Line(over.end, right)))),
            Edge("cuff", Path.through(right, left)),
            Edge("below the thumb", Path.through(left, foot)),
            Edge("thumb opening", Path.through(foot, top)),
        )),
        allowances={"fingers": seam, "below the thumb": seam, "thumb opening": seam,
                    "cuff": Allowance(2 * options["hem_depth"], fold=True)},
        roles={"cuff": "cuff"},
    )


def _thumb(options: Options, mitten: Mitten) -> Piece:
    """Spread out, its tip up: a quarter round on either side of the fold."""
    r, base, foot = mitten.thumb_girth / 2, mitten.opening, mitten.thumb_length
    centre, left, right, middle = Point(0, r), Point(-base, foot), Point(base, foot), Point(0, foot)
    up, down = Arc(centre, r, pi, pi / 2), Arc(centre, r, -pi / 2, pi / 2)
    edges = (
        Edge("left side", Path((Line(left, up.start), up))),
        Edge("right side", Path((down, Line(down.end, right)))),
        Edge("right base", Path.through(right, middle)),
        Edge("left base", Path.through(middle, left)),
    )
    return Piece(
        name="thumb", title="thumb", cut=2, mirrored=True, copies=("left thumb", "right thumb"),
        outline=Outline(edges),
        allowances=dict.fromkeys((edge.name for edge in edges), Allowance(options["seam_allowance"])),
        inner_lines=(InnerLine("fold", Path.through(Point(0, 0), middle)),),
        grain=(Point(r / 2, r), Point(r / 2, foot - r / 4)),
    )


def _seams(allowance: float) -> Iterator[Seam]:
    for side, own, palm, back in (("left", 1, 1, 2), ("right", 2, 4, 3)):
        for name, a, b in (
            ("thumb to palm", SeamEdge("thumb", "left base", own), SeamEdge("hand", "thumb opening", palm)),
            ("thumb to back", SeamEdge("thumb", "right base", own), SeamEdge("hand", "thumb opening", back)),
            ("thumb", SeamEdge("thumb", "left side", own), SeamEdge("thumb", "right side", own)),
            *((f"palm to back, {words}", SeamEdge("hand", edge, palm), SeamEdge("hand", edge, back))
              for edge, words in (("below the thumb",) * 2, ("fingers", "round the fingers"))),
        ):
            yield Seam(f"{side} {name}", (a,), (b,), allowance, stitch="back", treatment="overcast")


def _clearances(body: Body, options: Options) -> tuple[Clearance, ...]:
    mitten = mitten_for(body, options)
    limit = body["folded_hand_girth"] + PASSING
    wanted = up_to(limit - body["hand_girth"], 5)
    remedy = Remedy(f"{said(wanted)} of room", "girth_ease", f"{wanted:g} mm")
    return (Clearance(
        "the hand passes the edge", 2 * mitten.width, limit,
        "The hand with its thumb folded in slips through.",
        f"The hand with its thumb folded in is {said(body['folded_hand_girth'])} round.",
        (remedy,), body.is_estimated("folded_hand_girth")),)


GARMENT = Garment(
    name="mittens",
    title="Mittens",
    summary="Palm and back of thick wool, with a thumb set into the seam between them.",
    needs=("stature",),
    uses=("hand_girth", "folded_hand_girth"),
    options=OPTIONS,
    draft=draft,
    history="Mittens sewn of thick woven cloth were found in Frisia and in Iceland. That from Garðar has "
            "a palm and a back apart and an inset thumb, but was dated to the 14th century; the child's "
            "pair from Heynes is of the 10th or 11th.",
    provenance="Archaeological Textiles Review 66 (2024), by its abstract; Pálsson 1895, as retold",
    worn_at="hands",
    usual_fibre="wool",
    usual_wearer="man",
    long=False,
    held_by={},
    instead=("cloak",),
)
