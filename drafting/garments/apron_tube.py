"""The apron dress's tube: its girths at top, waist and hem, and what they rule out."""

from dataclasses import dataclass, replace
from math import inf, pi

from ..body import Body
from ..pattern import Level
from ..words.problems import BadInput, Problem
from ..words.wording import said
from .fit import WayIn, over_the_head, over_the_hips
from .growth_band import check_tuck, clear_of_the_hem
from .options import Options
from .panels import STEEPEST, ConePanel, Panel, WaistedPanel

THIRD, SIXTH = 1 / 3, 1 / 6

WIDEST_GORE = 115 * pi / 180
"""Radians at a gore's apex that can still be sewn flat. common practice, no source."""

BUST_DEPTH = 0.055
"""Part of stature from under the arms down to the fullest bust, where a tube that narrows to the waist is
tightest on it. source: Gordon et al. 2014, NATICK/TR-15/007, women, axilla height less chest height: mean
and one SD, 67 + 22 of 1628 mm."""

LEAST_BUST_EASE = 20.0
"""mm over the fullest bust that the tube must pass on its way down. common practice, no source."""

CURVE_AT_WAIST, LEAST_RADIUS = 100.0, 75.0
"""mm of seam along which the waist's corner is rounded, and of the curve's radius under which an allowance
could not go round it. common practice, no source."""

LEVEL_REACH = 12.0
"""mm that a curve may reach below the waist, times the square of the turn in radians, so that the hem
hangs level to 1 mm: below it the ways down from the level come by so much to differ. source: plane geometry,
worked out by numbers."""

GIRTHS = 10
"""So many are known of either half of that curve."""

PAST_THE_WAIST = "past the waist"

PLEATED_PART = 0.5
"""Of the front's finished top edge, in its middle. common practice, no source."""


@dataclass(frozen=True)
class Tube:
    """The garment's girths and lengths, mm; `waist_depth` is 0 when it flares from the top.

    `below_waist` is finished; a growth tuck takes `tucked` more cloth. `pleats` is what the front's pleats
    take up, all together, sewn down as far as `pleat_length`. At `waist` the seams' straight parts above
    and below would meet; a curve goes from one to the other, `rounding` long on either side, on which the
    dress is wider than that. A `gored` one flares by gores let in there.
    """

    top: float
    waist: float
    hem: float
    waist_depth: float
    below_waist: float
    tucked: float
    pleats: float = 0.0
    pleat_length: float = 0.0
    rounding: float = 0.0
    gored: bool = False

    @property
    def levels(self) -> tuple[Level, ...]:
        """Girths of the finished garment, the growth tuck sewn in; many along a curved waist."""
        top, hem = Level("top", 0.0, self.top, kind="top"), Level("hem", self.length, self.hem, kind="hem")
        if self.waist_depth:
            return top, *self._past_the_waist, hem
        if self.pleats:
            flared = (self.hem - self.pleats - self.top) * self.pleat_length / self.below_waist
            level = Level("end of the pleats", self.pleat_length, self.top + flared, kind="between")
            return top, level, hem
        return top, hem

    @property
    def length(self) -> float:
        """Finished, from top to hem."""
        return self.waist_depth + self.below_waist

    @property
    def _past_the_waist(self) -> tuple[Level, ...]:
        """The waist, and where its corner is a curve the girths along that: a parabola, as the lean of all
        edges changes evenly."""
        if not self.waist_depth:
            return ()
        if not self.rounding:
            return (Level("waist", self.waist_depth, self.waist, kind="waist"),)
        narrows, flares = self.slopes
        found = []
        for i in range(-GIRTHS, GIRTHS + 1):
            away = self.rounding * i / GIRTHS
            curved = self.bends * (away + self.rounding) ** 2 / (4 * self.rounding)
            let_in = flares * max(0.0, away) if self.gored else 0.0
            girth = self.waist - narrows * away + curved + let_in
            found.append(Level("waist" if i == 0 else PAST_THE_WAIST, self.waist_depth + away, girth,
                               kind="waist" if i == 0 else "between"))
        return tuple(found)

    @property
    def slopes(self) -> tuple[float, float]:
        """mm of girth for each mm from the waist up, and down."""
        return (self.top - self.waist) / self.waist_depth, (self.hem - self.waist) / self.below_waist

    @property
    def narrowest_at_the_waist(self) -> float:
        """The least girth about the waist, which a curve has a little above it."""
        return min((level.girth for level in self._past_the_waist), default=inf)

    @property
    def bends(self) -> float:
        """By how much the panels' girth changes its slope at the waist, mm for each mm; over 0 where it is
        drawn in there."""
        narrows, flares = self.slopes
        return narrows if self.gored else narrows + flares

    def panel(self, part: float, less_hem: float = 0.0) -> Panel:
        """A panel of that part of every girth, its hem `less_hem` mm narrower."""
        top, waist, hem = self.top * part, self.waist * part, self.hem * part - less_hem
        if self.waist_depth:
            return WaistedPanel(top, waist, hem, self.waist_depth, self.below_waist, self.rounding)
        return ConePanel(top, hem, self.below_waist)


