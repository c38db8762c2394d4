"""The neck hole: two half ellipses about the shoulder line, and a slit in front if the head needs it.

The hole's girth is P. A slit of length k opens 2k more, so the head passes when P + 2k exceeds it.
"""

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property
from math import pi, sqrt

from ..body import Body
from ..geometry import QUARTER, Allowance, Cubic, Edge, Line, Outline, Path, Point
from ..pattern import Clearance, InnerLine, Piece, Remedy
from ..words.problems import Problem
from ..words.wording import said
from .layers import Layers
from .options import ChoiceOption, Chosen, LengthOption, Option, Options
from .rounding import up_to

HEAD_EASE, HEAD_EASE_SLIT = 20.0, 30.0
"""mm over the head's girth: for a round hole, and for one with a slit, whose end does not give.
common practice, no source."""

NECK_EASE = 20.0
"""mm over the neck's base for a hole that is closed at the throat. common practice, no source."""

ON_SHOULDER = 20.0
"""mm of shoulder that must be left beside the hole. common practice, no source."""

ALLOWANCE = 6.0
"""mm inside the hole; more would not turn round the curve. common practice, no source."""

FACING_WIDTH = 45.0
"""mm. common practice, no source."""

BACK_DEPTH = 0.4
"""Depth behind the shoulder line, and the least in front, over the hole's half width. The ellipse is
then nowhere tighter than its allowance from a half width of 40 mm up. common practice, no source."""

SHALLOWEST = 0.25
"""The same for a boat neck, which is half as wide again."""

DEEPEST = 0.6
"""Front depth over back waist length from which the hole is deeper than the torso can carry."""


def neck_options(default: str) -> tuple[Option, ...]:
    return (
        ChoiceOption(
            "neckline", "Neckline", "How the neck hole is cut.", default,
            {"keyhole": "keyhole: close to the neck, with a slit in front",
             "round": "round, wide enough for the head",
             "slit": "a slit along the shoulders and one in front",
             "boat": "boat: wide and shallow"}, "Neck"),
        LengthOption(
            "neck_depth", "Neck depth in front",
            "From the shoulder line to the hole's edge; 0 leaves it to the draft.",
            0.0, 0, 400, "Neck",
            when=(Chosen("neckline", ("keyhole", "round", "boat")),)),
        LengthOption(
            "neck_slit", "Front slit", "Its length; 0 makes it as long as the head needs.",
            0.0, 0, 500, "Neck",
            when=(Chosen("neckline", ("keyhole", "slit")),)),
        ChoiceOption(
            "neck_finish", "Neck edge", "How the edge of the hole is finished.", "facing",
            {"facing": "faced with a second piece", "turned": "turned in and felled"}, "Neck"),
    )


