"""Hands and feet by the wearer's height, for whoever has not measured them.

source: the means of ANSUR II (Gordon et al. 2014, NATICK/TR-15/007), women and men apart; a child's are
taken alike. common practice, no source, for the thumb.
"""

from ..body import Body
from .rounding import round_to

HAND_OF_STATURE = {"woman": 0.111, "man": 0.110}
FOOT_OF_STATURE = {"woman": 0.151, "man": 0.154}
FOOT_GIRTH_OF_LENGTH = {"woman": 0.927, "man": 0.930}

THUMB_OF_HAND = 0.32
THUMB_GIRTH_OF_HAND_GIRTH = 0.36


def hand_length(body: Body) -> float:
    """mm from the crease of the wrist to the tip of the middle finger."""
    return round_to(_share(HAND_OF_STATURE, body) * body["stature"], 1)


def thumb_length(body: Body) -> float:
    """mm from where the thumb parts from the hand to its tip."""
    return round_to(THUMB_OF_HAND * hand_length(body), 1)


def foot_length(body: Body) -> float:
    """mm from the heel to the longest toe."""
    return round_to(_share(FOOT_OF_STATURE, body) * body["stature"], 1)


def foot_girth(body: Body) -> float:
    """mm round the ball of the foot."""
    return round_to(_share(FOOT_GIRTH_OF_LENGTH, body) * foot_length(body), 1)


def _share(of: dict[str, float], body: Body) -> float:
    return of[body.sex] if body.sex else sum(of.values()) / len(of)
