"""The sizes of a garment on the body block, as the body, the options and the loom make them."""

from math import hypot

from ..body import Body
from ..words.problems import BadInput, Problem
from ..words.wording import said
from .block_flare import LEAST_SIDE_SEAM, flared
from .block_options import MOST_DROP, named_depth, waist_depth
from .body_block import Block
from .layers import OVER, Layers
from .loom import WIDER_SLEEVE, fill_the_loom, fitted_note, loom_width, share_of_loom
from .neck import Neck, neck_for, neck_problems
from .options import Options
from .rounding import round_to
from .sleeve import ARMPIT_DEPTH, Sleeve, sleeve_top
from .taper import Taper

NARROW_EASE = 20.0
"""mm that a narrow body is wider than the shoulders. common practice, no source."""

LEAST_SIDE_PANEL = 40.0
"""mm under which it is too narrow to sew. common practice, no source."""

LEAST_UNDER_ARMPIT = 25.0
"""mm of armhole below the armpit. common practice, no source."""


def block_for(
    body: Body, options: Options, *, overlap: float | None = None, neck: Neck | None = None
) -> Block:
    """The sizes that body and options ask for. `overlap` is given for a coat, open in front.

    Raises BadInput naming options that contradict each other, all at once.
    """
    problems = _contradictions(options)
    if neck is None:
        problems += neck_problems(body, options, options.pick("over", OVER))
    if problems:
        raise BadInput(problems)
    layers = options.pick("over", OVER)
    width, side, changes = _widths(body, options, layers, overlap)
    sleeve, armhole, more = _sleeve(body, options, layers, side, width)
    length = (options["length"] if options.is_("length_to", "by-number")
              else named_depth(body, options.chosen("length_to")))
    block = Block(
        length=length,
        tuck=2 * options["growth_tuck"],
        width=width,
        armhole=armhole,
        neck=neck or neck_for(body, options, layers),
        waist=waist_depth(body),
        layers=layers,
        folded=overlap is None and options.is_("shoulder", "fold"),
        sleeve=sleeve,
        gusset=sleeve.gusset if sleeve else 0.0,
        halves=options.is_("gore_cut", "halves"),
        overlap=overlap,
        changes=(*changes, *more),
    )
    _must_fit(body, options, block)
    return flared(body, options, block, side)


def _contradictions(options: Options) -> list[Problem]:
    found = []
    narrow, bare = options.is_("body_width", "narrow"), options.is_("sleeve", "none")
    if bare and options.is_("gusset", "square"):
        found.append(Problem(
            "gusset", "A gusset has no sleeve to be sewn to: choose tapered or straight sleeves, or no "
            "gusset.", also=("sleeve",)))
    if bare and options["cuff_slit"]:
        found.append(Problem(
            "cuff_slit", f"A cuff slit of {said(options['cuff_slit'])} has no sleeve: choose tapered or "
            "straight sleeves, or a slit of 0.", also=("sleeve",)))
    if narrow and bare:
        found.append(Problem(
            "body_width", "A narrow body is cut for sleeves: choose a wide body, or tapered or straight "
            "sleeves.", also=("sleeve",)))
    if narrow and options.is_("gusset", "square"):
        found.append(Problem(
            "gusset", "A narrow body's side panel reaches under the arm and leaves no corner for a "
            "square gusset: choose a wide body, or no gusset.", also=("body_width",)))
    if 0 < options["loom_width"] < 300:
        found.append(Problem(
            "loom_width", f"Cloth {said(options['loom_width'])} wide is too narrow for body panels: "
            f"give {said(300)} or more, or 0 for any cloth."))
    return found


def _widths(
    body: Body, options: Options, layers: Layers, overlap: float | None
) -> tuple[float, float, tuple[str, ...]]:
    """How wide the panels are, the side panels at the top (0 for a wide body), and what was changed."""
    chest = max(body["bust_girth"], body["waist_girth"]) + options["chest_ease"] + layers.chest
    shoulders = body["shoulder_width"] + NARROW_EASE
    drop = (chest / 2 - body["shoulder_width"]) / 2
    proposed = options.is_("body_width", "as-needed") and _can_be_narrow(options) and drop > MOST_DROP
    narrow = proposed or options.is_("body_width", "narrow")
    width = shoulders if narrow else chest / 2
    changes: tuple[str, ...] = ()
    if proposed:
        changes = (f"The body is narrow, with side panels: a wide one's armhole would drop {said(drop)} "
                   "down the arm.",)
    if options["loom_width"]:
        room_across = loom_width(options) - 2 * options["seam_allowance"]
        filled = fill_the_loom(width, room_across) if overlap is None else width
        if filled > width:
            changes += (f"Body panels are {said(filled)} wide instead of {said(width)}, from selvedge "
                       "to selvedge.",)
            width = filled
        elif width > room_across >= shoulders - 2 * NARROW_EASE and _can_be_narrow(options):
            changes += (f"Body panels are {said(room_across)} wide instead of {said(width)}, from "
                       "selvedge to selvedge; side panels make up the rest.",)
            narrow, width = True, room_across
    side = max(LEAST_SIDE_PANEL, chest / 2 - width) if narrow else 0.0
    return width, side, changes


