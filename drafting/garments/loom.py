"""Dimensions that use a loom's width: panels from selvedge to selvedge, sleeves and gores side by side.

How far a draft may give way for that: common practice, no source.
"""

WIDER_PANEL = 80.0
WIDER_SLEEVE = 40.0
"""mm that a panel or a sleeve may gain."""

GORE_CHANGE = 0.15
"""Part of its width that a gore may gain or lose."""


def fill_the_loom(width: float, across: float) -> float:
    """The panel's width when it takes all of `across`, if it nearly does; else `width`. mm."""
    return across if width <= across <= width + WIDER_PANEL else width


def share_of_the_loom(width: float, loom: float, allowances: float) -> float:
    """The width at which a whole number of pieces fills the loom, if that is near; else `width`."""
    count = int(loom / (width + allowances))
    if count == 0:
        return width
    filled = loom / count - allowances
    return filled if filled <= width + WIDER_SLEEVE else width


def gores_across(width: float, loom: float, allowances: float, count: int) -> float:
    """The hem width at which all gores, head to tail, fill the loom once or more; else `width`.

    `count` wedges of one width laid head to tail take (count + 1)/2 of it. source: plane geometry.
    """
    strip = (count + 1) / 2
    times = max(1, round(strip * (width + allowances) / loom))
    filled = times * loom / strip - allowances
    return filled if abs(filled - width) <= GORE_CHANGE * width else width
