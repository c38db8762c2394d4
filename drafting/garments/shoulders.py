"""The shoulders as what a hood or cloak lies on: a cone from the root of the neck outwards and down."""

from math import pi

from ..body import Body

DELTOID_DROP = 0.045
"""Part of stature from the shoulder's bony point over it and down to where the shoulder girth is
taken. common practice, no source."""

SHOULDER_EASE = 40.0
"""mm for a cape to move over the shoulders. common practice, no source."""


def way_to_shoulder_girth(body: Body) -> float:
    """Along the shoulder from the root of the neck to where the shoulder girth is taken, mm.

    The neck's root is taken as round: from its radius to half the shoulder width, and over the edge.
    """
    neck_radius = body["neck_base_girth"] / (2 * pi)
    along = max(body["shoulder_width"] / 2 - neck_radius, 0.05 * body["stature"])
    return along + DELTOID_DROP * body["stature"]


def girth_needed(body: Body, way: float, beneath: float = 0.0) -> float:
    """Least girth of a cape `way` mm from the root of the neck: on the cone straight between the
    neck's girth and the shoulders', with its ease and `beneath` mm more round the shoulders for the clothes
    there; below the shoulders no more."""
    part = min(1.0, way / way_to_shoulder_girth(body))
    neck = body["neck_base_girth"]
    return neck + (body["shoulder_girth"] + beneath + SHOULDER_EASE - neck) * part


def is_estimated(body: Body) -> bool:
    return any(map(body.is_estimated, ("shoulder_girth", "neck_base_girth", "shoulder_width")))
