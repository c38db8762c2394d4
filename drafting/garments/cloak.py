"""The cloak: a rectangle, or a sector of a ring that lies round the neck and falls in folds.

A sector of angle θ with a neck edge N long has its neck at radius r = N / θ, and its hem at r + length:
N / π for a half circle, 2N / 3π for three quarters. source: plane geometry (arc = radius × angle). Spread
out it is a cone; `way` from the neck it is N + θ·way round.
"""

from dataclasses import dataclass
from math import ceil, pi

from ..body import Body
from ..geometry import Allowance, Path, Point
from ..pattern import Attachment, Clearance, InnerLine, Notch, Pattern, Piece, Remedy, Seam, SeamEdge
from ..problems import BadInput, Problem
from ..wording import said
from .cautions import LONG_HEM, PINS
from .fit import with_remedies_that_work
from .garment import ChoiceOption, Garment, LengthOption, Options, round_to
from .loom import LOOM_WIDTH, fitted_note, loom_width, share_of_loom, unfitted_note
from .shapes import rectangle, ring_sector
from .shoulders import girth_needed, is_estimated, way_to_shoulder_girth

ANGLES = {"half-circle": pi, "three-quarter-circle": 3 * pi / 2}
QUARTER = pi / 2

NECK_EASE = 40.0
LEAST_NECK_EASE = 20.0
LAP = 200.0
LEAST_LAP = 100.0
"""mm: of a sector's neck edge over the neck, and of a rectangle over the shoulders, where it laps."""

CLEAR_OF_GROUND = 0.08
"""Part of stature that the hem stays off the ground, the neck's tilt to the front included."""

BINDING_WIDTH = 10.0
LOOP_CUT_WIDTH, LOOP_LENGTH, LOOP_JOINT = 30.0, 100.0, 20.0
CLASP_FROM_NECK = 30.0
"""mm. All of these: common practice, no source."""


def _up(value: float, step: float) -> float:
    return ceil(value / step - 1e-9) * float(step)


def _default_width(body: Body) -> float:
    return _up(max(1.15 * body["stature"], body["shoulder_girth"] + LAP), 50)


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


@dataclass(frozen=True)
class _Sector:
    """A ring's sector, mm and radians, cut in so many equal parts."""

    angle: float
    neck: float
    length: float
    parts: int

    @property
    def radius(self) -> float:
        """Of the neck edge."""
        return self.neck / self.angle

    @property
    def reach(self) -> float:
        """Of the hem."""
        return self.radius + self.length

    def girth_at(self, way: float) -> float:
        return self.neck + self.angle * way


@dataclass(frozen=True)
class _Sheet:
    """A rectangle `width` round and `length` down, sewn together from so many equal widths of cloth."""

    width: float
    length: float
    parts: int
    selvedges: bool


def draft(body: Body, options: Options) -> Pattern:
    """Raises BadInput when options contradict each other."""
    _check(options)
    shape, fitting = _shape(body, options)
    layers = ("main", "lining") if options["lining"] == "full" else ("main",)
    pieces = [_piece(options, shape, cloth) for cloth in layers]
    seams = [seam for cloth in layers for seam in _joins(options, shape, cloth)]
    if options["lining"] == "full":
        seams += _lining_seams(options, shape)
    if isinstance(shape, _Sector):
        pieces.append(_binding(options, shape))
        seams.append(_bound_neck(shape))
    loop = (_loop(),) if options["closure"] == "toggle" else ()
    return Pattern(
        garment=GARMENT.name,
        title=GARMENT.title,
        pieces=(*pieces, *loop),
        seams=tuple(seams),
        attachments=_loop_end(shape) if loop else (),
        finished=_finished(shape),
        measurements=dict(body.values),
        estimated=dict(body.estimated),
        options=dict(options),
        clearances=with_remedies_that_work(
            GARMENT, options, _clearances(body, shape),
            lambda changed: _clearances(body, _shape(body, changed)[0]),
        ),
        notes=(*fitting, *_notes(options, shape)),
        cautions=_cautions(options),
    )


def _check(options: Options) -> None:
    if options["shape"] != "rectangle":
        return
    problems = []
    if options["cut"] == "quarters":
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


