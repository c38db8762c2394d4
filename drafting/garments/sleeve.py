"""Sleeves and the square gusset under the arm.

The sleeve's top is straight and sewn flat to the body's side, half before and half behind the shoulder
line. The gusset's four edges fill the sleeve's underarm edges and the body's sides, each over the same
length g; between its two free corners it is g√2 wide, so the way round the arm is the sleeve's own
girth plus what is left of that: g√2 at the armhole, nothing g mm down the arm. There, where the arm is
thickest, the sleeve must clear it alone.
"""

from dataclasses import dataclass
from math import hypot, pi, sqrt

from ..body import Body
from ..geometry import Allowance, Edge, Outline, Path, Point
from ..pattern import Clearance, Half, Notch, Piece, Remedy, Seam, SeamEdge
from ..words.wording import said
from .layers import Layers
from .rounding import up_to
from .taper import Taper

ELBOW = 0.05
"""Sleeve ease over stature, for the bent elbow and the way over the back. source: Gordon et al. 2014,
NATICK/TR-15/007: sleeve length from spine to wrist exceeds half the shoulder width and the sleeve's
outseam by 80.5 mm of 1,628 (women) and 94.9 of 1,756 (men)."""

BICEPS, FOREARM = 0.32, 0.65
"""Where the arm is thickest above and below the elbow, over its length. common practice, no source."""

FOREARM_GIRTH = 0.87
"""Flexed forearm over flexed upper arm. source: the same survey: 0.868 women, 0.869 men."""

LEAST_ARM_EASE, LEAST_FOREARM_EASE, LEAST_CUFF_EASE = 30.0, 20.0, 15.0
HAND_EASE = 10.0
"""mm. common practice, no source."""

ARMPIT_DEPTH = 0.062
"""From the shoulder point to the armpit over stature. source: the same survey, acromial less axilla
height: 0.059 women, 0.064 men."""

BELOW_ARMPIT = 10.0
"""mm that an armhole must reach below it. common practice, no source."""

MOST_RIDE = 100.0
"""mm that the hem may ride up at the side when the arm goes to the horizontal. common practice, no
source."""


@dataclass(frozen=True)
class Sleeve:
    """mm; `gusset` is its side or 0; `drop` is how far the armhole lies beyond the shoulder point."""

    shape: Taper
    gusset: float
    drop: float
    slit: float = 0.0

    @property
    def length(self) -> float:
        return self.shape.length

    def girth_at(self, distance: float) -> float:
        """The way round the arm `distance` mm from the armhole."""
        return self.shape.width_at(distance) + sqrt(2) * max(0.0, self.gusset - distance)

    def piece(self, seam: Allowance, cuff: Allowance) -> Piece:
        """The left sleeve as seen from outside, its front to the left; the right is turned over."""
        shape, g = self.shape, self.gusset
        half, corner, end = shape.top / 2, shape.corner, shape.end_edge
        tip = shape.on_side(g)
        top_left, top_right = Point(-half, 0.0), Point(half, 0.0)
        edges = [Edge("top", Path.through(top_left, top_right))]
        if g:
            edges.append(Edge("back gusset", Path.through(top_right, tip)))
        edges.append(Edge("back underarm", Path.through(tip, corner)))
        edges.append(Edge("cuff", end))
        edges.append(Edge("front underarm", Path.through(_across(corner), _across(tip))))
        if g:
            edges.append(Edge("front gusset", Path.through(_across(tip), top_left)))
        notches = [Notch("top", half, "shoulder")]
        faces: dict[str, Half] = {"front underarm": "front", "back underarm": "back"}
        if g:
            faces |= {"front gusset": "front", "back gusset": "back"}
            notches += [Notch("front underarm", 0.0, "gusset", from_end=True),
                        Notch("back underarm", 0.0, "gusset")]
        if self.slit:
            notches += [Notch("front underarm", self.slit, "slit"),
                        Notch("back underarm", self.slit, "slit", from_end=True)]
        return Piece(
            name="sleeve",
            title="sleeve",
            outline=Outline(tuple(edges)),
            allowances={edge.name: cuff if edge.name == "cuff" else seam for edge in edges},
            cut=2,
            mirrored=True,
            copies=("left sleeve", "right sleeve"),
            notches=tuple(notches),
            roles={"cuff": "cuff"},
            faces=faces,
        )

    def seam(self, copy: int, side: str, allowance: float) -> Seam:
        """Along the underarm from the cuff, where its slit stays open, to the gusset."""
        return Seam(f"{side} sleeve underarm", (SeamEdge("sleeve", "front underarm", copy),),
                    (SeamEdge("sleeve", "back underarm", copy),), allowance,
                    open_from_top=self.slit, order=70)


