"""Leg wraps: two long strips, wound from the ankle to under the knee and tucked in.

A strip of width b that laps the turn before by o shows q = b − o of new cloth. Wherever it lies, a
length dl of it covers q·dl of leg, so the turns take the leg's surface divided by q. On a cylinder of
girth c that is the helix whose turns lie q apart: it rises by p = q·c / √(c² − q²) and takes
√(c² + p²) a turn. (Rising by q itself, the lap would be too wide: q is measured across the strip, p up
the leg.) source: plane geometry; the leg is taken as two frusta of cones.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from math import acos, ceil, hypot, pi, sqrt

from ..body import Body
from ..geometry import Allowance, Edge, Outline, Path, Point
from ..pattern import Clearance, Notch, Pattern, Piece, Remedy, SchematicPlace
from ..words.cautions import OPEN_FIRE, WRAPS_TOO_TIGHT
from ..words.problems import BadInput, Problem
from ..words.wording import said
from .drafted import drafted
from .garment import Garment
from .loom import LOOM_WIDTH, fitted_note, loom_width, share_of_loom, unfitted_note
from .options import ChoiceOption, LengthOption, Options
from .rounding import round_to

WRAPPED_PART = 0.74
"""Of the knee's height, from over the ankle bones to the hollow under the knee."""

CALF_AT = 0.75
"""Part of the wrapped length, from below, at which the calf is fullest."""

START_TURNS = 1.5
LEAST_TUCK = 200.0
LEAST_OVERLAP = 15.0
"""Turns laid over each other to hold the start; mm to tuck in; mm that turns must lap."""

STRETCH = 0.25
"""How much longer one edge of a strip may lie than the other: a wool twill gives about an eighth
either way. All of these: common practice, no source."""

MOST_FRESH = 0.5
"""Of the ankle's girth: a wider step would run up the leg more than round it."""


def _default_width(body: Body) -> float:
    leg = _leg(body, WRAPPED_PART * body["knee_height"], 30.0)
    widest = leg.widest_strip // 5 * 5
    return max(40.0, min(round_to(0.2 * body["knee_height"], 5), widest))


OPTIONS = (
    LengthOption("width", "Width of the strip", "Finished, at the knee's end where it is tapered.",
                 _default_width, 30, 200),
    LengthOption("overlap", "Overlap",
                 "How far each turn covers the one before; 0 to have it worked out.", 0.0, 0, 150),
    ChoiceOption("shape", "Shape", "How the strip runs from the ankle to the knee.", "straight",
                 {"straight": "straight", "tapered": "narrower at the ankle"}),
    LengthOption("ankle_width", "Width at the ankle",
                 "Of a tapered strip, finished; 0 for three quarters of the width.", 0.0, 0, 200),
    ChoiceOption("ends", "Upper end", "The end that is tucked in under the knee.", "square",
                 {"square": "square", "pointed": "pointed"}),
    LengthOption("leg_length", "Leg to wrap", "From over the ankle bones to just under the knee.",
                 lambda body: round_to(WRAPPED_PART * body["knee_height"], 5), 80, 600),
    LengthOption("band_length", "Length of a band at hand",
                 "Of a band already woven, finished; 0 to have the length worked out.",
                 0.0, 0, 10000),
    LengthOption("room_beneath", "Room for what is beneath", "Added to every girth of the leg.",
                 30.0, 0, 200, "Ease"),
    LengthOption("tuck", "To tuck in", "Left over under the knee, to tuck in or hook.",
                 350.0, 200, 1000, "Ease"),
    LengthOption("hem_depth", "Hem", "Finished depth, turned twice; 0 for selvedges or raw edges.",
                 6.0, 0, 20, "Allowances"),
    LOOM_WIDTH,
)


