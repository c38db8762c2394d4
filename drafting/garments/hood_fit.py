"""What a hood must clear: the face, the crown, the head or the neck, the shoulders."""

from math import pi

from ..body import Body
from ..pattern import Clearance, Remedy
from ..words.wording import said
from .hood_shape import HoodShape, shape_for
from .options import Options
from .rounding import up_to
from .shoulders import girth_needed, is_estimated, way_to_shoulder_girth

LEAST_FACE_EASE, LEAST_HEAD_EASE, NECK_EASE = 10.0, 20.0, 40.0
"""mm over the face, over the head that goes through, round the neck of a hood that opens. common
practice, no source."""

HALF_HEAD_BREADTH = 0.13
"""Part of head girth. from memory: ANSUR II, head breadth 147 mm on a head girth of 561 mm."""


def way_over_crown(body: Body) -> float:
    """From the root of the neck up beside the head and over to the middle of the crown, mm.

    The head's top is taken as a half circle as wide as the head, so the way is longer than the height
    by π/2 − 1 of half its breadth.
    """
    half_breadth = HALF_HEAD_BREADTH * body["head_girth"]
    return body["crown_to_shoulder_length"] + (pi / 2 - 1) * half_breadth


def hood_clearances(body: Body, options: Options) -> tuple[Clearance, ...]:
    shape, _ = shape_for(body, options)
    return (
        _face(body, shape),
        _crown(body, shape),
        _neck_that_opens(body, shape) if shape.overlap else _head(body, shape),
        _shoulders(body, shape),
    )


def _face(body: Body, shape: HoodShape) -> Clearance:
    opening, limit = 2 * shape.face, body["face_length"] + LEAST_FACE_EASE
    larger = up_to(limit, 10)
    return Clearance(
        "face opening", opening, limit,
        f"{said(opening - body['face_length'])} of room round the face.",
        f"Too tight round a face of {said(body['face_length'])}.",
        (Remedy(f"A face opening of {said(larger)}", "face_opening", f"{larger:g} mm"),),
        body.is_estimated("face_length"),
    )


def _crown(body: Body, shape: HoodShape) -> Clearance:
    limit = way_over_crown(body)
    higher = up_to(limit, 5)
    return Clearance(
        "reaches over the crown", shape.height, limit,
        f"{said(shape.height - limit)} to spare from neck to crown.",
        f"From the neck over the crown it is {said(limit)}: the hood would sit up off the "
        "shoulders.",
        (Remedy(f"A height of {said(higher)}", "height", f"{higher:g} mm"),),
        body.is_estimated("crown_to_shoulder_length"),
    )


def _head(body: Body, shape: HoodShape) -> Clearance:
    limit = body["head_girth"] + LEAST_HEAD_EASE
    deeper = up_to(limit / 2, 5)
    return Clearance(
        "head through the neck", shape.neck_way, limit,
        f"Closed in front, its neck is {said(shape.neck_way)} round.",
        f"A head of {said(body['head_girth'])} does not go through a neck "
        f"{said(shape.neck_way)} round.",
        (Remedy("Open in front, the fronts lapping", "front", "overlap"),
         Remedy(f"Panels {said(deeper)} deep", "depth", f"{deeper:g} mm")),
        body.is_estimated("head_girth"),
    )


def _neck_that_opens(body: Body, shape: HoodShape) -> Clearance:
    limit = body["neck_base_girth"] + NECK_EASE
    deeper = up_to(limit / 2, 5)
    return Clearance(
        "closes round the neck", shape.neck_way, limit,
        f"Lapped, its neck is {said(shape.neck_way)} round.",
        f"Too tight round a neck of {said(body['neck_base_girth'])}.",
        (Remedy(f"Panels {said(deeper)} deep", "depth", f"{deeper:g} mm"),),
        body.is_estimated("neck_base_girth"),
    )


def _shoulders(body: Body, shape: HoodShape) -> Clearance:
    way = min(way_to_shoulder_girth(body), shape.cape)
    girth, limit = shape.girth_at(way), girth_needed(body, way, shape.beneath)
    return Clearance(
        "room over the shoulders", girth, limit,
        f"The cape is {said(girth)} round where the shoulders need {said(limit)}.",
        f"The cape is only {said(girth)} round where the shoulders need {said(limit)}.",
        (Remedy("Work the hem girth out from the shoulders", "hem_girth", "0 mm"),
         Remedy("Gores over the shoulders too", "gores", "all-round"),
         Remedy("Square gores", "gore_shape", "square"),
         *_deeper_panels(shape, way, limit)),
        is_estimated(body),
    )


def _deeper_panels(shape: HoodShape, way: float, girth: float) -> tuple[Remedy, ...]:
    """Deeper panels leave less of the same hem to the gores, which reach their width lower down; square gores
    stay as they are."""
    if shape.square_gores:
        deeper = up_to(shape.depth + max(0.0, girth - shape.girth_at(way)) / 2, 5)
        return (Remedy(f"Panels {said(deeper)} deep", "depth", f"{deeper:g} mm"),)
    flare = shape.hem_girth - shape.neck_way
    part = (shape.girth_at(way) - shape.neck_way) / flare if flare > 0 else 1.0
    if part >= 0.99:
        return ()
    deeper = up_to((girth - shape.hem_girth * part) / 2 / (1 - part), 5)
    return (Remedy(f"Panels {said(deeper)} deep", "depth", f"{deeper:g} mm"),)
