"""What can hurt, in the words every garment uses; each defers to those who know or decide."""

from ..body import Body

YOUNG_CHILD_STATURE = 1340.0
"""mm; up to here a wearer counts as a young child. from memory: EN 14682, children under 7 years."""

OPEN_FIRE = (
    "Loose cloth near an open fire or hearth can catch: keep it clear, and follow the event's own "
    "rules."
)
LONG_HEM = (
    "A long hem near an open fire or hearth can catch or trip: keep it clear, and follow the event's "
    "own rules."
)
PINS = (
    "Pins and brooches are sharp. Keep them off small children: sew a button with a short loop, or a "
    "few stitches that give way, and follow the event's rules."
)
CORDS = (
    "No cords, ribbons or ties at the head or neck of a small child: they catch and strangle. Follow "
    "the event's rules and your local code on children's clothing (in Europe EN 14682)."
)


def is_young_child(body: Body) -> bool:
    """By stature, since nobody's age is asked."""
    return body["stature"] <= YOUNG_CHILD_STATURE
