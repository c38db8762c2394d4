"""What a garment on the body block must clear: head, chest, waist, hips, arms, and a walking step."""

from math import ceil

from ..body import Body
from ..pattern import Clearance, Remedy
from ..words.wording import said
from .block_options import default_chest_ease, hip_depth, waist_depth
from .body_block import Block
from .fit import girth_at, over_the_head, room, stride, stride_girth_needed
from .neck import neck_clearances
from .options import Options
from .sleeve import arm_raise, armpit, sleeve_clearances

LEAST_CHEST_EASE, LEAST_WAIST_EASE, LEAST_HIP_EASE = 40.0, 40.0, 40.0
"""mm to breathe, to bend, to step. common practice, no source."""


def block_clearances(body: Body, options: Options, block: Block) -> tuple[Clearance, ...]:
    """What a garment on the body block must clear, from the neck down."""
    found: list[Clearance] = []
    if block.overlap is None:
        found += neck_clearances(body, block.neck)
        found.append(_way_in(body, options, block))
    found += _rooms(body, options, block)
    if block.sleeve:
        found += sleeve_clearances(body, block.sleeve, block.layers)
        found.append(armpit(body, block.armhole))
        found.append(arm_raise(body, block.width / 2, block.armhole, block.gusset,
                               block.side_panel.top_width if block.side_panel else 0.0,
                               default_chest_ease(body)))
    height = body["cervicale_height"] - block.length
    wider = ceil(stride_girth_needed(body, height) / 10) * 10.0
    found.append(stride(body, block.hem_girth, height, (
        _hem(wider), Remedy("Gores at the sides", "gores", "sides"),
        Remedy("Only down to the knee", "length_to", "knee"),
        Remedy("Only down to the middle of the thigh", "length_to", "mid-thigh"))))
    return tuple(found)


def _hem(girth: float) -> Remedy:
    return Remedy(f"A hem girth of {said(girth)}", "hem_girth", f"{girth:g} mm")


def _chest(options: Options, more: float) -> Remedy:
    ease = ceil((options["chest_ease"] + max(more, 0.0)) / 10) * 10.0
    return Remedy(f"Ease of {said(ease)} at the chest", "chest_ease", f"{ease:g} mm")


def _way_in(body: Body, options: Options, block: Block) -> Clearance:
    narrowest, way = block.narrowest, over_the_head(body)
    around = f"The narrowest girth, {said(narrowest)},"
    return Clearance(
        "a way in", narrowest, way.girth,
        f"{around} can be {way.passes}.", f"{around} is too tight to be {way.passes}.",
        (_chest(options, way.girth - narrowest),), way.estimated, at_side_seams=True,
    )


def _rooms(body: Body, options: Options, block: Block) -> tuple[Clearance, ...]:
    levels, extra = block.levels(body), block.layers.chest
    higher = Remedy("Gores that start under the arm", "gore_start", "underarm")
    gores = Remedy("Gores at the sides", "gores", "sides")
    found = [room("room at the chest", body, "bust_girth", block.narrowest, LEAST_CHEST_EASE + extra,
                  (_chest(options, body["bust_girth"] + LEAST_CHEST_EASE + extra - block.narrowest),))]
    for name, measure, depth, ease in (
        ("room at the waist", "waist_girth", waist_depth(body), LEAST_WAIST_EASE + extra),
        ("room at the hips", "hip_girth", hip_depth(body), LEAST_HIP_EASE + extra),
    ):
        if depth >= block.length:
            continue
        girth = girth_at(levels, depth)
        short = body[measure] + ease - girth
        wider = _hem(ceil(_hem_that_clears(block, depth, short) / 10) * 10.0)
        found.append(room(name, body, measure, girth, ease,
                          (wider, higher, gores, _chest(options, short))))
    return tuple(found)


def _hem_that_clears(block: Block, depth: float, short: float) -> float:
    """The hem girth at which the flare has gained `short` more at `depth`."""
    gained = block.girth(depth) - 2 * block.width
    flare = block.hem_girth - 2 * block.width
    return block.hem_girth + max(0.0, short) * (flare / gained if gained > 1 else 1.0)