@dataclass(frozen=True)
class _Leg:
    """The wrapped part of the leg over what is worn beneath: girths and height, mm."""

    ankle: float
    calf: float
    under_knee: float
    length: float

    def frusta(self) -> Iterator[tuple[float, float, float]]:
        """Lower girth, upper girth and slant height of each."""
        low, high = self.length * CALF_AT, self.length * (1 - CALF_AT)
        for lower, upper, height in (
            (self.ankle, self.calf, low), (self.calf, self.under_knee, high)
        ):
            yield lower, upper, hypot(height, (upper - lower) / (2 * pi))

    @property
    def surface(self) -> float:
        """mm². source: lateral area of a frustum, half the sum of its girths times its slant."""
        return sum((lower + upper) / 2 * slant for lower, upper, slant in self.frusta())

    def turns(self, fresh: float) -> float:
        """Turns from the ankle to under the knee, `fresh` mm apart across the strip.

        Each turn rises fresh·c / √(c² − fresh²); summed over girths c that grow straight with the
        slant. source: ∫ √(c² − q²)/c dc = √(c² − q²) − q·arccos(q/c), any table of integrals.
        """
        def risen(c: float) -> float:
            return sqrt(c * c - fresh * fresh) - fresh * acos(fresh / c)

        total = 0.0
        for lower, upper, slant in self.frusta():
            if abs(upper - lower) > 1e-6:
                total += (risen(upper) - risen(lower)) * slant / (upper - lower) / fresh
            else:
                total += slant * sqrt(lower * lower - fresh * fresh) / (fresh * lower)
        return total

    @property
    def widest_strip(self) -> float:
        """Widest strip whose edges still lie close where the leg widens fastest.

        Over its width b the girth changes by b·dc/ds, which is how much longer one edge must lie.
        """
        return min(
            (STRETCH * (lower + upper) / 2 * slant / abs(upper - lower)
             for lower, upper, slant in self.frusta() if abs(upper - lower) > 1e-6),
            default=float("inf"),
        )


@dataclass(frozen=True)
class _Strip:
    """Finished sizes, mm. `wound` is what the turns take, `start` and `tuck` lie before and after."""

    width: float
    ankle_width: float
    overlap: float
    start: float
    wound: float
    tuck: float
    length: float

    @property
    def fresh(self) -> float:
        """What each turn shows, on the average over the turns."""
        middle = (self.start + self.wound / 2) / (self.start + self.wound + self.tuck)
        part = 1 - self.overlap / self.width
        return part * (self.ankle_width + (self.width - self.ankle_width) * middle)

    @property
    def needed(self) -> float:
        """Least length that reaches under the knee and can be tucked in."""
        return self.start + self.wound + LEAST_TUCK


def draft(body: Body, options: Options) -> Pattern:
    """Raises BadInput when options contradict each other or the leg."""
    leg = _wrapped_leg(body, options)
    strip, fitting = _strip(options, leg)
    return drafted(
        GARMENT, body, options,
        pieces=(_piece(options, leg, strip),),
        seams=(),
        finished=_finished(options, strip),
        clearances=_clearances,
        notes=(*fitting, *_notes(leg, strip)),
        cautions=(WRAPS_TOO_TIGHT, OPEN_FIRE),
        schematic=(SchematicPlace("wrap", 1, 0.0, 0.0), SchematicPlace("wrap", 2, strip.width + 40.0, 0.0)),
    )


def _wrapped_leg(body: Body, options: Options) -> _Leg:
    return _leg(body, options["leg_length"], options["room_beneath"])


def _leg(body: Body, length: float, beneath: float) -> _Leg:
    return _Leg(body["ankle_girth"] + beneath, body["calf_girth"] + beneath,
                body["under_knee_girth"] + beneath, length)


def _strip(options: Options, leg: _Leg) -> tuple[_Strip, tuple[str, ...]]:
    width, fitting = _width(options)
    ankle_width = width
    if options.is_("shape", "tapered"):
        ankle_width = options["ankle_width"] or 0.75 * width
    overlap = options["overlap"] or max(round_to(width / 3, 5), _least_overlap(width, ankle_width))
    _check(options, leg, width, ankle_width, overlap)
    start, tuck = START_TURNS * leg.ankle, options["tuck"]
    wound = _wound(leg.surface, 1 - overlap / width, ankle_width, width, start, tuck)
    length = options["band_length"] or start + wound + tuck
    return _Strip(width, ankle_width, overlap, start, wound, tuck, length), fitting


