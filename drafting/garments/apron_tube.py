"""The apron dress's tube: its girths at top, waist and hem, and what they rule out."""

from math import pi

from ..body import Body
from ..words.problems import BadInput, Problem
from ..words.wording import said
from .apron_girths import SIXTH, THIRD, Tube, curved
from .fit import WayIn, over_the_head, over_the_hips
from .growth_band import check_tuck, clear_of_the_hem
from .options import Options
from .panels import STEEPEST

WIDEST_GORE = 115 * pi / 180
"""Radians at a gore's apex that can still be sewn flat. common practice, no source."""

BUST_DEPTH = 0.055
"""Part of stature from under the arms down to the fullest bust, where a tube that narrows to the waist is
tightest on it. source: Gordon et al. 2014, NATICK/TR-15/007, women, axilla height less chest height: mean
and one SD, 67 + 22 of 1628 mm."""

LEAST_BUST_EASE = 20.0
"""mm over the fullest bust that the tube must pass on its way down. common practice, no source."""

PLEATED_PART = 0.5
"""Of the front's finished top edge, in its middle. common practice, no source."""


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
    tube = curved(Tube(
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