def _shape(body: Body, options: Options) -> tuple[_Sector | _Sheet, tuple[str, ...]]:
    if options["shape"] == "rectangle":
        return _sheet(options)
    angle = ANGLES[options["shape"]]
    neck = options["neck_length"] or _neck_that_fits(body, angle)
    whole = options["cut"] == "whole" or (
        options["cut"] == "as-fits" and options["shape"] == "half-circle"
    )
    sector = _Sector(angle, neck, options["length"], 1 if whole else round(angle / QUARTER))
    if whole and angle > pi:
        return sector, ()
    return _sector_on_the_loom(options, sector)


def _neck_that_fits(body: Body, angle: float) -> float:
    """Long enough for the neck, and for the cone to be wide enough at the shoulders."""
    way = way_to_shoulder_girth(body)
    at_shoulders = girth_needed(body, way) - angle * way
    return _up(max(body["neck_base_girth"] + NECK_EASE, at_shoulders), 10)


def _sector_on_the_loom(
    options: Options, sector: _Sector
) -> tuple[_Sector, tuple[str, ...]]:
    """A length that lets the sector reach from one selvedge to the other."""
    loom = loom_width(options)
    if not loom:
        return sector, ()
    beyond = options["seam_allowance"] + _edge(options)
    fit = share_of_loom(loom, sector.reach, beyond, most_across=1, less=0.1, more=0.1)
    if fit is None:
        return sector, (unfitted_note("The length", sector.length, loom),)
    length = fit[0] - sector.radius
    note = fitted_note("The cloak is", sector.length, length, 1, loom)
    return _Sector(sector.angle, sector.neck, length, sector.parts), (note,)


def _sheet(options: Options) -> tuple[_Sheet, tuple[str, ...]]:
    """Whole widths of cloth where they come near the length: unlined, from selvedge to selvedge."""
    width, wanted, loom = options["width"], options["length"], loom_width(options)
    if not loom:
        return _Sheet(width, wanted, 1, selvedges=False), ()
    lined = options["lining"] == "full"
    each = loom - 2 * options["seam_allowance"] if lined else loom
    count = max(1, round(wanted / max(each, 1.0)))
    if not 0.8 <= count * each / wanted <= 1.2:
        return _Sheet(width, wanted, 1, selvedges=False), (
            unfitted_note("The length", wanted, loom),
        )
    across = "one width" if count == 1 else f"{count} widths"
    note = (f"The cloak is {said(count * each)} long instead of {said(wanted)}: {across} of cloth "
            f"{said(loom)} wide.")
    return _Sheet(width, count * each, count, selvedges=not lined), (note,)


def _edge(options: Options) -> float:
    """Allowance of a free edge: turned twice, or sewn to the lining."""
    lined = options["lining"] == "full"
    return float(options["seam_allowance"] if lined else 2 * options["hem_depth"])


def _piece_name(shape: _Sector | _Sheet, cloth: str) -> str:
    part = "quarter" if isinstance(shape, _Sector) else "width"
    name = "cloak" if shape.parts == 1 else part
    return name if cloth == "main" else f"lining {name}"


def _piece(options: Options, shape: _Sector | _Sheet, cloth: str) -> Piece:
    """The straight edge that is the wearer's right front lies up the page, the neck on the left.

    The lining is the mirror image: its right side faces inwards.
    """
    first, last = ("right", "left") if cloth == "main" else ("left", "right")
    name = _piece_name(shape, cloth)
    fold = options["lining"] == "none"
    seam, edge = Allowance(options["seam_allowance"]), Allowance(_edge(options), fold)
    if isinstance(shape, _Sector):
        front = edge if shape.parts == 1 else seam
        outline = ring_sector(shape.radius, shape.reach, shape.angle / shape.parts,
                              ("hem", last, "neck", first))
        # Bound, the neck is cut on its line: the binding folds over it.
        allowances = {"hem": edge, first: front, last: front}
    else:
        level = Allowance(0.0) if shape.selvedges else edge if shape.parts == 1 else seam
        outline = rectangle(shape.length / shape.parts, shape.width, (first, "bottom", last, "top"))
        allowances = {"top": level, "bottom": level, first: edge, last: edge}
    return Piece(
        name=name,
        title=name,
        outline=outline,
        allowances=allowances,
        cut=shape.parts,
        notches=_clasp_notches(shape, first, last) if cloth == "main" else (),
        cloth=cloth,
    )