def _least_overlap(width: float, ankle_width: float) -> float:
    """At the knee's end of a strip that laps in proportion to its width; to the next 5 mm."""
    return ceil(LEAST_OVERLAP * width / ankle_width / 5) * 5.0


def _width(options: Options) -> tuple[float, tuple[str, ...]]:
    wanted, loom = options["width"], loom_width(options)
    if not loom:
        return wanted, ()
    fit = share_of_loom(loom, wanted, 4 * options["hem_depth"])
    if fit is None:
        return wanted, (unfitted_note("The strip's width", wanted, loom),)
    width, across = fit
    if abs(width - wanted) < 0.05:
        return wanted, ()
    return width, (fitted_note("The strip is", wanted, width, across, loom),)


def _check(
    options: Options, leg: _Leg, width: float, ankle_width: float, overlap: float
) -> None:
    problems = []
    if overlap > 0.8 * width:
        problems.append(Problem(
            "overlap",
            f"An overlap of {said(overlap)} leaves next to nothing of a strip {said(width)} wide: "
            f"give {said(0.8 * width)} or less, or a wider strip.",
            also=("width",),
        ))
    if ankle_width > width:
        problems.append(Problem(
            "ankle_width",
            f"A tapered strip {said(width)} wide at the knee cannot be {said(ankle_width)} at the "
            f"ankle: give {said(width)} or less, or choose the straight shape.",
            also=("width", "shape"),
        ))
    narrowest = min(leg.ankle, leg.calf, leg.under_knee)
    if width - overlap > MOST_FRESH * narrowest:
        problems.append(Problem(
            "width",
            f"A strip {said(width)} wide with {said(overlap)} of overlap runs up a leg "
            f"{said(narrowest)} round rather than about it: give "
            f"{said(MOST_FRESH * narrowest + overlap)} or less, or more overlap.",
            also=("overlap",),
        ))
    if options.is_("ends", "pointed") and options["tuck"] < width:
        problems.append(Problem(
            "tuck",
            f"A pointed end of a strip {said(width)} wide needs at least {said(width)} to tuck in: "
            "give that, or choose square ends.",
            also=("ends",),
        ))
    if problems:
        raise BadInput(problems)


def _wound(
    surface: float, fresh_part: float, ankle_width: float, width: float, start: float, tuck: float
) -> float:
    """mm of strip in the turns, for a strip that widens evenly from its start to its end.

    The turns cover fresh_part × their length × the width at their middle; as the total length sets
    where that is, the length is the positive root of a quadratic.
    """
    taper = width - ankle_width
    a = fresh_part * (ankle_width + taper / 2)
    b = fresh_part * (ankle_width * (start + tuck) + taper * start) - surface
    c = -surface * (start + tuck)
    return (-b + sqrt(b * b - 4 * a * c)) / (2 * a)


def _piece(options: Options, leg: _Leg, strip: _Strip) -> Piece:
    """As on the leg: the start at the foot of the page, the knee's end at its head."""
    half, low = strip.width / 2, strip.ankle_width / 2
    pointed = options.is_("ends", "pointed")
    shoulder = strip.width if pointed else 0.0
    left, right = Point(-half, shoulder), Point(half, shoulder)
    if strip.length <= shoulder + 10:
        raise BadInput([Problem(
            "band_length",
            f"A band of {said(strip.length)} is shorter than its own point: choose square ends, or "
            "give a longer band.",
            also=("ends",),
        )])
    foot_right, foot_left = Point(low, strip.length), Point(-low, strip.length)
    end = Path.through(left, Point(0, 0), right) if pointed else Path.through(left, right)
    hem = Allowance(2 * options["hem_depth"], fold=True)
    return Piece(
        name="wrap",
        title="leg wrap",
        outline=Outline((
            Edge("upper end", end),
            Edge("right", Path.through(right, foot_right)),
            Edge("start", Path.through(foot_right, foot_left)),
            Edge("left", Path.through(foot_left, left)),
        )),
        allowances={name: hem for name in ("upper end", "right", "start", "left")},
        cut=2,
        copies=("left leg wrap", "right leg wrap"),
        notches=_marks(leg, strip, shoulder),
    )


