"""Trousers of the Thorsberg kind: a seat panel behind, a crotch piece between the legs, a belt through loops.

Each leg is one panel, folded round it as that of the trousers is. Behind, the two do not meet: between them
lies the seat, a rectangle from the waist down; on its lower edge hangs the crotch piece, a triangle that goes
forward between the legs and ends in a point where the front seam begins. The sides of both lie on the legs.
"""

from dataclasses import dataclass, replace
from math import ceil, hypot, pi, sqrt

from ..body import Body
from ..geometry import Allowance, Cubic, Edge, Outline, Path, Point
from ..pattern import Clearance, Pattern, Piece, SchematicPlace, Seam, SeamEdge
from ..words.problems import BadInput, Problem
from ..words.wording import said
from .garment import Garment
from .layers import OVER
from .legs import BACK_RISE, LEAST_SEAM, Legs, hem_needed, named_length, thigh_below_crotch
from .options import ChoiceOption, LengthOption, Option, Options
from .rounding import round_to, up_to
from .schematic import GAP, below
from .shapes import rectangle
from .taper import STEEPEST
from .trousers import GARMENT as TROUSERS
from .trousers import draft_legs
from .trousers_fit import leg_clearances
from .trousers_pieces import trouser_pieces, trouser_seams

LEFT_OUT = ("gusset_size", "loom_width")
"""The trousers' options that these have no use for."""


MOST_LEAN = 0.45
"""Of the front seam's length, that it may come in towards the waist. common practice, no source."""


def _as_here(option: Option) -> Option:
    return replace(option, default="belt-loops") if isinstance(option, ChoiceOption) and (
        option.name == "waist") else option


OPTIONS = (
    LengthOption("seat_width", "Width of the seat", "Of the panel behind, between the legs.",
                 lambda body: round_to(0.14 * body["stature"], 5), 80, 400),
    LengthOption("crotch_piece", "Length of the crotch piece", "From the seat forward between the legs.",
                 lambda body: round_to(0.15 * body["stature"], 5), 60, 400),
    *(_as_here(option) for option in TROUSERS.options if option.name not in LEFT_OUT),
)


@dataclass(frozen=True)
class SeatedLegs(Legs):
    """Legs with a seat between them, mm; `gusset` is half a side of the crotch piece, `lean` how far front
    and back seam come in from there to the waist."""

    seat: float = 0.0
    crotch: float = 0.0
    lean: float = 0.0

    @property
    def around(self) -> float:
        """At the waist, where each leg is narrower by its two leans."""
        return 2 * (self.width - 2 * self.lean) + self.seat

    @property
    def waist(self) -> Cubic:
        """From the back to the front of one leg, square to both its seams, which lean in towards it."""
        back, front = Point(-self.width / 2, self.back_rise), Point(self.width / 2, self.back_rise)
        back_up = Point(self.lean, -sqrt(self.back_rise**2 - self.lean**2))
        front_up = Point(-self.lean, -sqrt(self.front_rise**2 - self.lean**2))
        reach = (self.width - 2 * self.lean) / 3
        start, end = back + back_up, front + front_up
        return Cubic(start, start + back_up.unit().turned(pi / 2) * reach,
                     end - (-front_up).unit().turned(-pi / 2) * reach, end)

    @property
    def outside(self) -> float:
        return self.waist.point_at(0.5).y

    @property
    def below_crotch(self) -> float:
        """Half way along the crotch piece, where it is half as wide as the seat."""
        return self.seat / 4

    @property
    def crotch_way(self) -> float:
        return self.front_rise + self.crotch + self.back_rise


def draft(body: Body, options: Options) -> Pattern:
    """Raises BadInput when options contradict each other or the body."""
    legs = _legs(body, options)
    pieces = _pieces(options, legs)
    pattern = draft_legs(GARMENT, body, options, legs, pieces, _seams(options), _clearances,
                         _schematic(legs, pieces))
    return replace(pattern, notes=(
        *pattern.notes, "The find's legs go on into feet, sewn on in pieces of their own; these end in a "
                        "hem at "
        "the ankle: wear footed stockings or wraps with them."))


def _clearances(body: Body, options: Options) -> tuple[Clearance, ...]:
    return leg_clearances(body, options, _legs(body, options))


def _legs(body: Body, options: Options) -> SeatedLegs:
    seat, crotch, layer = options["seat_width"], options["crotch_piece"], options.pick("over", OVER).leg
    length = (options["length"] if options.is_("length_to", "by-number")
              else named_length(body, options.chosen("length_to")))
    side, drop = hypot(crotch, seat / 2), BACK_RISE * body["stature"]
    front = (body["crotch_length"] + options["rise_ease"] - crotch - drop) / 2
    least = options["front_slit"] + LEAST_SEAM
    if front < least:
        raise BadInput([Problem(
            "crotch_piece", f"A crotch piece {said(crotch)} long and a front slit of "
            f"{said(options['front_slit'])} leave a front seam of {said(front)} in a crotch length of "
            f"{said(body['crotch_length'])}: give a crotch piece of {said(crotch - 2 * (least - front))} "
            "or less, "
            "or a shorter slit.", also=("front_slit", "rise_ease"))])
    foot = front + drop + side / 2
    shortest = foot + LEAST_SEAM + 20 + options["ankle_slit"]
    if length < shortest:
        raise BadInput([Problem(
            "length", f"Trousers {said(length)} long end above the foot of the crotch piece at "
                      f"{said(foot)}: give "
            f"{said(shortest)} or more, or a shorter crotch piece.", also=("crotch_piece", "ankle_slit"))])
    around = max(body["hip_girth"], body["waist_girth"]) + options["hip_ease"] + 2 * layer
    thigh = thigh_below_crotch(body, seat / 4) + options["thigh_ease"] + layer
    at_waist = (around - seat) / 2
    width = up_to(max(at_waist, thigh), 5)
    lean = min((width - at_waist) / 2, MOST_LEAN * front)
    steepest = ceil((width - 2 * STEEPEST * (length - foot)) / 5) * 5.0
    hem = options["leg_hem"] or max(hem_needed(body, options, length), steepest)
    legs = SeatedLegs(width, front, front + drop, side / 2, hem, length, seat=seat, crotch=crotch, lean=lean)
    if not legs.taper.can_be_cut:
        raise BadInput([Problem(
            "leg_hem", f"A leg {said(width)} wide at the thigh cannot go to {said(hem)} over the "
            f"{said(legs.taper.length)} below the crotch piece: give a hem nearer the thigh's width, or "
            "longer "
            "trousers.", also=("length",))])
    return legs


