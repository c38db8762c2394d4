"""A patch for a tear: its size with allowance, its grain, its stitches and thread, and which remnant it
comes from."""

from collections.abc import Sequence
from dataclasses import dataclass

from ..sewing.cloths import SewnCloth
from ..sewing.pace import TYPICAL, Pace
from ..sewing.stitches import Stack
from ..sewing.treatments import StitchRow
from ..sewing.work import Work, work_of
from ..words.problems import BadInput, Problem
from ..words.wording import said

OVERLAP = 15.0
"""mm of sound cloth that a patch covers round a tear. common practice, no source."""

TURNED = 8.0
"""mm turned under round a patch, and round the tear's own edge. common practice, no source."""

LONGEST_TEAR = 600.0
"""mm along which a patch is sewn; beyond, a new piece is. common practice, no source."""


@dataclass(frozen=True)
class Scrap:
    """A rectangle of cloth, mm along the grain and across it."""

    name: str
    along: float
    across: float


@dataclass(frozen=True)
class Patch:
    """All mm, along the grain and across it. `scrap` is the smallest that holds it, None for none."""

    along: float
    across: float
    cut_along: float
    cut_across: float
    rows: tuple[StitchRow, ...]
    work: Work
    scrap: Scrap | None


def patch(
    along: float, across: float, cloth: SewnCloth, scraps: Sequence[Scrap] = (), pace: Pace = TYPICAL
) -> Patch:
    """For a tear so long with the grain and across it, mm: felled down outside, and the tear's own edge
    turned and felled to it inside. Raises BadInput for what is no tear, or too long for a patch."""
    if not (along > 0 or across > 0):
        raise BadInput([Problem("tear", "A tear has a length: measure it with the grain and across it.")])
    if max(along, across) > LONGEST_TEAR:
        raise BadInput([Problem("tear", f"A tear of {said(max(along, across))} is too long for a patch: up "
                                f"to {said(LONGEST_TEAR)} would do; cut the piece anew, or put in a gore.")])
    sizes = [mm + 2 * OVERLAP for mm in (along, across)]
    stack = Stack(cloth.thickness, 2 * cloth.thickness)
    inner = 2 * (along + across) + 8 * TURNED
    rows = (StitchRow("fell", 2 * sum(sizes), stack), StitchRow("fell", inner, stack))
    cut = [mm + 2 * TURNED for mm in sizes]
    held = [scrap for scrap in scraps if scrap.along >= cut[0] and scrap.across >= cut[1]]
    return Patch(sizes[0], sizes[1], cut[0], cut[1], rows,
                 work_of(rows, pace, 2 * sum(sizes), beside=pace.minutes_a_step),
                 min(held, key=lambda scrap: scrap.along * scrap.across, default=None))


def patch_in_sentences(made: Patch, scraps: Sequence[Scrap] = ()) -> tuple[str, ...]:
    """How it is cut and sewn; lengths as marks."""
    told = [
        f"Cut a patch of {said(made.cut_along)} along the grain by {said(made.cut_across)} across it: "
        f"{said(TURNED)} go under all round, and it covers {said(OVERLAP)} of sound cloth on every side.",
        "Lay it on the outside, its grain with the garment's grain, and baste it flat; on a thin place the "
        "same patch may lie inside.",
        f"Fell it down all round, {said(made.rows[0].length)}; then, inside, snip the tear's corners, turn "
        f"its edge under and fell it to the patch, {said(made.rows[1].length)}.",
    ]
    if made.scrap:
        told.append(f"It comes out of “{made.scrap.name}”, the smallest that holds it.")
    elif scraps:
        told.append("None of the remnants holds it with its grain: join two along the grain, or take new "
                    "cloth.")
    return tuple(told)