def _marks(leg: _Leg, strip: _Strip, shoulder: float) -> tuple[Notch, ...]:
    marks = ((strip.start, "the turns begin"), (strip.start + strip.wound, "under the knee"))
    edge_length = hypot(strip.length - shoulder, (strip.width - strip.ankle_width) / 2)
    return tuple(
        Notch("left", distance, label) for distance, label in marks if distance < edge_length - 1
    )


def _finished(options: Options, strip: _Strip) -> dict[str, float]:
    found = {"strip_width": strip.width, "strip_length": strip.length, "overlap": strip.overlap,
             "leg_length": options["leg_length"]}
    if strip.ankle_width != strip.width:
        found["width_at_the_ankle"] = strip.ankle_width
    return found


def _clearances(body: Body, options: Options) -> tuple[Clearance, ...]:
    leg = _wrapped_leg(body, options)
    strip, _ = _strip(options, leg)
    guessed = any(map(body.is_estimated, ("ankle_girth", "calf_girth", "under_knee_girth")))
    return _lap(strip), _follows(leg, strip, guessed), _reaches(strip, guessed)


def _lap(strip: _Strip) -> Clearance:
    lap = strip.overlap * strip.ankle_width / strip.width
    wanted = _least_overlap(strip.width, strip.ankle_width)
    return Clearance(
        "turns lap", lap, LEAST_OVERLAP,
        f"Each turn covers at least {said(lap)} of the one before.",
        f"Turns that lap only {said(lap)} slip apart when you walk.",
        (Remedy(f"An overlap of {said(wanted)}", "overlap", f"{wanted:g} mm"),
         Remedy("Work the overlap out from the width", "overlap", "0 mm"),
         Remedy("A straight strip", "shape", "straight")),
    )


def _follows(leg: _Leg, strip: _Strip, guessed: bool) -> Clearance:
    widest = min(leg.widest_strip, 2 * strip.width)
    narrower = widest // 5 * 5
    return Clearance(
        "strip follows the calf", widest, strip.width,
        "Narrow enough for both edges of a wool twill to lie close.",
        f"Where the calf widens, the edges of so wide a strip gape: at most {said(widest)} "
        "lies close.",
        (Remedy(f"A strip {said(narrower)} wide", "width", f"{narrower:g} mm"),
         Remedy("A strip that need not use up the cloth", "loom_width", "0 mm")),
        guessed,
    )


def _reaches(strip: _Strip, guessed: bool) -> Clearance:
    return Clearance(
        "strip is long enough", strip.length, strip.needed,
        f"{said(strip.start)} to start, {said(strip.wound)} in the turns, "
        f"{said(strip.length - strip.start - strip.wound)} to tuck in.",
        f"The turns need {said(strip.start + strip.wound)}; at least {said(LEAST_TUCK)} more "
        "is wanted to tuck in.",
        (Remedy("Weave or cut it as long as it must be", "band_length", "0 mm"),),
        guessed,
    )


def _notes(leg: _Leg, strip: _Strip) -> tuple[str, ...]:
    turns = round(leg.turns(strip.fresh))
    return (
        f"About {turns} turns a leg, each {said(strip.fresh)} above the last; wind the two legs in "
        "opposite directions.",
        "Start over the ankle bones, lay one and a half turns over the start to hold it, and wind up "
        "to under the knee.",
        "Wool twill winds best: it stretches a little and grips itself.",
    )


GARMENT = Garment(
    name="leg-wraps",
    title="Leg wraps",
    summary="Two long strips wound round the lower legs, from ankle to knee.",
    needs=("calf_girth",),
    uses=("ankle_girth", "under_knee_girth", "knee_height", "stature"),
    options=OPTIONS,
    draft=draft,
    history="Woollen bands of a hand's breadth, among the textiles from the harbour of Hedeby, are "
            "taken for leg wraps.",
    provenance="from memory: Hägg 1984, Die Textilfunde aus dem Hafen von Haithabu",
    worn_at="legs",
    usual_fibre="wool",
    usual_wearer="man",
    long=False,
    held_by={"winding": True},
    instead=("trousers", "underdress", "cloak"),
)