@dataclass(frozen=True)
class Neck:
    """Half width and depths about the shoulder line, and the front slit, mm.

    Both depths are 0 for a hole that is a mere slit along the shoulders.
    """

    half_width: float
    front_depth: float
    back_depth: float
    slit: float = 0.0

    @cached_property
    def front(self) -> Path:
        """From left to right as drawn, y down."""
        return half_ellipse(self.half_width, self.front_depth)

    @cached_property
    def back(self) -> Path:
        return half_ellipse(self.half_width, self.back_depth)

    @cached_property
    def girth(self) -> float:
        """P, without the slit."""
        return self.front.length + self.back.length

    @property
    def opening(self) -> float:
        """What passes through: P + 2k."""
        return self.girth + 2 * self.slit

    @property
    def is_slit(self) -> bool:
        return self.front_depth == 0

    @property
    def lowest(self) -> float:
        """Depth of the slit's end, or of the hole, below the shoulder line."""
        return self.front_depth + self.slit

    def cuts(self) -> tuple[InnerLine, ...]:
        """The hole, and the front slit, in a piece that lies across the shoulder line."""
        if self.is_slit:
            hole = InnerLine("neck", self.front, "slit", "neck")
        else:
            back = self.back.moved(lambda p: Point(p.x, -p.y)).reversed()
            hole = InnerLine("neck", self.front.joined(back), "hole", "neck")
        return (hole, *self.front_slit())

    def front_slit(self) -> tuple[InnerLine, ...]:
        if not self.slit:
            return ()
        top, end = Point(0.0, self.front_depth), Point(0.0, self.lowest)
        return (InnerLine("neck slit", Path.through(top, end), "slit", "neck"),)

    def facing(self) -> Piece:
        """One egg-shaped piece with the same hole, laid over the shoulders."""
        wide = self.half_width + FACING_WIDTH
        front = half_ellipse(wide, self.lowest + FACING_WIDTH).reversed()
        back = half_ellipse(wide, self.back_depth + FACING_WIDTH)
        turned = Allowance(8.0)
        return Piece(
            name="neck facing",
            title="neck facing",
            outline=Outline((
                Edge("back outer", back.moved(lambda p: Point(p.x, -p.y))),
                Edge("front outer", front),
            )),
            allowances={"back outer": turned, "front outer": turned, "neck": Allowance(ALLOWANCE)},
            inner_lines=self.cuts(),
            grain=self._facing_grain(wide),
        )

    def _facing_grain(self, wide: float) -> tuple[Point, Point]:
        """Between the hole's lower edge and the facing's own, beside the slit."""
        x = 0.3 * self.half_width
        hole = self.front_depth * sqrt(1 - 0.3**2)
        outer = (self.lowest + FACING_WIDTH) * sqrt(1 - (x / wide) ** 2)
        return Point(x, hole + 8.0), Point(x, outer - 8.0)


def half_ellipse(half_width: float, depth: float) -> Path:
    """From (−half_width, 0) down to (0, depth) and up to (half_width, 0); a line when depth is 0."""
    left, right = Point(-half_width, 0.0), Point(half_width, 0.0)
    if depth == 0:
        return Path((Line(left, right),))
    low, down, across = Point(0.0, depth), Point(0.0, QUARTER * depth), QUARTER * half_width
    return Path((
        Cubic(left, left + down, low - Point(across, 0.0), low),
        Cubic(low, low + Point(across, 0.0), right + down, right),
    ))


def neck_problems(body: Body, options: Options, layers: Layers) -> list[Problem]:
    """Options of the neck that contradict each other or the body."""
    found = []
    depth, slit = options["neck_depth"], options["neck_slit"]
    if slit and options.is_("neckline", "round", "boat"):
        found.append(Problem(
            "neck_slit",
            f"A {options.chosen('neckline')} neckline has no slit, but a front slit of {said(slit)} is "
            "asked for: choose the keyhole neckline, or a slit of 0.",
            also=("neckline",)))
    if depth and options.is_("neckline", "slit"):
        found.append(Problem(
            "neck_depth",
            f"A slit neckline has no depth, but {said(depth)} is asked for: choose the keyhole "
            "neckline, or a depth of 0.",
            also=("neckline",)))
    deepest = DEEPEST * body["back_waist_length"]
    if depth > deepest:
        found.append(Problem(
            "neck_depth",
            f"A neck {said(depth)} deep is deeper than a torso of "
            f"{said(body['back_waist_length'])} can carry: give {said(deepest)} or less.",
            also=("back_waist_length",)))
    least = _shallowest(body, options, layers)
    if 0 < depth < least and not options.is_("neckline", "slit"):
        found.append(Problem(
            "neck_depth",
            f"A neck {said(depth)} deep is too shallow for its width to be turned or faced: give "
            f"{said(least)} or more, or 0 to leave it to the draft.",
            also=("neckline",)))
    return found


def _widest(body: Body) -> float:
    """The largest half width, a little inside what the shoulders carry."""
    return body["shoulder_width"] / 2 - ON_SHOULDER - 5.0


def _girth_wanted(body: Body, options: Options, layers: Layers) -> float:
    """P for a hole close to the neck, or for one that the head must pass without a slit."""
    if options.is_("neckline", "round", "boat"):
        return body["head_girth"] + HEAD_EASE + 10.0
    return body["neck_base_girth"] + NECK_EASE + layers.neck


def _boat_half(body: Body) -> float:
    return min(_widest(body), 0.75 * body["shoulder_width"] / 2)


