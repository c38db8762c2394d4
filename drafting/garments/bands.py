"""Bands for belts and garters: woven to their width, or of cloth, folded lengthwise and whipped together."""

from ..geometry import Allowance, Path, Point
from ..pattern import InnerLine, Piece, Seam, SeamEdge
from .options import ChoiceOption, LengthOption, Options
from .shapes import rectangle

TURNED_IN = 8.0
"""mm at each long edge of one of cloth. common practice, no source."""

MADE = ChoiceOption(
    "made", "Made of", "A band woven to its width, on tablets or in a rigid heddle, or a strip of cloth.",
    "woven", {"woven": "a woven band", "cloth": "cloth, folded lengthwise and whipped"}, "Cloth")
HEM = LengthOption("hem_depth", "Hem of the ends", "Finished depth, turned twice; 0 for a fringe or a strap "
                   "end of metal.", 8.0, 0, 30, "Allowances")


def band(name: str, width: float, length: float, options: Options, copies: tuple[str, ...] = ()) -> Piece:
    """`width` mm when finished; of cloth it is cut twice as wide."""
    cloth = options.is_("made", "cloth")
    across = 2 * width if cloth else width
    end = Allowance(2 * options["hem_depth"], fold=True)
    side = Allowance(TURNED_IN if cloth else 0.0)
    fold = InnerLine("fold", Path.through(Point(width, 0), Point(width, length)))
    return Piece(
        name=name,
        title=name,
        outline=rectangle(across, length, ("end", "right", "other end", "left")),
        allowances={"end": end, "other end": end, "right": side, "left": side},
        cut=max(1, len(copies)),
        copies=copies,
        inner_lines=(fold,) if cloth else (),
        grain=(Point(across / 4, 0.3 * length), Point(across / 4, 0.7 * length)),
    )


def band_seams(piece: Piece, options: Options) -> tuple[Seam, ...]:
    """Its long edges, turned in and whipped together, where it is of cloth."""
    if not options.is_("made", "cloth"):
        return ()
    return tuple(
        Seam(f"{piece.copy_name(copy)}, long edges", (SeamEdge(piece.name, "right", copy),),
             (SeamEdge(piece.name, "left", copy),), TURNED_IN, stitch="whip", treatment="butted selvedges",
             order=-1)
        for copy in range(1, piece.cut + 1))