def _across(p: Point) -> Point:
    return Point(-p.x, p.y)


def square_gusset(
    name: str, side: float, corners: tuple[str, str, str, str], allowance: Allowance,
    copies: tuple[str, ...], faces: tuple[Half, ...],
) -> Piece:
    """A square whose edges are named for what they fill, clockwise from its top left corner, as are the
    halves that they face."""
    points = Point(0.0, 0.0), Point(side, 0.0), Point(side, side), Point(0.0, side)
    ends = (*points[1:], points[0])
    return Piece(
        name=name,
        title=name,
        outline=Outline(tuple(
            Edge(edge, Path.through(a, b)) for edge, a, b in zip(corners, points, ends, strict=True)
        )),
        allowances=dict.fromkeys(corners, allowance),
        cut=len(copies),
        mirrored=len(copies) > 1,
        copies=copies,
        faces=dict(zip(corners, faces, strict=True)),
    )


def arm_girth(body: Body, from_shoulder: float) -> float:
    """The arm's girth, mm, straight between upper arm, forearm and wrist."""
    upper, wrist = body["upper_arm_girth"], body["wrist_girth"]
    part = from_shoulder / body["arm_length"]
    if part <= BICEPS:
        return upper
    fore = FOREARM_GIRTH * upper
    if part <= FOREARM:
        return upper + (fore - upper) * (part - BICEPS) / (FOREARM - BICEPS)
    return fore + (wrist - fore) * min(1.0, (part - FOREARM) / (1 - FOREARM))


def sleeve_top(
    body: Body, ease: float, cuff: float | None, length: float, gusset: float, drop: float,
    least: float,
) -> float:
    """The straight top edge that leaves `ease` round the arm as far as the gusset and the biceps reach.

    At least `least`; `cuff` is None for a sleeve that is straight all the way, and may be the wider.
    """
    found = least
    for at in (0.0, min(gusset, length / 2), min(_biceps(body, drop), length / 2)):
        needed = arm_girth(body, at + drop) + ease - sqrt(2) * max(0.0, gusset - at)
        if cuff is not None:
            # Solved from needed = top + (cuff − top) · at / length.
            needed = (needed - cuff * at / length) / (1 - at / length)
        found = max(found, needed)
    return up_to(found, 5)


def _biceps(body: Body, drop: float) -> float:
    return max(0.0, BICEPS * body["arm_length"] - drop)


