"""A garment on the body block put together: its gores, its seams, and what is said about it."""

from dataclasses import dataclass, replace

from ..geometry import Allowance
from ..pattern import Half, Piece, Seam, SeamEdge
from .body_block import Block
from .body_panels import SIDES, on_panel, panels, side_panels
from .body_tuck import tucked
from .gore import Gores, GoreSide
from .options import Options
from .sleeve import square_gusset

GUSSET_EDGES = ("back sleeve", "back body", "front body", "front sleeve")
"""Clockwise from the corner that points down the sleeve."""

GUSSET_FACES: tuple[Half, ...] = ("back", "back", "front", "front")


@dataclass(frozen=True)
class Parts:
    """The pieces of a garment on the body block and the seams that join them."""

    pieces: tuple[Piece, ...]
    seams: tuple[Seam, ...]


def block_parts(block: Block, options: Options) -> Parts:
    """Panels, sleeves, gussets, gores and facing, and their seams in the order of making."""
    seam = Allowance(options["seam_allowance"])
    hem = Allowance(2 * options["hem_depth"], fold=True)
    turned = options.is_("neck_finish", "turned")
    width = options["seam_allowance"]
    pieces = list(panels(block, seam, hem, turned_neck=turned))
    seams = [*_middle_gores(block, pieces, seam, hem), *_shoulders(block, width)]
    if not turned and block.overlap is None:
        pieces.append(block.neck.facing())
        seams.append(_facing_seam(block))
    if block.sleeve:
        pieces.append(block.sleeve.piece(seam, hem))
        seams += _sleeves(block, pieces, seam)
    seams += _sides(block, pieces, seam, hem)
    return Parts(tucked(block, pieces), tuple(seams))


def _shoulders(block: Block, width: float) -> list[Seam]:
    if block.folded:
        return []
    return [
        Seam(f"{side} shoulder", (on_panel(block, "front", side, "shoulder"),),
             (on_panel(block, "back", side, "shoulder"),), width, order=30)
        for side in SIDES
    ]


def _facing_seam(block: Block) -> Seam:
    """Round the hole and down one side of the slit and up the other, in one go."""
    facing = SeamEdge("neck facing", "neck")
    lips = 2 if block.neck.is_slit else 1
    if block.folded:
        around = (SeamEdge("body", "neck"),) * lips
        slit = SeamEdge("body", "neck slit")
    else:
        around = (SeamEdge("front", "neck"), SeamEdge("back", "neck"))
        slit = SeamEdge("front", "neck slit")
    both = bool(block.neck.slit)
    return Seam(
        "neck facing",
        (facing,) * lips + (SeamEdge("neck facing", "neck slit"),) * (2 * both),
        around + (slit,) * (2 * both),
        6.0, stitch="back", treatment="faced", order=40,
    )


def _middle_gores(
    block: Block, pieces: list[Piece], seam: Allowance, hem: Allowance
) -> list[Seam]:
    """A gore in each slit; both its sides are sewn to the slit's two sides."""
    seams: list[Seam] = []
    if block.middle_gore is None:
        return seams
    for half in block.middles:
        sides: tuple[GoreSide, GoreSide] = ("right", "left") if half == "front" else ("left", "right")
        gores = Gores(f"{half} gore", block.middle_gore, sides, (f"{half} gore",), block.halves, half=half)
        slit = (SeamEdge("body" if block.folded else half, f"{half} slit"),)
        pieces.append(gores.piece(seam, hem, below=block.middle_depth))
        seams += (replace(s, order=10) for s in gores.seams(0, slit, slit, seam.width))
    return seams


def _sleeves(block: Block, pieces: list[Piece], seam: Allowance) -> list[Seam]:
    sleeve, width = block.sleeve, seam.width
    assert sleeve is not None
    seams = []
    if block.gusset:
        pieces.append(square_gusset("gusset", block.gusset, GUSSET_EDGES, seam,
                                    ("left gusset", "right gusset"), GUSSET_FACES))
    for copy, side in enumerate(SIDES, 1):
        if block.gusset:
            seams += [
                Seam(f"{side} gusset to {half} of sleeve",
                     (SeamEdge("gusset", f"{half} sleeve", copy),),
                     (SeamEdge("sleeve", f"{half} gusset", copy),), width, order=50)
                for half in ("front", "back")
            ]
        seams.append(Seam(f"{side} sleeve to armhole", (SeamEdge("sleeve", "top", copy),),
                          _armhole(block, side, copy), width, order=60))
        if block.gusset:
            seams += [
                Seam(f"{side} gusset to {half}", (SeamEdge("gusset", f"{half} body", copy),),
                     (on_panel(block, half, side, "gusset"),), width, order=65)
                for half in ("front", "back")
            ]
        seams.append(sleeve.seam(copy, side, width))
    return seams


def _armhole(block: Block, side: str, copy: int) -> tuple[SeamEdge, ...]:
    """What the sleeve's top is sewn to, as it runs: up the front, down the back, and under the arm."""
    front = on_panel(block, "front", side, "armhole")
    under = (SeamEdge("side panel", "top", copy),) if block.side_panel else ()
    if block.folded:
        return front, *under
    return front, on_panel(block, "back", side, "armhole"), *under


def _sides(block: Block, pieces: list[Piece], seam: Allowance, hem: Allowance) -> list[Seam]:
    width, seams = seam.width, []
    if block.side_panel:
        pieces.append(side_panels(block, block.side_panel, seam, hem))
        for copy, side in enumerate(SIDES, 1):
            for half in ("front", "back"):
                seams.append(Seam(f"{side} side panel to {half}",
                                  (SeamEdge("side panel", half, copy),),
                                  (on_panel(block, half, side, "side"),), width, order=20))
        return seams
    if block.side_gore:
        gores = Gores("side gore", block.side_gore, ("front", "back"),
                      tuple(f"{side} side gore" for side in SIDES), block.halves, mirrored=True)
        pieces.append(gores.piece(seam, hem, below=block.gore_depth))
        for index, side in enumerate(SIDES):
            seams += (
                replace(s, order=20) for s in gores.seams(
                    index, (on_panel(block, "front", side, "gore"),),
                    (on_panel(block, "back", side, "gore"),), width)
            )
    if not block.side_gore or block.gore_depth > block.gusset_foot or not block.sleeve:
        seams += [_side_seam(block, side, width) for side in SIDES]
    return seams


def _side_seam(block: Block, side: str, width: float) -> Seam:
    """From the shoulder or gusset down to the gore or hem; without sleeves the armhole stays open."""
    # Openings are counted from where the first edge starts, and this is the one that runs downwards.
    first = "front" if side == "left" or block.overlap is not None else "back"
    second = "back" if first == "front" else "front"
    return Seam(f"{side} side seam", (on_panel(block, first, side, "side"),),
                (on_panel(block, second, side, "side"),), width,
                open_from_top=0.0 if block.sleeve else block.armhole, order=75)