def _pieces(options: Options, legs: SeatedLegs) -> tuple[Piece, ...]:
    straight, _, *loops = trouser_pieces(options, legs)
    leg, seam = _leaning(straight, legs), Allowance(options["seam_allowance"])
    seat = Piece(
        name="seat",
        title="seat",
        outline=rectangle(legs.seat, legs.back_rise, ("waist", "right leg", "crotch piece", "left leg")),
        allowances={"right leg": seam, "crotch piece": seam, "left leg": seam,
                    "waist": leg.allowances["waist"]},
        roles={"waist": "waist"},
        half="back",
    )
    half, tip = legs.seat / 2, Point(0.0, legs.crotch)
    right, left = Point(half, 0.0), Point(-half, 0.0)
    across, back = (right + tip) * 0.5, (left + tip) * 0.5
    edges = (
        Edge("seat", Path.through(left, right)),
        Edge("right back", Path.through(right, across)), Edge("right front", Path.through(across, tip)),
        Edge("left front", Path.through(tip, back)), Edge("left back", Path.through(back, left)),
    )
    crotch = Piece(
        name="crotch piece",
        title="crotch piece",
        outline=Outline(edges),
        allowances={edge.name: seam for edge in edges},
        faces={"right front": "front", "left front": "front", "right back": "back", "left back": "back"},
    )
    return (leg, seat, crotch, *loops)


def _leaning(leg: Piece, legs: SeatedLegs) -> Piece:
    """The leg with its front and back seam coming in towards the waist."""
    waist = legs.waist
    edges = {edge.name: edge.path for edge in leg.outline.edges}
    edges["waist"] = Path((waist,))
    edges["front seam"] = Path.through(waist.end, edges["front seam"].end)
    edges["back seam"] = Path.through(edges["back seam"].start, waist.start)
    (line,) = leg.inner_lines
    return replace(
        leg,
        outline=Outline(tuple(Edge(name, path) for name, path in edges.items())),
        inner_lines=(replace(line, path=Path.through(waist.point_at(0.5), line.path.end)),),
    )


def _seams(options: Options) -> tuple[Seam, ...]:
    width = options["seam_allowance"]

    def seam(name: str, a: SeamEdge, b: SeamEdge, order: int) -> Seam:
        return Seam(name, (a,), (b,), width, order=order)

    seams = [seam("crotch piece to seat", SeamEdge("crotch piece", "seat"),
                  SeamEdge("seat", "crotch piece"), 5)]
    for copy, side in ((1, "right"), (2, "left")):
        seams.append(seam(f"{side} leg to seat", SeamEdge("seat", f"{side} leg"),
                          SeamEdge("leg", "back seam", copy), 10))
        seams += [seam(f"{side} leg's {half} to crotch piece", SeamEdge("crotch piece", f"{side} {half}"),
                       SeamEdge("leg", f"{half} gusset", copy), order)
                  for half, order in (("back", 12), ("front", 14))]
    own = {f"{side} inseam" for side in ("right", "left")} | {"front seam"}
    return (*seams, *(seam for seam in trouser_seams(options) if seam.name in own))


def _schematic(legs: SeatedLegs, pieces: tuple[Piece, ...]) -> tuple[SchematicPlace, ...]:
    """Seen from behind: the seat in the middle, the crotch piece under it, a leg at either side."""
    x = (legs.width + legs.seat) / 2 + GAP
    placed = (
        SchematicPlace("seat", 1, -legs.seat / 2, 0.0),
        SchematicPlace("crotch piece", 1, 0.0, legs.back_rise + GAP),
        SchematicPlace("leg", 1, x, 0.0),
        SchematicPlace("leg", 2, -x, 0.0, mirrored=True),
    )
    rest = [(piece.name, n) for piece in pieces[3:] for n in range(1, piece.cut + 1)]
    return (*placed, *below(placed, pieces, rest))


GARMENT = Garment(
    name="thorsberg-trousers",
    title="Thorsberg trousers",
    summary="Narrow legs with a seat panel behind and a crotch piece between them, on a belt through loops.",
    needs=TROUSERS.needs,
    uses=TROUSERS.uses,
    options=OPTIONS,
    draft=draft,
    history="Two pairs of wool trousers were laid into the bog at Thorsberg about the 3rd century, three "
            "hundred "
            "years and more before the times spoken of here: seat, crotch piece, belt loops and sewn-on "
            "feet. "
            "That men still cut them so is inferred from a gore and a belt loop at Hedeby.",
    provenance="from memory: Schlabow 1976, Textilfunde der Eisenzeit in Norddeutschland; Hald 1980; Hägg "
               "1984",
    worn_at="legs",
    usual_fibre="wool",
    usual_wearer="man",
    long=False,
    held_by=TROUSERS.held_by,
    instead=("trousers", "leg-wraps", "tunic"),
)
