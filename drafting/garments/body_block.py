"""The body block: what underdress, tunic and wrap coat have in common, in finished sizes.

Straight panels before and behind, folded or seamed at the shoulder; sleeves sewn flat to their sides
with a square gusset under the arm; gores in the side seams, and in slits in the middle if wanted. A
wide body is half the chest wide, so that its seam drops off the shoulder. A narrow body is as wide as
the shoulders and has a side panel under each arm, which does the gusset's work.
"""

from dataclasses import dataclass, replace
from math import sqrt

from ..body import Body
from ..pattern import HALVES, Half, Level, LevelKind
from ..words.problems import BadInput, Problem
from ..words.wording import said
from .block_options import hip_depth, named_depth, waist_depth
from .gore import SLIT_TURN, Gore
from .layers import OVER, Layers
from .loom import WIDER_SLEEVE, fill_the_loom, fitted_note, gores_across, share_of_loom
from .neck import Neck, neck_for, neck_problems
from .options import Options
from .panels import ConePanel
from .rounding import round_to
from .sleeve import ARMPIT_DEPTH, Sleeve, sleeve_top
from .taper import Taper

NARROW_EASE = 20.0
"""mm that a narrow body is wider than the shoulders. common practice, no source."""

LEAST_SIDE_PANEL = 40.0
LEAST_GORE = 30.0
LEAST_SIDE_SEAM = 40.0
"""mm under which a piece is too small to sew. common practice, no source."""

STEEPEST_GORE = 1.3
"""Radians at a gore's apex before it is no longer sensible to cut. common practice, no source."""

LEAST_UNDER_ARMPIT = 25.0
"""mm of armhole below the armpit. common practice, no source."""


