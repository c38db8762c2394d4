"""Text on a sheet: made harmless, and measured without the font at hand."""

import unicodedata

LONGEST = 60

BOLD = 1.15
"""How much wider the bold letters of a face are. source: DejaVu Sans Bold over DejaVu Sans."""

_NARROW = frozenset("iljtfrI1.,:;'’|!()[] -·")
_WIDE = frozenset("mwMW@%—…—±")
_HIDDEN = frozenset(("Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"))


def clean(text: str, limit: int = LONGEST) -> str:
    """One line of plain text: composed letters, no control or direction marks, at most `limit` long."""
    composed = unicodedata.normalize("NFC", text)
    shown = "".join(" " if unicodedata.category(c) in _HIDDEN else c for c in composed)
    line = " ".join(shown.split())
    return line if len(line) <= limit else line[: limit - 1].rstrip() + "…"


def escaped(text: str) -> str:
    """Text as it may stand in XML, between tags or in a quoted attribute."""
    return (
        text.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;").replace('"', "&quot;")
    )


def text_width(text: str, size: float, *, bold: bool = False) -> float:
    """About how wide `text` is when set `size` high: seldom less than in a common sans-serif face.

    Widths by classes of letters, after DejaVu Sans, which is wider than most.
    """
    ems = 0.0
    for c in text:
        if c in _NARROW:
            ems += 0.42 if c != "1" else 0.64
        elif c in _WIDE:
            ems += 1.0
        elif c.isupper():
            ems += 0.76 if c < "\u0100" else 1.08
        elif c < "\u0370":
            ems += 0.64
        else:
            ems += 0.92 if c < "\u0530" else 1.1
    return ems * size * (BOLD if bold else 1.0)


def set_width(text: str, size: float, bold: bool = False) -> float:
    """How wide `text` is in the face that sheets are set in, told without the font: exact for plain letters,
    a little more than that for bold ones and all others."""
    from .fonts import ADVANCES

    ems = sum(
        ADVANCES[ord(c) - 32] / 1000 if " " <= c <= "~" else text_width(c, 1.0) for c in text
    )
    return ems * size * (BOLD if bold else 1.0)
