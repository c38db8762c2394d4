"""Narrow strips: loops folded in four, and bands folded in two."""

from ..geometry import Allowance, Path, Point
from ..pattern import InnerLine, Notch, Piece
from .shapes import rectangle


def loop_strip(
    name: str, length: float, cut_width: float, joint: float, copies: tuple[str, ...]
) -> Piece:
    """Raw edges to the middle and folded again: four layers, a quarter as wide. All mm.

    `joint` is what each end is sewn down by, beyond `length`. common practice, no source.
    """
    folds = (("fold in", 0.25), ("fold in half", 0.5), ("fold in again", 0.75))
    return Piece(
        name=name,
        title=name,
        outline=rectangle(cut_width, length, ("end", "right", "other end", "left")),
        allowances={"end": Allowance(joint), "other end": Allowance(joint)},
        cut=len(copies),
        copies=copies if len(copies) > 1 else (),
        inner_lines=tuple(
            InnerLine(fold, Path.through(Point(cut_width * part, 0), Point(cut_width * part, length)))
            for fold, part in folds
        ),
    )


def band(
    name: str, length: float, width: float, allowance: float, notches: tuple[tuple[float, str], ...]
) -> Piece:
    """A band `width` mm wide when folded along its middle; edge `neck` is sewn to the garment.

    `notches` are distances along that edge, each with its label.
    """
    sides = ("left end", "neck", "right end", "inside")
    return Piece(
        name=name,
        title=name,
        outline=rectangle(2 * width, length, sides),
        allowances=dict.fromkeys(sides, Allowance(allowance)),
        notches=tuple(Notch("neck", at, label) for at, label in notches),
        inner_lines=(InnerLine("fold", Path.through(Point(width, 0), Point(width, length))),),
        roles={"neck": "neck"},
    )