def _clasp_notches(shape: _Sector | _Sheet, first: str, last: str) -> tuple[Notch, ...]:
    # One edge starts at the neck and the other ends there.
    return (Notch(first, CLASP_FROM_NECK, "clasp"), Notch(last, CLASP_FROM_NECK, "clasp", True))


def _edges(shape: _Sector | _Sheet, cloth: str) -> dict[str, tuple[SeamEdge, ...]]:
    """The free edges of the whole cloak, each as the edges of its parts that make it up."""
    name = _piece_name(shape, cloth)

    def of_all(edge: str) -> tuple[SeamEdge, ...]:
        return tuple(SeamEdge(name, edge, copy) for copy in range(1, shape.parts + 1))

    if isinstance(shape, _Sector):
        return {"right front": (SeamEdge(name, "right", 1),),
                "left front": (SeamEdge(name, "left", shape.parts),),
                "hem": of_all("hem"), "neck": of_all("neck")}
    return {"right front": of_all("right"), "left front": of_all("left"),
            "hem": (SeamEdge(name, "bottom", shape.parts),), "neck": (SeamEdge(name, "top", 1),)}


def _joins(options: Options, shape: _Sector | _Sheet, cloth: str) -> list[Seam]:
    """The seams between the parts of one layer."""
    name = _piece_name(shape, cloth)
    selvedges = isinstance(shape, _Sheet) and shape.selvedges
    one, other = ("left", "right") if isinstance(shape, _Sector) else ("bottom", "top")
    return [
        Seam(
            f"{name} {copy} to {copy + 1}",
            (SeamEdge(name, one, copy),), (SeamEdge(name, other, copy + 1),),
            0.0 if selvedges else options["seam_allowance"],
            stitch="whip" if selvedges else "running",
            treatment="butted selvedges" if selvedges else "run-and-fell",
        )
        for copy in range(1, shape.parts)
    ]


def _lining_seams(options: Options, shape: _Sector | _Sheet) -> list[Seam]:
    """The lining felled to the cloak along every edge, before the neck is bound."""
    inner, outer = _edges(shape, "lining"), _edges(shape, "main")
    return [
        Seam(f"lining, {side}", inner[side], outer[side], options["seam_allowance"],
             stitch="fell", treatment="felled lining", order=1)
        for side in outer
    ]


def _binding(options: Options, shape: _Sector) -> Piece:
    """A strip in four equal parts: two are seen, outside and inside, and two are turned in."""
    width, turned_in = 2 * BINDING_WIDTH, Allowance(BINDING_WIDTH)
    fold = Path.through(Point(width / 2, 0), Point(width / 2, shape.neck))
    return Piece(
        name="neck binding",
        title="neck binding",
        outline=rectangle(width, shape.neck, ("end", "inner side", "other end", "outer side")),
        allowances={name: turned_in for name in ("end", "inner side", "other end", "outer side")},
        inner_lines=(InnerLine("fold over the edge", fold),),
    )


def _bound_neck(shape: _Sector) -> Seam:
    return Seam("neck binding to the neck", (SeamEdge("neck binding", "outer side"),),
                _edges(shape, "main")["neck"], BINDING_WIDTH, stitch="back", treatment="bound", order=2)


def _loop() -> Piece:
    joint, width = Allowance(LOOP_JOINT), LOOP_CUT_WIDTH
    return Piece(
        name="loop",
        title="loop",
        outline=rectangle(width, LOOP_LENGTH, ("end", "right", "other end", "left")),
        allowances={"end": joint, "other end": joint},
        inner_lines=tuple(
            InnerLine(name, Path.through(Point(width * part, 0), Point(width * part, LOOP_LENGTH)))
            for name, part in (("fold in", 0.25), ("fold in half", 0.5), ("fold in again", 0.75))
        ),
    )


def _loop_end(shape: _Sector | _Sheet) -> tuple[Attachment, ...]:
    right_front = _edges(shape, "main")["right front"][0]
    return (Attachment("loop to the right front", "loop", 1, right_front, CLASP_FROM_NECK),)


def _finished(shape: _Sector | _Sheet) -> dict[str, float]:
    if isinstance(shape, _Sheet):
        return {"length": shape.length, "width": shape.width}
    return {"length": shape.length, "neck_length": shape.neck,
            "hem_length": shape.angle * shape.reach, "neck_radius": shape.radius,
            "hem_radius": shape.reach}


