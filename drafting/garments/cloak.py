"""The cloak: a rectangle, or a sector of a ring that lies round the neck and falls in folds.

A sector of angle θ with a neck edge N long has its neck at radius r = N / θ, and its hem at r + length:
N / π for a half circle, 2N / 3π for three quarters. source: plane geometry (arc = radius × angle). Spread
out it is a cone; `way` from the neck it is N + θ·way round.
"""

from math import pi, tan

from ..body import Body
from ..pattern import Clearance, Pattern, Remedy
from ..words.cautions import CLOAK_CATCHES, LONG_HEM, PINS
from ..words.problems import BadInput, Problem
from ..words.wording import said
from .cloak_pieces import (
    Sector,
    Sheet,
    binding,
    bound_neck,
    free_edge,
    joins,
    layer_piece,
    lining_seams,
    loop_end,
    loop_piece,
    schematic,
)
from .drafted import drafted
from .garment import Chosen, Garment
from .loom import LOOM_WIDTH, fitted_note, loom_width, share_of_loom, unfitted_note
from .options import ChoiceOption, LengthOption, Options
from .rounding import round_to, up_to
from .shoulders import girth_needed, is_estimated, way_to_shoulder_girth

ANGLES = {"half-circle": pi, "three-quarter-circle": 3 * pi / 2}
QUARTER = pi / 2

NECK_EASE = 40.0
LEAST_NECK_EASE = 20.0
LAP = 200.0
LEAST_LAP = 100.0
"""mm: of a sector's neck edge over the neck, and of a rectangle over the shoulders, where it laps. common
practice, no source."""

LEAST_GAP = 2.0
"""mm between the allowances of two fronts cut side by side, for the shears to pass. common practice, no
source."""

CLEAR_OF_GROUND = 0.08
"""Part of stature that the hem stays off the ground, the neck's tilt to the front included. common practice,
no source."""


def _default_width(body: Body) -> float:
    return up_to(max(1.15 * body["stature"], body["shoulder_girth"] + LAP), 50)


OPTIONS = (
    ChoiceOption("shape", "Shape", "How the cloak is cut.", "half-circle",
                 {"rectangle": "rectangle", "half-circle": "half circle",
                  "three-quarter-circle": "three-quarter circle"}),
    LengthOption("length", "Length", "From the neck to the hem, finished.",
                 lambda body: round_to(0.66 * body["stature"], 10), 250, 1700),
    LengthOption("width", "Width of the rectangle", "From one front edge round to the other.",
                 _default_width, 500, 4000),
    LengthOption("neck_length", "Neck edge", "Of a circular cloak; 0 to have it worked out.",
                 0.0, 0, 1200),
    ChoiceOption("cut", "Pieces", "A circular cloak whole, or in quarter circles sewn together.",
                 "as-fits", {"as-fits": "half circle whole, three-quarter circle in quarters",
                             "whole": "whole", "quarters": "quarter circles"}),
    ChoiceOption("closure", "Closed by", "What holds it at the neck or shoulder.", "brooch",
                 {"brooch": "brooch or pin", "toggle": "toggle and loop"}),
    ChoiceOption("lining", "Lining", "A second layer of the same pieces.", "none",
                 {"none": "none", "full": "lined all over"}),
    LengthOption("seam_allowance", "Seam allowance", "Beyond the sewing line.",
                 20.0, 6, 60, "Allowances"),
    LengthOption("hem_depth", "Hem", "Finished depth, turned twice; 0 for raw or woven edges.",
                 10.0, 0, 40, "Allowances"),
    LOOM_WIDTH,
)


def draft(body: Body, options: Options) -> Pattern:
    """Raises BadInput when options contradict each other."""
    _check(options)
    shape, fitting = _shape(body, options)
    layers = ("main", "lining") if options.is_("lining", "full") else ("main",)
    pieces = [layer_piece(options, shape, cloth) for cloth in layers]
    seams = [seam for cloth in layers for seam in joins(options, shape, cloth)]
    if options.is_("lining", "full"):
        seams += lining_seams(options, shape)
    if isinstance(shape, Sector):
        pieces.append(binding(shape))
        seams.append(bound_neck(shape))
    loop = (loop_piece(),) if options.is_("closure", "toggle") else ()
    return drafted(
        GARMENT, body, options,
        pieces=(*pieces, *loop),
        seams=tuple(seams),
        attachments=loop_end(shape) if loop else (),
        finished=_finished(shape),
        clearances=_clearances,
        notes=(*fitting, *_notes(options, shape)),
        cautions=_cautions(options),
        schematic=schematic(shape, (*pieces, *loop)),
    )


