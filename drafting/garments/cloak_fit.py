"""What a cloak must do: lap or close, lie on the shoulders, and clear the ground."""

from ..body import Body
from ..pattern import Clearance, Remedy
from ..words.wording import said
from .cloak_shape import (
    CLEAR_OF_GROUND,
    LEAST_LAP,
    LEAST_NECK_EASE,
    Sector,
    Sheet,
    longest_that_clears,
    shape_for,
)
from .options import Options
from .rounding import up_to
from .shoulders import is_estimated, way_to_shoulder_girth


def cloak_clearances(body: Body, options: Options) -> tuple[Clearance, ...]:
    shape, _ = shape_for(body, options)
    hang = _clear_of_ground(body, shape.length)
    if isinstance(shape, Sheet):
        return _laps(body, shape), hang
    return _round_neck(body, shape), _over_shoulders(body, shape), hang


def _laps(body: Body, sheet: Sheet) -> Clearance:
    limit = body["shoulder_girth"] + LEAST_LAP
    wider = up_to(limit, 50)
    return Clearance(
        "laps round the shoulders", sheet.width, limit,
        f"It laps by {said(sheet.width - body['shoulder_girth'])}.",
        f"Round shoulders of {said(body['shoulder_girth'])} it should lap by "
        f"{said(LEAST_LAP)} at least.",
        (Remedy(f"A width of {said(wider)}", "width", f"{wider:g} mm"),),
        body.is_estimated("shoulder_girth"),
    )


def _round_neck(body: Body, sector: Sector) -> Clearance:
    limit = body["neck_base_girth"] + LEAST_NECK_EASE
    return Clearance(
        "closes round the neck", sector.neck, limit,
        f"{said(sector.neck - body['neck_base_girth'])} of room round the neck.",
        f"A way of {said(sector.neck)} from clasp to clasp is too tight for a neck of "
        f"{said(body['neck_base_girth'])}.",
        (Remedy("Work the neck edge out from the body", "neck_length", "0 mm"),),
        body.is_estimated("neck_base_girth"),
    )


def _over_shoulders(body: Body, sector: Sector) -> Clearance:
    limit = way_to_shoulder_girth(body)
    longer = up_to(limit, 10)
    return Clearance(
        "reaches over the shoulders", sector.length, limit,
        f"It hangs {said(sector.length - limit)} below where the shoulders are widest.",
        f"From the nape over the shoulders it is {said(limit)}: the cloak would slip back off them.",
        (Remedy(f"A length of {said(longer)}", "length", f"{longer:g} mm"),),
        is_estimated(body),
    )


def _clear_of_ground(body: Body, length: float) -> Clearance:
    """The hem hangs about as far below the root of the neck as the cloak is long."""
    off_ground, limit = body["cervicale_height"] - length, CLEAR_OF_GROUND * body["stature"]
    shorter = longest_that_clears(body) // 10 * 10
    return Clearance(
        "hem clears the ground", max(off_ground, 0.0), limit,
        f"The hem hangs about {said(off_ground)} off the ground.",
        "It trails on the ground or trips: shorten it.",
        (Remedy(f"A length of {said(shorter)}", "length", f"{shorter:g} mm"),
         Remedy("A length that need not use up the cloth", "loom_width", "0 mm")),
        body.is_estimated("cervicale_height"),
    )
