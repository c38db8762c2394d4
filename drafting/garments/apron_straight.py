"""The apron dress of straight panels: front and back a third of the girth each, the sides a sixth, as wide at
the hem as at the top, with a gore let into each of their four seams below the waist."""

from dataclasses import replace

from ..geometry import Allowance
from ..pattern import Hang, InnerLine, Piece, Seam, SeamEdge
from .apron_girths import SIXTH, THIRD, Tube
from .apron_opening import facing_seams, opened, opened_at, opening_facing, parted_at
from .gore import Gore, Gores
from .panels import WaistedPanel

LEFT, RIGHT = 1, 2
HANDS = ((LEFT, "left"), (RIGHT, "right"))


def upper(edge: str) -> str:
    """The name of a panel's edge above the waist, where no gore is let in."""
    return f"{edge} upper"


def gores_of(tube: Tube) -> tuple[Gores, Gores]:
    """Those between the front and the sides, and those between the sides and the back."""
    gore = Gore(tube.below_waist, (tube.hem - tube.waist) / 4)
    front, back = (Gores(f"{half} gore", gore, ("front", "back"), (f"left {half} gore", f"right {half} gore"),
                         mirrored=True) for half in ("front", "back"))
    return front, back


def straight_panel(tube: Tube, part: float) -> WaistedPanel:
    width = tube.top * part
    return WaistedPanel(width, width, width, tube.waist_depth, tube.below_waist)


def straight_panels(
    tube: Tube, opening: float, scoop: float, seam: Allowance, top: Allowance, hem: Allowance
) -> tuple[Piece, ...]:
    """Front, back, side, the two kinds of gore, and the facing of an opening where there is one."""
    def piece(name: str, part: float, left: str, right: str) -> Piece:
        shape = straight_panel(tube, part)
        return Piece(
            name=name,
            title=name,
            outline=shape.outline(left, right, scoop if name == "side" else 0.0),
            allowances={"top": top, left: seam, right: seam, "hem": hem},
            inner_lines=(InnerLine("waist", shape.level, "level"),),
            hangs=(Hang("hem", shape.level, shape.hem_length),),
            half="front" if name == "front" else "back" if name == "back" else None,
            faces={"front": "front", "back": "back"} if name == "side" else {},
            cut=2 if name == "side" else 1,
            mirrored=name == "side",
            copies=("left side", "right side") if name == "side" else (),
        )

    front, back, side = (piece("front", THIRD, "right", "left"), piece("back", THIRD, "left", "right"),
                         piece("side", SIXTH, "front", "back"))
    front, back = (_at_the_waist(one, ("left", "right"), tube) for one in (front, back))
    side = _at_the_waist(side, ("front", "back"), tube)
    gores = tuple(gores.piece(seam, hem) for gores in gores_of(tube))
    if not opening:
        return front, back, side, *gores
    front = opened_at(front, upper("left"), opening)
    side = opened_at(side, upper("front"), opening)
    return front, back, side, *gores, opening_facing(opening, seam, top)


def _at_the_waist(piece: Piece, edges: tuple[str, str], tube: Tube) -> Piece:
    for edge in edges:
        piece = parted_at(piece, edge, tube.waist_depth, upper(edge))
    return piece


def straight_seams(tube: Tube, opening: float, allowance: float) -> tuple[Seam, ...]:
    """Gores to the sides while those lie flat, then the seams above the gores, then their other edges."""
    front_gores, back_gores = gores_of(tube)
    found: list[Seam] = []
    for copy, hand in HANDS:
        parts = [upper("front")]
        if opening and copy == RIGHT:
            parts.append(opened(upper("front")))
        found += [
            Seam(f"front to {hand} side", (SeamEdge("front", upper(hand)),),
                 tuple(SeamEdge("side", part, copy) for part in parts), allowance, order=1),
            Seam(f"back to {hand} side", (SeamEdge("back", upper(hand)),),
                 (SeamEdge("side", upper("back"), copy),), allowance, order=1),
        ]
        to_front, front_to_side = front_gores.seams(
            copy - 1, (SeamEdge("front", hand),), (SeamEdge("side", "front", copy),), allowance)
        back_to_side, to_back = back_gores.seams(
            copy - 1, (SeamEdge("side", "back", copy),), (SeamEdge("back", hand),), allowance)
        found += [front_to_side, back_to_side, replace(to_front, order=2), replace(to_back, order=2)]
    if opening:
        found += facing_seams(allowance, SeamEdge("front", opened(upper("left"))),
                              SeamEdge("side", opened(upper("front")), LEFT))
    return tuple(found)


ROUND_THE_BODY = (("back", 1), ("back gore", RIGHT), ("side", RIGHT), ("front gore", RIGHT), ("front", 1),
                  ("front gore", LEFT), ("side", LEFT), ("back gore", LEFT))
"""Pieces and copies from the back's right edge round the right side and the front, as seen from outside."""
