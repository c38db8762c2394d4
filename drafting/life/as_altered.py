"""A garment as it is once it was altered on its own cloth: its new lines, and beyond them what is left.

It is fitted and altered again like any other: what its seams gave once they cannot give a second time.
"""

from collections.abc import Mapping
from dataclasses import replace

from ..checks.growing import LEAST_ALLOWANCE
from ..garments.options import Options, OptionValue
from ..pattern import Pattern, Piece
from .adjust import Fitted, Sized, fitted
from .as_cut import AsCut, PieceAsCut, on_the_cloth
from .fits import Fit


def as_altered(cut: Sized, altered: tuple[Fit, ...]) -> Sized:
    """What a garment that was cut is now. Raises BadInput for what cannot be done with it."""
    if not altered:
        return cut
    made = fitted(cut, altered)
    cloth = on_the_cloth(made)
    return replace(made.after, options=_with_the_tuck_left(made, cloth), pattern=_left(cut.pattern, cloth))


def _with_the_tuck_left(made: Fitted, cloth: AsCut) -> Options:
    options = made.after.options
    if not cloth.tuck_let_down:
        return options
    return options.changed("growth_tuck", options["growth_tuck"] - cloth.tuck_let_down / 2)


def _left(cut: Pattern, cloth: AsCut) -> Pattern:
    """The altered pattern, beyond each line only the cloth that was left there."""
    laid = {piece.name: piece for piece in cloth.pieces}
    pieces = tuple(_piece(cut.piece(piece.name), piece, laid[piece.name]) if piece.name in laid else piece
                   for piece in cloth.pattern.pieces)
    return replace(cloth.pattern, pieces=pieces, options=_with_the_seams_left(cloth, pieces))


def _with_the_seams_left(cloth: AsCut, pieces: tuple[Piece, ...]) -> Mapping[str, OptionValue]:
    """The options with a seam allowance no wider than the narrowest that is left."""
    options, there = cloth.pattern.options, {piece.name: piece for piece in pieces}
    folds = {(piece.name, name) for piece in pieces for name, one in piece.allowances.items() if one.fold}
    left = [edge.left for edge in cloth.moved()
            if (edge.piece, edge.edge) not in folds and edge.edge in there[edge.piece].allowances]
    usual = options.get("seam_allowance")
    if not left or not isinstance(usual, float):
        return options
    return {**options, "seam_allowance": max(min(usual, *left), LEAST_ALLOWANCE)}


def _piece(cut: Piece, altered: Piece, laid: PieceAsCut) -> Piece:
    left = {edge.edge: edge.left for edge in laid.moved}
    allowances = {
        name: replace(allowance, width=left[name], under=None) if name in left
        else cut.allowances.get(name, allowance)
        for name, allowance in altered.allowances.items()
    }
    return replace(altered, allowances=allowances)
