"""Sentences that hold lengths, written before anyone knows whether the reader thinks in cm or inches.

A draft does not depend on the reader's unit, but its advice names lengths. So a sentence carries each
length as a mark, `said(926.0)`, and `spell` writes the marks out at the end.
"""

import re

from .units import Unit, format_length

_MARK = re.compile(r"⟨(\d+\.\d)⟩")


def said(mm: float) -> str:
    """A length inside a sentence, still to be spelled out. Never negative."""
    return f"⟨{max(mm, 0.0):.1f}⟩"


def spell(sentence: str, unit: Unit) -> str:
    """The sentence with each length in `unit`."""
    return _MARK.sub(lambda mark: format_length(float(mark[1]), unit), sentence)


def writable(text: str) -> str:
    """The text without what no file can hold: half a pair of surrogates (Unicode 15.0, D71 to D75)."""
    return "".join(char for char in text if not "\ud800" <= char <= "\udfff")


def with_kind(name: str, kind: str) -> str:
    """A name and what it is the name of, said once: “neck hole”, “upper tuck”."""
    return name if kind in name.split() else f"{name} {kind}"