@dataclass(frozen=True)
class Block:
    """Finished sizes, mm; depths are below the shoulder line. What is absent is 0 or None.

    The gores' lengths and widths are those to cut, a growth tuck and the turned edges of slits
    included. `overlap` is how far an open front laps beyond the middle, and `lap_depth` where it
    does so fully (0 for all the way up).
    """

    length: float
    tuck: float
    width: float
    armhole: float
    neck: Neck
    waist: float
    layers: Layers
    folded: bool
    sleeve: Sleeve | None = None
    gusset: float = 0.0
    gore_depth: float = 0.0
    side_gore: Gore | None = None
    side_panel: ConePanel | None = None
    middle_depth: float = 0.0
    middle_gore: Gore | None = None
    middles: tuple[Half, ...] = ()
    halves: bool = False
    overlap: float | None = None
    lap_depth: float = 0.0
    changes: tuple[str, ...] = ()

    @property
    def cut_length(self) -> float:
        return self.length + self.tuck

    @property
    def gusset_foot(self) -> float:
        """Depth at which the side seam begins."""
        return self.armhole + self.gusset

    def girth(self, depth: float) -> float:
        """All the way round, at or below the armhole; an open front closed edge to middle."""
        around = 2 * self.width + 2 * sqrt(2) * max(0.0, self.gusset_foot - max(depth, self.armhole))
        if self.side_panel:
            panel = self.side_panel
            part = max(0.0, depth - self.armhole) / panel.hem_length
            around += 2 * (panel.top_width + (panel.hem_width - panel.top_width) * part)
        if self.side_gore:
            around += 2 * self.side_gore.width_at(max(0.0, depth - self.gore_depth))
        if self.middle_gore:
            part = max(0.0, depth - self.middle_depth) / self.middle_gore.length
            net = self.middle_gore.width - 2 * SLIT_TURN
            around += len(self.middles) * net * part
        return around

    @property
    def hem_girth(self) -> float:
        """Round the hem as it is cut, which is the finished one: a tuck takes up length alone."""
        return self.girth(self.cut_length)

    @property
    def narrowest(self) -> float:
        """The least girth below the arm, which all that is above must pass."""
        return min(self.girth(self.gusset_foot), self.girth(self.armhole), self.hem_girth)

    def levels(self, body: Body) -> tuple[Level, ...]:
        """Girths down the garment, the growth tuck sewn in."""
        wanted: list[tuple[str, LevelKind, float, float | None]] = [
            ("under the arm", "between", self.armhole, body["bust_girth"]),
            ("waist", "waist", waist_depth(body), body["waist_girth"]),
            ("hips", "hips", hip_depth(body), body["hip_girth"]),
        ]
        if self.gusset:
            wanted.append(("foot of the gusset", "between", self.gusset_foot, body["bust_girth"]))
        if self.side_gore is not None and self.gore_depth > self.gusset_foot:
            wanted.append(("start of the gores", "between", self.gore_depth, None))
        if self.middle_gore is not None:
            wanted.append(("start of the middle gores", "between", self.middle_depth, None))
        found = [
            Level(name, depth, self.girth(depth), girth, kind=kind)
            for name, kind, depth, girth in wanted
            if self.armhole <= depth < self.length
        ]
        found.append(Level("hem", self.length, self.hem_girth, kind="hem"))
        return tuple(sorted(found, key=lambda level: level.depth))


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
    return _flared(body, options, block, side)


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
    narrow = options.is_("body_width", "narrow")
    width = shoulders if narrow else chest / 2
    changes: tuple[str, ...] = ()
    if options["loom_width"] and overlap is None:
        room_across = options["loom_width"] - 2 * options["seam_allowance"]
        filled = fill_the_loom(width, room_across)
        can_be_narrow = not options.is_("sleeve", "none") and options.is_("gusset", "as-needed")
        if filled > width:
            changes = (f"Body panels are {said(filled)} wide instead of {said(width)}, from selvedge "
                       "to selvedge.",)
            width = filled
        elif width > room_across >= shoulders and can_be_narrow:
            changes = (f"Body panels are {said(room_across)} wide instead of {said(width)}, from "
                       "selvedge to selvedge; side panels make up the rest.",)
            narrow, width = True, room_across
        elif width > room_across:
            changes = (f"Body panels of {said(width)} are wider than the cloth and must be pieced.",)
    side = max(LEAST_SIDE_PANEL, chest / 2 - width) if narrow else 0.0
    return width, side, changes


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
    loom = options["loom_width"]
    filled = share_of_loom(loom, top, 2 * options["seam_allowance"], less=0.0,
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


def _flared(body: Body, options: Options, block: Block, side: float) -> Block:
    """The block with its gores or side panels, which share the flare evenly."""
    middles: tuple[Half, ...] = ()
    if options.is_("gores", "all"):
        middles = ("back",) if block.overlap is not None else HALVES
    sides = 0 if options.is_("gores", "none") and not side else 2
    if not sides and not middles:
        return block
    flare = options["hem_girth"] - 2 * (block.width + side)
    share = flare / (sides + len(middles))
    if share < LEAST_GORE:
        least = options["hem_girth"] - flare + (sides + len(middles)) * LEAST_GORE
        raise BadInput([Problem(
            "hem_girth",
            f"A hem of {said(options['hem_girth'])} leaves the gores {said(share)} each, since the body "
            f"alone is {said(2 * (block.width + side))}: give {said(least)} or more, less ease at the "
            "chest, or no gores.",
            also=("gores", "chest_ease"))])
    start = max(block.gusset_foot, 0.0 if block.sleeve else block.armhole + LEAST_SIDE_SEAM)
    start = max(start, options.pick("gore_start", {
        "underarm": 0.0, "waist": waist_depth(body), "hip": hip_depth(body)}))
    changes = block.changes
    if options["loom_width"] and not side:
        filled = gores_across(share, options["loom_width"], 2 * options["seam_allowance"],
                              sides + len(middles))
        if filled != share:
            changes += (f"Gores are {said(filled)} wide at the hem instead of {said(share)}, so that "
                        "head to tail they fill the cloth.",)
            share = filled
    block = replace(block, changes=changes)
    if side:
        length = block.cut_length - block.armhole
        _must_flare_gently(options, length, share)
        block = replace(block, side_panel=ConePanel(side, side + share, length))
    elif sides:
        block = replace(block, gore_depth=start, side_gore=_gore(
            options, block, "gore_start", block.cut_length - start, share))
    if middles:
        depth = _middle_depth(body, options, block)
        block = replace(block, middle_depth=depth, middles=middles, middle_gore=_gore(
            options, block, "middle_gore_length", block.cut_length - depth, share + 2 * SLIT_TURN))
    return block


def _middle_depth(body: Body, options: Options, block: Block) -> float:
    wanted = options["middle_gore_length"]
    depth = block.length - wanted if wanted else waist_depth(body)
    highest = (block.neck.lowest if block.overlap is None else block.neck.back_depth) + 40
    if wanted and depth < highest:
        raise BadInput([Problem(
            "middle_gore_length",
            f"A slit of {said(wanted)} for the middle gore is longer than the body has below its neck: "
            f"give {said(block.length - highest)} or less, or a longer body.",
            also=("length", "neck_slit"))])
    return max(depth, highest)


def _gore(options: Options, block: Block, start: str, length: float, width: float) -> Gore:
    if length < 100:
        raise BadInput([Problem(
            start,
            f"Gores that start there have only {said(length)} left down to a hem at "
            f"{said(block.length)}: let them start higher, make the garment longer, or choose no gores.",
            also=("length", "gores"))])
    _must_flare_gently(options, length, width)
    return Gore(length, width)


def _must_flare_gently(options: Options, length: float, width: float) -> None:
    if width / length > STEEPEST_GORE:
        raise BadInput([Problem(
            "hem_girth",
            f"A hem of {said(options['hem_girth'])} makes pieces that flare by {said(width)} over only "
            f"{said(length)}: give a smaller hem girth, more gores, or a longer garment.",
            also=("gores", "length"))])