def _can_be_narrow(options: Options) -> bool:
    return not options.is_("sleeve", "none") and not options.is_("gusset", "square")


def _sleeve(
    body: Body, options: Options, layers: Layers, side: float, width: float
) -> tuple[Sleeve | None, float, tuple[str, ...]]:
    """The sleeve, the armhole's depth, and what was changed for the loom.

    The sleeve's top is sewn to the front's armhole, the side panel's top (`side`, 0 without one) and
    the back's armhole.
    """
    ease = options["arm_ease"] + layers.arm
    least = ARMPIT_DEPTH * body["stature"] + LEAST_UNDER_ARMPIT
    if options.is_("sleeve", "none"):
        return None, round_to(max(least, (body["upper_arm_girth"] + ease + 40) / 2), 5), ()
    drop = (width - body["shoulder_width"]) / 2
    gusset = 0.0 if side or options.is_("gusset", "none") else options["gusset_size"]
    length = options["sleeve_length"] - drop
    straight, cuff = options.is_("sleeve", "straight"), options["cuff_girth"]
    _must_be_long_enough(options, length, drop, gusset)
    narrowest = 2 * least + side
    top = sleeve_top(body, ease, None if straight else cuff, length, gusset, drop, narrowest)
    changes: tuple[str, ...] = ()
    loom = loom_width(options)
    slant = 0.0 if straight else max(0.0, top + WIDER_SLEEVE - cuff) / 2 / length
    beyond = 2 * options["seam_allowance"] * (slant + hypot(1.0, slant))
    filled = share_of_loom(loom, top, beyond, less=0.0,
                           more=WIDER_SLEEVE / top)
    if loom and filled:
        changes = (fitted_note("The sleeve's top is", top, *filled, loom),)
        top = filled[0]
    sleeve = Sleeve(Taper(top, top if straight else cuff, length), gusset, drop, options["cuff_slit"])
    if not sleeve.shape.can_be_cut:
        raise BadInput([Problem(
            "cuff_girth",
            f"A sleeve {said(length)} long cannot go from {said(top)} at the armhole to a cuff of "
            f"{said(cuff)}: give a longer sleeve, or a cuff nearer the armhole's girth.",
            also=("sleeve_length",))])
    return sleeve, (top - side) / 2, changes


def _must_be_long_enough(options: Options, length: float, drop: float, gusset: float) -> None:
    least = gusset + LEAST_SIDE_SEAM + options["cuff_slit"]
    if length < least:
        raise BadInput([Problem(
            "sleeve_length",
            f"A sleeve of {said(options['sleeve_length'])} from the shoulder has {said(length)} left "
            f"beyond an armhole that lies {said(drop)} down the arm; its gusset and cuff slit need "
            f"{said(least)}: give {said(options['sleeve_length'] + least - length)} or more, a smaller "
            "gusset, or a narrow body.",
            also=("gusset_size", "cuff_slit", "body_width"))])


def _must_fit(body: Body, options: Options, block: Block) -> None:
    """The panels must be long enough for what is set into them."""
    problems = []
    least = block.gusset_foot + LEAST_SIDE_SEAM + 60
    if block.length < least:
        problems.append(Problem(
            "length",
            f"A length of {said(block.length)} leaves no side seam below an armhole and gusset that "
            f"reach {said(block.gusset_foot)}: give {said(least)} or more.",
            also=("gusset_size", "arm_ease")))
    deepest = block.length - 60
    if block.overlap is None and block.neck.lowest > deepest:
        problems.append(Problem(
            "neck_slit",
            f"A neck {said(block.neck.front_depth)} deep with a slit of {said(block.neck.slit)} is "
            f"longer than a body of {said(block.length)} can carry: give a slit of "
            f"{said(deepest - block.neck.front_depth)} or less, or a longer body.",
            also=("neck_depth", "length")))
    if problems:
        raise BadInput(problems)
