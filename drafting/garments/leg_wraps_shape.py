"""The leg and the strip wound round it: sizes, how much the turns take, and what cannot be wound.

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
from ..words.problems import BadInput, Problem
from ..words.wording import said
from .loom import fitted_note, loom_width, share_of_loom, unfitted_note
from .options import Options
from .rounding import round_to

CALF_AT = 0.75
"""Part of the wrapped length, from below, at which the calf is fullest."""

START_TURNS = 1.5
LEAST_TUCK = 200.0
LEAST_OVERLAP = 15.0
"""Turns laid over each other to hold the start; mm to tuck in; mm that turns must lap."""

STRETCH = 0.25
"""How much longer one edge of a strip may lie than the other: a wool twill gives about an eighth
either way. All of these: common practice, no source."""

WOVEN_NEAR = 0.2
"""Part of the wanted width by which a band at its loom may differ. common practice, no source."""

MOST_FRESH = 0.5
"""Of the ankle's girth: a wider step would run up the leg more than round it."""


@dataclass(frozen=True)
class Leg:
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
class Strip:
    """Finished sizes, mm. `wound` is what the turns take, `start` and `tuck` lie before and after;
    `selvedges` says that its long edges are those of the cloth."""

    width: float
    ankle_width: float
    overlap: float
    start: float
    wound: float
    tuck: float
    length: float
    selvedges: bool

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


def wrapped_leg(body: Body, options: Options) -> Leg:
    return leg_of(body, options["leg_length"], options["room_beneath"])


def leg_of(body: Body, length: float, beneath: float) -> Leg:
    return Leg(body["ankle_girth"] + beneath, body["calf_girth"] + beneath,
                body["under_knee_girth"] + beneath, length)


def strip_for(options: Options, leg: Leg) -> tuple[Strip, tuple[str, ...]]:
    width, selvedges, fitting = _width(options)
    ankle_width = width
    if options.is_("shape", "tapered"):
        ankle_width = options["ankle_width"] or 0.75 * width
    overlap = options["overlap"] or max(round_to(width / 3, 5), least_overlap(width, ankle_width))
    _check(options, leg, width, ankle_width, overlap)
    start, tuck = START_TURNS * leg.ankle, options["tuck"]
    wound = _wound(leg.surface, 1 - overlap / width, ankle_width, width, start, tuck)
    length = options["band_length"] or start + wound + tuck
    return Strip(width, ankle_width, overlap, start, wound, tuck, length, selvedges), fitting


def least_overlap(width: float, ankle_width: float) -> float:
    """At the knee's end of a strip that laps in proportion to its width; to the next 5 mm."""
    return ceil(LEAST_OVERLAP * width / ankle_width / 5) * 5.0


def _width(options: Options) -> tuple[float, bool, tuple[str, ...]]:
    """The strip's width, whether its long edges are the cloth's selvedges, and what is to be said of it."""
    wanted, loom, whole = options["width"], loom_width(options), options["loom_width"]
    woven = options.is_("edges", "selvedges")
    if woven and options.is_("shape", "tapered"):
        woven = False
        cut: tuple[str, ...] = ("A tapered strip has no selvedges along its edges: they are hemmed.",)
    else:
        cut = ()
    if not loom:
        return wanted, woven, cut
    if woven and abs(whole - wanted) <= WOVEN_NEAR * wanted:
        return whole, True, (f"The strip is {said(whole)} wide, the whole of its cloth from selvedge to "
                             "selvedge.",)
    if woven:
        cut = (f"Cut from cloth {said(whole)} wide, the strip has no selvedges of its own: its long edges "
               "are hemmed.",)
    fit = share_of_loom(loom, wanted, 4 * options["hem_depth"])
    if fit is None:
        return wanted, False, (*cut, unfitted_note("The strip's width", wanted, loom))
    width, across = fit
    if abs(width - wanted) < 0.05:
        return wanted, False, cut
    return width, False, (*cut, fitted_note("The strip is", wanted, width, across, loom))


def _check(
    options: Options, leg: Leg, width: float, ankle_width: float, overlap: float
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