def sleeve_clearances(body: Body, sleeve: Sleeve, layers: Layers) -> tuple[Clearance, ...]:
    """Room round the arm all the way down, and for the fist at the cuff."""
    estimated = body.is_estimated("upper_arm_girth")
    more = (Remedy(f"Ease of {said(60)} round the arm", "arm_ease", "60 mm"),
            Remedy("A gusset under the arm", "gusset", "square"))
    places = [min(at, sleeve.length) for at in
              (0.0, sleeve.gusset, _biceps(body, sleeve.drop))]
    upper = _tightest(body, sleeve, places, LEAST_ARM_EASE + layers.arm)
    found = [_arm("room for the upper arm", body, sleeve, upper, LEAST_ARM_EASE + layers.arm, more,
                  estimated)]
    fore = FOREARM * body["arm_length"] - sleeve.drop
    hand = body["folded_hand_girth"] + HAND_EASE
    wide_cuff = -(-max(hand, arm_girth(body, fore + sleeve.drop) + 40) // 10) * 10
    wider = Remedy(f"A cuff of {said(wide_cuff)}", "cuff_girth", f"{wide_cuff:g} mm")
    if 0 < fore < sleeve.length:
        found.append(_arm("room for the forearm", body, sleeve, fore,
                          LEAST_FOREARM_EASE + layers.wrist, (wider, *more), estimated))
    found.append(_arm("room at the cuff", body, sleeve, sleeve.length,
                      LEAST_CUFF_EASE + layers.wrist, (wider,), body.is_estimated("wrist_girth")))
    cuff = sleeve.shape.end
    slit = max(10.0, -(-(hand - cuff) // 20) * 10)
    found.append(Clearance(
        "fist through the cuff", cuff + 2 * sleeve.slit, hand,
        f"The cuff lets {said(cuff + 2 * sleeve.slit)} through; the hand with its thumb folded in is "
        f"{said(body['folded_hand_girth'])}.",
        f"The cuff lets only {said(cuff + 2 * sleeve.slit)} through; the hand with its thumb folded in "
        f"is {said(body['folded_hand_girth'])}, and {said(HAND_EASE)} more is wanted.",
        (Remedy(f"A slit of {said(slit)} at the cuff", "cuff_slit", f"{slit:g} mm"), wider),
        body.is_estimated("folded_hand_girth"),
    ))
    return tuple(found)


def _tightest(body: Body, sleeve: Sleeve, places: list[float], ease: float) -> float:
    return min(places, key=lambda at: sleeve.girth_at(at) - arm_girth(body, at + sleeve.drop) - ease)


def _arm(
    name: str, body: Body, sleeve: Sleeve, at: float, ease: float, remedies: tuple[Remedy, ...],
    estimated: bool,
) -> Clearance:
    girth, arm = sleeve.girth_at(at), arm_girth(body, at + sleeve.drop)
    return Clearance(
        name, girth, arm + ease,
        f"The way round is {said(girth - arm)} over the arm's {said(arm)}.",
        f"The way round is only {said(girth - arm)} over the arm's {said(arm)}: at least {said(ease)} is "
        "wanted."
        if girth >= arm
        else f"The way round is {said(arm - girth)} less than the arm's {said(arm)}: at least {said(ease)} "
        "over it is wanted.",
        remedies, estimated,
    )


def hem_ride(body: Body, half_width: float, armhole: float, between: float) -> float:
    """How far the hem rides up at the side, mm, when the arm goes from hanging to the horizontal.

    The corner where the sleeve's underarm meets the side lies `drop` beyond the shoulder joint and
    `armhole` less the arm's radius below it, R mm from it; with the arm hanging it lies folded in the
    armpit. The arm turns by a right angle about the joint and takes the sleeve's corner with it, R√2
    away from the side's corner: by so much the way from cuff to hem along the side lengthens. What is
    let in `between` the two gives that much, and the cuff comes back by the ease that a bent elbow takes
    and a straight arm has to spare; the hem comes up for the rest.
    source: plane geometry (the chord of a rotation), with the joint at the shoulder point, as deep below
    the shoulder as the arm's radius.
    """
    drop = half_width - body["shoulder_width"] / 2
    below = armhole - body["upper_arm_girth"] / (2 * pi)
    return max(0.0, sqrt(2) * hypot(drop, below) - between - ELBOW * body["stature"])


def arm_raise(
    body: Body, half_width: float, armhole: float, gusset: float, side_panel: float, usual_ease: float
) -> Clearance:
    """The hem must not ride up far when the arm goes to the horizontal.

    A square gusset gives its diagonal; a side panel under the arm, `side_panel` wide at its top, as
    much as the gusset that is as wide from front to back.
    """
    between = side_panel or sqrt(2) * gusset
    ride = hem_ride(body, half_width, armhole, between)
    size = up_to((ride + between - MOST_RIDE) / sqrt(2), 5)
    raised = f"With the arm raised to the horizontal, the hem rides up by {said(ride)} at the side"
    return Clearance(
        "room to raise the arm", MOST_RIDE + between, ride + between,
        f"{raised}; up to {said(MOST_RIDE)} is no bother.",
        f"{raised}: more than {said(MOST_RIDE)} is a bother.",
        (Remedy("A square gusset under the arm", "gusset", "square"),
         Remedy(f"A gusset of {said(size)}", "gusset_size", f"{size:g} mm"),
         Remedy("A narrow body with side panels", "body_width", "narrow"),
         Remedy("A wide body with gussets", "body_width", "wide"),
         Remedy(f"Ease of {said(60)} round the arm", "arm_ease", "60 mm"),
         Remedy(f"Ease of {said(usual_ease)} at the chest", "chest_ease", f"{usual_ease:g} mm")),
        body.is_estimated("shoulder_width") or body.is_estimated("upper_arm_girth"),
    )


def armpit(body: Body, armhole: float) -> Clearance:
    """The armhole must reach below the armpit."""
    depth = ARMPIT_DEPTH * body["stature"]
    return Clearance(
        "armhole clears the armpit", armhole, depth + BELOW_ARMPIT,
        f"The armhole is {said(armhole)} deep, the armpit about {said(depth)} below the shoulder.",
        f"The armhole is only {said(armhole)} deep, the armpit about {said(depth)} below the shoulder: "
        f"at least {said(BELOW_ARMPIT)} more is wanted.",
        (Remedy(f"Ease of {said(120)} round the arm", "arm_ease", "120 mm"),),
        body.is_estimated("stature"),
    )