def _check(options: Options) -> None:
    if not options.is_("shape", "rectangle"):
        return
    problems = []
    if options.is_("cut", "quarters"):
        problems.append(Problem(
            "cut",
            "A rectangle has no quarter circles: choose whole or as-fits pieces, or a circular shape.",
            also=("shape",),
        ))
    if options["neck_length"]:
        problems.append(Problem(
            "neck_length",
            f"A rectangle has no neck edge to be {said(options['neck_length'])} long: give 0, or "
            "choose a circular shape.",
            also=("shape",),
        ))
    if problems:
        raise BadInput(problems)


def _shape(body: Body, options: Options) -> tuple[Sector | Sheet, tuple[str, ...]]:
    if options.is_("shape", "rectangle"):
        return _sheet(body, options)
    angle = options.pick("shape", ANGLES)
    neck = options["neck_length"] or _neck_that_fits(body, angle)
    whole = options.is_("cut", "whole") or (
        options.is_("cut", "as-fits") and options.is_("shape", "half-circle")
    )
    sector = Sector(angle, neck, options["length"], 1 if whole else round(angle / QUARTER))
    if whole and angle > pi:
        _check_fronts(options, sector)
        return sector, ()
    return _sector_on_the_loom(body, options, sector)


def _check_fronts(options: Options, sector: Sector) -> None:
    """Cut in one, two fronts face each other across the gap, and their allowances must not meet."""
    per_allowance = 1 / tan((2 * pi - sector.angle) / 2)
    needed = free_edge(options) * per_allowance + LEAST_GAP
    if sector.radius >= needed:
        return
    lined = options.is_("lining", "full")
    names, label = ("seam_allowance", "Seam allowances") if lined else ("hem_depth", "Hems")
    raise BadInput([Problem(
        names,
        f"{label} of {said(options[names])} on both fronts run into each other inside a neck edge of "
        f"{said(sector.neck)} when the cloak is cut whole: give narrower ones or a neck edge of "
        f"{said(up_to(needed * sector.angle, 10))} at least, or choose quarter circles.",
        also=("cut", "neck_length"),
    )])


def _neck_that_fits(body: Body, angle: float) -> float:
    """Long enough for the neck, and for the cone to be wide enough at the shoulders."""
    way = way_to_shoulder_girth(body)
    at_shoulders = girth_needed(body, way) - angle * way
    return up_to(max(body["neck_base_girth"] + NECK_EASE, at_shoulders), 10)


def _longest(body: Body) -> float:
    """What still clears the ground."""
    return body["cervicale_height"] - CLEAR_OF_GROUND * body["stature"]


def _sector_on_the_loom(
    body: Body, options: Options, sector: Sector
) -> tuple[Sector, tuple[str, ...]]:
    """A length that lets the sector reach from one selvedge to the other."""
    loom = loom_width(options)
    if not loom:
        return sector, ()
    beyond = _across_allowances(options, sector)
    fit = share_of_loom(loom, sector.reach, beyond, most_across=1, less=0.1, more=0.1)
    length = fit[0] - sector.radius if fit else 0.0
    if not fit or length > max(_longest(body), sector.length):
        return sector, (unfitted_note("The length", sector.length, loom),)
    note = fitted_note("The cloak is", sector.length, length, 1, loom)
    return Sector(sector.angle, sector.neck, length, sector.parts), (note,)


def _sheet(body: Body, options: Options) -> tuple[Sheet, tuple[str, ...]]:
    """Whole widths of cloth where they come near the length: unlined, from selvedge to selvedge."""
    width, wanted, loom = options["width"], options["length"], loom_width(options)
    if not loom:
        return Sheet(width, wanted, 1, selvedges=False), ()
    lined = options.is_("lining", "full")
    each = loom - 2 * options["seam_allowance"] if lined else loom
    near = max(1, round(wanted / max(each, 1.0)))
    longest = max(_longest(body), wanted)
    fitting = [count for count in (near, near - 1)
               if 0.8 * wanted <= count * each <= min(1.2 * wanted, longest)]
    if not fitting:
        return Sheet(width, wanted, 1, selvedges=False), (
            unfitted_note("The length", wanted, loom),
        )
    count = fitting[0]
    across = "one width" if count == 1 else f"{count} widths"
    note = (f"The cloak is {said(count * each)} long instead of {said(wanted)}: {across} of cloth "
            f"{said(loom)} wide.")
    return Sheet(width, count * each, count, selvedges=not lined), (note,)


def _finished(shape: Sector | Sheet) -> dict[str, float]:
    if isinstance(shape, Sheet):
        return {"length": shape.length, "width": shape.width}
    return {"length": shape.length, "neck_length": shape.neck,
            "hem_length": shape.angle * shape.reach, "neck_radius": shape.radius,
            "hem_radius": shape.reach}