def tube_for(body: Body, options: Options) -> Tube:
    """Raises BadInput when options contradict each other or the body."""
    torso, length, tuck = body["torso_length"], options["length"], 2 * options["growth_tuck"]
    if torso >= length - 30:
        raise BadInput([Problem(
            "length",
            f"Dress length {said(length)} leaves no skirt below a torso length of {said(torso)}: "
            f"give a dress length over {said(torso + 30)}, or measure the torso again.",
            also=("torso_length",),
        )])
    at_waist = body["waist_girth"] + options["waist_ease"]
    top = top_girth(body, options, at_waist)
    waist = options.pick("shaping", {
        "waisted": at_waist, "straight": max(top, at_waist), "a-line": top,
    })
    depth = 0.0 if options.is_("shaping", "a-line") else torso
    if options.is_("style", "straight-panels"):
        top = waist = _straight_girth(body, options, max(top, at_waist))
    pleated = options.is_("style", "pleated")
    tube = _curved(Tube(
        top, waist, options["hem_girth"], depth, length - depth, tuck,
        2 * options["pleat_depth"] * options.count("pleat_count") if pleated else 0.0, torso,
        gored=options.is_("style", "straight-panels", "wrapped"),
    ))
    _check_tuck(options, tube)
    _check_flare(tube)
    if depth and abs(tube.top - tube.waist) * THIRD / 2 > depth * STEEPEST:
        raise BadInput([Problem(
            "torso_length",
            f"Torso length {said(torso)} is too short to get from {said(tube.top)} at the top to "
            f"{said(tube.waist)} at the waist: measure it again.",
            also=("waist_girth", "bust_girth"),
        )])
    if options.is_("style", "wrapped"):
        _check_wrap(options, tube)
        return tube
    if options.is_("style", "straight-panels"):
        _check_gores(options, tube)
    deepest = min(0.4 * torso, 0.4 * top * SIXTH)
    if options["scoop"] > deepest:
        raise BadInput([Problem(
            "scoop",
            f"A scoop of {said(options['scoop'])} goes too deep into side panels of {said(top * SIXTH)} "
            f"by {said(torso)}: give {said(deepest)} or less.",
            also=("torso_length",),
        )])
    if pleated:
        _check_pleats(options, tube)
    return tube


def _curved(tube: Tube) -> Tube:
    """The tube with its corner at the waist made a curve, outside the corner, so that no room is lost.

    Where it bulges there instead, as over a stout waist, the corner stays: an allowance has cloth to spare
    round it, and a curve would take room from the belly. So it does where the curve would be too sharp.
    """
    if not tube.waist_depth or tube.bends <= 0:
        return tube
    turn = tube.bends * THIRD / 2
    reach = min(CURVE_AT_WAIST / 2, tube.waist_depth / 3, tube.below_waist / 3, LEVEL_REACH / turn**2)
    sharp = turn * LEAST_RADIUS > 2 * reach
    return tube if sharp else replace(tube, rounding=reach)


def bust_depth(body: Body) -> float:
    """mm from the top edge down to the fullest bust, above where the skirt flares."""
    return min(BUST_DEPTH * body["stature"], 0.5 * body["torso_length"])


def top_girth(body: Body, options: Options, at_waist: float) -> float:
    """The girth at the top edge: room round the chest under the arms, and so much that the tube, narrowing
    to `at_waist`, still clears the fullest bust. All mm."""
    fullest = body["bust_girth"] + LEAST_BUST_EASE
    if options.is_("shaping", "waisted") and at_waist < fullest:
        part = bust_depth(body) / body["torso_length"]
        fullest = (fullest - part * at_waist) / (1 - part)
    return max(body["upper_chest_girth"] + options["bust_ease"], fullest)


def _straight_girth(body: Body, options: Options, girth: float) -> float:
    """Of straight panels: wide enough to be put on, unless an opening is asked for or refused."""
    return max(girth, way_in(body).girth) if options.is_("opening", "as-needed") else girth


