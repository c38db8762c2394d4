"""The gallery: every garment drafted for one body, on one sheet, to see the wardrobe at a glance."""

from collections.abc import Sequence

from ..pattern import Pattern
from ..words.units import Unit
from .preview import preview_svg
from .text import clean, escaped

CELL, GAP, HEAD = 360.0, 24.0, 34.0
"""Pixels: a cell's width and the height of its picture, the space between, and a title's height."""


def gallery_svg(patterns: Sequence[Pattern], *, title: str, unit: Unit = "cm", columns: int = 3) -> str:
    """One SVG of all patterns, each fitted into its own cell under its name."""
    rows = -(-len(patterns) // columns)
    width = columns * (CELL + GAP) + GAP
    height = HEAD + GAP + rows * (CELL + HEAD + GAP)
    cells = []
    for i, pattern in enumerate(patterns):
        x = GAP + i % columns * (CELL + GAP)
        y = HEAD + GAP + i // columns * (CELL + HEAD + GAP)
        cells.append(
            f'<text x="{x + CELL / 2:.0f}" y="{y + HEAD * 0.6:.0f}" font-size="18" '
            f'font-weight="bold">{escaped(clean(pattern.title))}</text>'
            f'<svg x="{x:.0f}" y="{y + HEAD:.0f}" width="{CELL:.0f}" height="{CELL:.0f}">'
            f"{preview_svg(pattern, unit=unit)}</svg>"
        )
    style = (
        "svg.pieces{color:#2b2620}.cut,.sew,.grain,.notch,.inner{vector-effect:non-scaling-stroke;"
        "stroke-width:1}.cut{fill:#f3e9d6}.sew{stroke-dasharray:4 3;stroke-width:.7}"
        ".label,.dim{fill:#2b2620;stroke:none}text{font-family:sans-serif}"
    )
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width:.0f}" height="{height:.0f}" '
        f'viewBox="0 0 {width:.0f} {height:.0f}" fill="#2b2620" text-anchor="middle">'
        f"<title>{escaped(clean(title, 120))}</title><style>{style}</style>"
        f'<rect width="100%" height="100%" fill="#fffdf8"/>'
        f'<text x="{width / 2:.0f}" y="{HEAD:.0f}" font-size="24" font-family="sans-serif" '
        f'font-weight="bold">{escaped(clean(title, 120))}</text>{"".join(cells)}</svg>'
    )
