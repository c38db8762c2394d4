"""How the flare of a garment on the body block is shared out among its gores and side panels."""

from dataclasses import replace

from ..body import Body
from ..pattern import HALVES, Half
from ..words.problems import BadInput, Problem
from ..words.wording import said
from .block_options import hip_depth, waist_depth
from .body_block import Block
from .gore import SLIT_TURN, Gore
from .loom import gores_across, loom_width
from .options import Options
from .panels import ConePanel

LEAST_GORE = 30.0
LEAST_SIDE_SEAM = 40.0
"""mm under which a piece or a seam is too small to sew. common practice, no source."""

SLANTED_MORE = 20.0
"""mm by which slanted allowances and a hem's turning are wider than two straight allowances. common
practice, no source."""

STEEPEST_GORE = 1.3
"""Radians at a gore's apex before it is no longer sensible to cut. common practice, no source."""


def flared(body: Body, options: Options, block: Block, side: float) -> Block:
    """The block with its gores or side panels, which share the flare evenly."""
    middles: tuple[Half, ...] = ()
    if options.is_("gores", "all"):
        middles = ("back",) if block.overlap is not None else HALVES
    sides = 0 if options.is_("gores", "none") and not side else 2
    if not sides and not middles:
        return block
    flare = options["hem_girth"] - 2 * (block.width + side)
    across = _widest_gore(options)
    if across and not middles and side + flare / 2 > across:
        middles, where = (("back",), "the back") if block.overlap is not None else (
            HALVES, "front and back")
        block = replace(block, changes=(
            *block.changes, f"The flare is shared with gores in {where}: no piece is wider than the cloth."))
    if across and flare / (sides + len(middles)) > across - 2 * SLIT_TURN:
        block = replace(block, halves=True)
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
    if across and not side and not block.halves:
        filled = gores_across(share, loom_width(options), 2 * options["seam_allowance"],
                              sides + len(middles))
        if filled != share and filled <= across:
            changes += (f"Gores are {said(filled)} wide at the hem instead of {said(share)}, so that "
                        "head to tail they fill the cloth.",)
            share = filled
    block = replace(block, changes=changes)
    if side:
        length = block.length - block.armhole
        _must_flare_gently(options, length, share)
        block = replace(block, side_panel=ConePanel(side, side + share, length))
    elif sides:
        block = replace(block, gore_depth=start, side_gore=_gore(
            options, block, "gore_start", block.length - start, share))
    if middles:
        depth = _middle_depth(body, options, block)
        block = replace(block, middle_depth=depth, middles=middles, middle_gore=_gore(
            options, block, "middle_gore_length", block.length - depth, share + 2 * SLIT_TURN))
    return block


def _widest_gore(options: Options) -> float:
    """mm at its hem that leave the loom room for its allowances; 0 for any cloth."""
    loom = loom_width(options)
    return loom - 2 * options["seam_allowance"] - SLANTED_MORE if loom else 0.0


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