def way_in(body: Body) -> WayIn:
    """The easier of the two ways into the closed dress."""
    return min(over_the_head(body), over_the_hips(body), key=lambda way: way.girth)


def _check_gores(options: Options, tube: Tube) -> None:
    problems = []
    if options.is_("shaping", "a-line"):
        problems.append(Problem(
            "shaping",
            "Straight panels get their flare from gores that begin at the waist, so they cannot flare from "
            "the top: choose another shape, or four flared panels.",
            also=("style",),
        ))
    else:
        problems += _too_wide_for_gores(tube, 4, "four", "or a longer dress")
    if problems:
        raise BadInput(problems)


def _check_tuck(options: Options, tube: Tube) -> None:
    tuck = options["growth_tuck"]
    highest = max(20.0, tube.rounding) if tube.waist_depth else 20.0 + tube.pleat_length * bool(tube.pleats)
    check_tuck(tuck, tube.below_waist - clear_of_the_hem(tuck) - highest, tube.length)


def _check_flare(tube: Tube) -> None:
    if tube.hem < tube.waist + 10:
        raise BadInput([Problem(
            "hem_girth",
            f"Hem girth {said(tube.hem)} is narrower than the dress at the flare's start "
            f"({said(tube.waist)}): give at least {said(tube.waist + 10)}.",
        )])
    if (tube.hem - tube.waist) * THIRD / 2 > tube.below_waist * STEEPEST:
        most = tube.waist + 6 * tube.below_waist * STEEPEST
        raise BadInput([Problem(
            "hem_girth",
            f"Hem girth {said(tube.hem)} is more than panels or gores of this length can flare to: "
            f"give {said(most)} or less, or a longer dress.",
            also=("length",),
        )])


def _too_wide_for_gores(tube: Tube, count: int, counted: str, otherwise: str) -> list[Problem]:
    """A problem where so many gores cannot flare the dress to its hem."""
    if (tube.hem - tube.waist) / count <= tube.below_waist * WIDEST_GORE:
        return []
    most = tube.waist + count * tube.below_waist * WIDEST_GORE
    return [Problem(
        "hem_girth",
        f"Hem girth {said(tube.hem)} is more than {counted} gores of this length can flare to: give "
        f"{said(most // 10 * 10)} or less, {otherwise}.",
        also=("style", "length"),
    )]


def _check_wrap(options: Options, tube: Tube) -> None:
    problems = _too_wide_for_gores(tube, 2, "two", "a longer dress, or four panels")
    if options.is_("shaping", "a-line"):
        problems.append(Problem(
            "shaping",
            "A wrapped dress gets its flare from gores that begin at the waist, so it cannot flare "
            "from the top: choose the waisted or straight shape, or four panels.",
            also=("style",),
        ))
    if options.is_("opening", "none"):
        problems.append(Problem(
            "opening",
            "A wrapped dress is open all the way down its left side: choose as-needed, or four panels.",
            also=("style",),
        ))
    if options["scoop"]:
        problems.append(Problem(
            "scoop",
            f"A scoop of {said(options['scoop'])} dips the side panels, and a wrapped dress has none: "
            "give 0, or choose four panels.",
            also=("style",),
        ))
    if problems:
        raise BadInput(problems)


def _check_pleats(options: Options, tube: Tube) -> None:
    depth, count = options["pleat_depth"], options.count("pleat_count")
    needed = tube.waist + tube.pleats / THIRD + 10
    if tube.hem < needed:
        raise BadInput([Problem(
            "pleat_depth",
            f"{count} pleats {said(depth)} deep let {said(tube.pleats)} into the front, more than its "
            f"share of a hem girth of {said(tube.hem)}: give a hem girth of {said(needed)} or more, or "
            "fewer or shallower pleats.",
            also=("pleat_count", "hem_girth"),
        )])
    if count > 1 and pleat_gap(tube, count) < depth:
        deepest = pleat_gap(tube, count)
        raise BadInput([Problem(
            "pleat_depth",
            f"{count} pleats {said(depth)} deep would lie on one another in a front "
            f"{said(tube.top * THIRD)} wide: give a depth of {said(deepest)} or less, or fewer pleats.",
            also=("pleat_count",),
        )])


def pleat_gap(tube: Tube, count: int) -> float:
    """Between two pleats of the finished front, mm; all of the pleated part when there is one."""
    return tube.top * THIRD * PLEATED_PART / max(1, count - 1)