def _clearances(body: Body, shape: _Sector | _Sheet) -> tuple[Clearance, ...]:
    hang = _clear_of_ground(body, shape.length)
    if isinstance(shape, _Sheet):
        return _laps(body, shape), hang
    return _round_neck(body, shape), _round_shoulders(body, shape), hang


def _laps(body: Body, sheet: _Sheet) -> Clearance:
    limit = body["shoulder_girth"] + LEAST_LAP
    wider = _up(limit, 50)
    return Clearance(
        "laps round the shoulders", sheet.width, limit,
        f"It laps by {said(sheet.width - body['shoulder_girth'])}."
        if sheet.width >= limit
        else f"Round shoulders of {said(body['shoulder_girth'])} it should lap by "
        f"{said(LEAST_LAP)} at least.",
        (Remedy(f"A width of {said(wider)}", "width", f"{wider:g} mm"),),
        body.is_estimated("shoulder_girth"),
    )


def _round_neck(body: Body, sector: _Sector) -> Clearance:
    limit = body["neck_base_girth"] + LEAST_NECK_EASE
    return Clearance(
        "closes round the neck", sector.neck, limit,
        f"{said(sector.neck - body['neck_base_girth'])} of room round the neck."
        if sector.neck >= limit
        else f"A neck edge of {said(sector.neck)} is too tight for a neck of "
        f"{said(body['neck_base_girth'])}.",
        (Remedy("Work the neck edge out from the body", "neck_length", "0 mm"),),
        body.is_estimated("neck_base_girth"),
    )


def _round_shoulders(body: Body, sector: _Sector) -> Clearance:
    way = min(way_to_shoulder_girth(body), sector.length)
    girth, limit = sector.girth_at(way), girth_needed(body, way)
    return Clearance(
        "lies on the shoulders", girth, limit,
        f"Closed, it is {said(girth)} round where the shoulders are widest."
        if girth >= limit
        else f"Closed, it is only {said(girth)} round at the shoulders and rides up: a longer neck "
        "edge or more of a circle would lie flat.",
        (Remedy("Work the neck edge out from the body", "neck_length", "0 mm"),
         Remedy("Three quarters of a circle", "shape", "three-quarter-circle")),
        is_estimated(body),
    )


def _clear_of_ground(body: Body, length: float) -> Clearance:
    """The hem hangs about as far below the root of the neck as the cloak is long."""
    off_ground, limit = body["cervicale_height"] - length, CLEAR_OF_GROUND * body["stature"]
    shorter = (body["cervicale_height"] - limit) // 10 * 10
    return Clearance(
        "hem clears the ground", max(off_ground, 0.0), limit,
        f"The hem hangs about {said(off_ground)} off the ground."
        if off_ground >= limit
        else "It trails on the ground or trips: shorten it.",
        (Remedy(f"A length of {said(shorter)}", "length", f"{shorter:g} mm"),),
        body.is_estimated("cervicale_height"),
    )


def _notes(options: Options, shape: _Sector | _Sheet) -> tuple[str, ...]:
    notes = ["Spread out it shows its outer side; left and right are the wearer's."]
    if isinstance(shape, _Sheet):
        notes.append("Pinned on one shoulder it leaves that arm free.")
    else:
        notes.append(
            f"Chalk it with a string from one point: {said(shape.radius)} to the neck edge, "
            f"{said(shape.reach)} to the hem."
        )
        notes.append("Hang it for a day before hemming: the parts on the bias drop.")
        if _too_wide(options, shape):
            notes.append("It is wider than the cloth: the lay shows where it is pieced.")
    if options["closure"] == "toggle":
        notes.append("Sew the toggle to the left front, across from the loop.")
    return tuple(notes)


def _too_wide(options: Options, sector: _Sector) -> bool:
    loom = loom_width(options)
    across = sector.reach * (2 if sector.angle / sector.parts > pi else 1)
    return bool(loom) and across + options["seam_allowance"] + _edge(options) > loom + 0.1


def _cautions(options: Options) -> tuple[str, ...]:
    catches = (
        "A cloak held at the throat can catch and pull: for a small child let the closing give way, "
        "and follow the event's rules and your local code on children's clothing."
    )
    return (LONG_HEM, catches, PINS) if options["closure"] == "brooch" else (LONG_HEM, catches)


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
)
