"""Text on a sheet: made harmless, and measured without the font at hand."""

import unicodedata

LONGEST = 60

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


def text_width(text: str, size: float) -> float:
    """About how wide `text` is when set `size` high: never less than in a common sans-serif face.

    Class widths taken from DejaVu Sans, which is wider than most.
    """
    ems = 0.0
    for c in text:
        if c in _NARROW:
            ems += 0.42 if c != "1" else 0.64
        elif c in _WIDE:
            ems += 1.0
        elif c.isupper():
            ems += 0.76
        elif c <= "\u04ff":
            ems += 0.64
        else:
            ems += 1.1
    return ems * size