def _clearances(body: Body, options: Options) -> tuple[Clearance, ...]:
    shape, _ = _shape(body, options)
    hang = _clear_of_ground(body, shape.length)
    if isinstance(shape, Sheet):
        return _laps(body, shape), hang
    return _round_neck(body, shape), _round_shoulders(body, shape), hang


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
        f"A neck edge of {said(sector.neck)} is too tight for a neck of "
        f"{said(body['neck_base_girth'])}.",
        (Remedy("Work the neck edge out from the body", "neck_length", "0 mm"),),
        body.is_estimated("neck_base_girth"),
    )


def _round_shoulders(body: Body, sector: Sector) -> Clearance:
    way = min(way_to_shoulder_girth(body), sector.length)
    girth, limit = sector.girth_at(way), girth_needed(body, way)
    return Clearance(
        "lies on the shoulders", girth, limit,
        f"Closed, it is {said(girth)} round where the shoulders are widest.",
        f"Closed, it is only {said(girth)} round at the shoulders and rides up: a longer neck "
        "edge or more of a circle would lie flat.",
        (Remedy("Work the neck edge out from the body", "neck_length", "0 mm"),
         Remedy("Three quarters of a circle", "shape", "three-quarter-circle")),
        is_estimated(body),
    )


def _clear_of_ground(body: Body, length: float) -> Clearance:
    """The hem hangs about as far below the root of the neck as the cloak is long."""
    off_ground, limit = body["cervicale_height"] - length, CLEAR_OF_GROUND * body["stature"]
    shorter = _longest(body) // 10 * 10
    return Clearance(
        "hem clears the ground", max(off_ground, 0.0), limit,
        f"The hem hangs about {said(off_ground)} off the ground.",
        "It trails on the ground or trips: shorten it.",
        (Remedy(f"A length of {said(shorter)}", "length", f"{shorter:g} mm"),
         Remedy("A length that need not use up the cloth", "loom_width", "0 mm")),
        body.is_estimated("cervicale_height"),
    )


def _notes(options: Options, shape: Sector | Sheet) -> tuple[str, ...]:
    notes = ["Spread out it shows its outer side; left and right are the wearer's."]
    if isinstance(shape, Sheet):
        notes.append("Pinned on one shoulder it leaves that arm free.")
    else:
        notes.append(
            f"Chalk it with a string from one point: {said(shape.radius)} to the neck edge, "
            f"{said(shape.reach)} to the hem."
        )
        notes.append("Hang it for a day before hemming: the parts on the bias drop.")
        if _too_wide(options, shape):
            notes.append("It is wider than the cloth: the lay shows where it is pieced.")
    if options.is_("closure", "toggle"):
        notes.append("Sew the toggle to the left front, across from the loop.")
    return tuple(notes)


def _too_wide(options: Options, sector: Sector) -> bool:
    loom = loom_width(options)
    across = sector.reach * (2 if sector.angle / sector.parts > pi else 1)
    return bool(loom) and across + _across_allowances(options, sector) > loom + 0.1


def _across_allowances(options: Options, sector: Sector) -> float:
    """Beyond the straight edge that lies along the selvedge, and beyond the hem."""
    straight = free_edge(options) if sector.parts == 1 else options["seam_allowance"]
    return straight + free_edge(options)


def _cautions(options: Options) -> tuple[str, ...]:
    pins = (PINS,) if options.is_("closure", "brooch") else ()
    return (LONG_HEM, CLOAK_CATCHES, *pins)


GARMENT = Garment(
    name="cloak",
    title="Cloak",
    summary="A rectangle, or a half or three-quarter circle, held at the neck or on one shoulder.",
    needs=("stature",),
    uses=("neck_base_girth", "shoulder_girth", "shoulder_width", "cervicale_height"),
    options=OPTIONS,
    draft=draft,
    history="Rectangles pinned on one shoulder are in pictures from the whole period; a half circle "
            "is the star mantle of Emperor Henry II at Bamberg, of about 1020.",
    provenance="common practice, no source, for the rectangle; from memory: the mantle in the "
               "Diocesan Museum, Bamberg",
    worn_at="neck",
    usual_fibre="wool",
    usual_wearer="woman",
    long=True,
    held_by={"pins": Chosen("closure", ("brooch",)), "toggles": Chosen("closure", ("toggle",))},
    instead=("underdress", "tunic", "head-scarf", "trousers", "leg-wraps"),
    cuts_instead={"shape=half-circle": ("rectangle",), "shape=three-quarter-circle": ("rectangle",)},
)