def _shallowest(body: Body, options: Options, layers: Layers) -> float:
    """The front depth at which the ellipse is only just wide enough for its allowance."""
    if options.is_("neckline", "boat"):
        return SHALLOWEST * _boat_half(body)
    even = Neck(1.0, BACK_DEPTH, BACK_DEPTH)
    return BACK_DEPTH * _girth_wanted(body, options, layers) / even.girth


def neck_for(body: Body, options: Options, layers: Layers) -> Neck:
    """The neck hole that the options ask for, as large as head and neck want."""
    depth = options["neck_depth"]
    girth, widest = _girth_wanted(body, options, layers), _widest(body)
    narrowest = body["neck_base_girth"] / (2 * pi)
    if options.is_("neckline", "slit"):
        neck = Neck(girth / 4, 0.0, 0.0)
    elif options.is_("neckline", "boat"):
        half = _boat_half(body)
        least = SHALLOWEST * half
        even = depth or max(least, _solved(lambda f: 2 * half_ellipse(half, f).length, girth, least))
        neck = Neck(half, even, even)
    else:
        shape = 1.15 if options.is_("neckline", "round") else 1.1
        half = girth / Neck(1.0, shape, BACK_DEPTH).girth
        if depth:
            half = max(narrowest, _solved(lambda a: Neck(a, depth, BACK_DEPTH * a).girth, girth, half))
        if half > widest:
            half = max(widest, narrowest)
            back = BACK_DEPTH * half
            depth = depth or _solved(lambda f: Neck(half, f, back).girth, girth, shape * half)
        neck = Neck(half, depth or shape * half, BACK_DEPTH * half)
    if options.is_("neckline", "slit", "keyhole"):
        needed = (body["head_girth"] + HEAD_EASE_SLIT - neck.girth) / 2
        slit = options["neck_slit"] or max(50.0, up_to(needed, 10))
        neck = Neck(neck.half_width, neck.front_depth, neck.back_depth, slit)
    return neck


def _solved(girth_of: Callable[[float], float], girth: float, first: float) -> float:
    """The argument for which the girth comes out, by secants: girths grow almost in proportion."""
    a, b = first, first * 1.05
    at_a, at_b = girth_of(a) - girth, girth_of(b) - girth
    for _ in range(12):
        if abs(at_b) < 1e-6 or at_a == at_b:
            break
        a, b, at_a = b, max(b - at_b * (b - a) / (at_b - at_a), 1.0), at_b
        at_b = girth_of(b) - girth
    return b


def neck_clearances(body: Body, neck: Neck) -> tuple[Clearance, ...]:
    """The head must pass, and the hole must stay on the shoulders."""
    ease = HEAD_EASE_SLIT if neck.slit else HEAD_EASE
    limit = body["head_girth"] + ease
    longer = up_to((limit - neck.girth) / 2, 10)
    way = f" and its slit of {said(neck.slit)}" if neck.slit else ""
    head = Clearance(
        "head through the neck", neck.opening, limit,
        f"The hole{way} lets {said(neck.opening)} through; the head is {said(body['head_girth'])}.",
        f"The hole{way} lets only {said(neck.opening)} through; the head is {said(body['head_girth'])}"
        f", and {said(ease)} more is wanted.",
        (Remedy(f"A front slit of {said(longer)}", "neck_slit", f"{longer:g} mm"),
         Remedy("A keyhole neckline", "neckline", "keyhole")),
        body.is_estimated("head_girth"),
    )
    shoulder = body["shoulder_width"] / 2
    stays = Clearance(
        "neck stays on the shoulders", shoulder, neck.half_width + ON_SHOULDER,
        f"The hole reaches {said(neck.half_width)} from the middle, the shoulder {said(shoulder)}.",
        f"The hole reaches {said(neck.half_width)} from the middle, the shoulder only {said(shoulder)}: "
        f"{said(ON_SHOULDER)} of it should be left.",
        (Remedy("A keyhole neckline", "neckline", "keyhole"),
         Remedy("The neck as deep as the draft makes it", "neck_depth", "0 mm")),
        body.is_estimated("shoulder_width"),
    )
    return head, stays
