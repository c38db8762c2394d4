"""Wide trousers: two broad straight legs, pleated on to a band below each knee, on a drawstring.

The seat is that of the trousers, a square gusset where four seams meet; the legs are as wide all the way
down, and longer than from the waist to the knee by what hangs over the band.
"""

from dataclasses import replace

from ..body import Body
from ..geometry import Allowance
from ..pattern import Clearance, Level, Notch, Pattern, Piece, Remedy, SchematicPlace, Seam, SeamEdge
from ..words.problems import BadInput, Problem
from ..words.wording import said
from .drafted import drafted
from .fit import WAIST_TO_HIP
from .garment import Garment
from .legs import Legs, legs_for, named_length
from .options import LengthOption, Options, kept
from .rounding import round_to, up_to
from .schematic import below
from .shapes import rectangle
from .trousers import GARMENT as TROUSERS
from .trousers import TO_TIE, trouser_cautions
from .trousers_fit import LEAST_HIP_EASE, trouser_clearances
from .trousers_pieces import TURN_UNDER, loop_ends, schematic, trouser_pieces, trouser_seams

LEG_WIDTH = 0.65
"""Of the stature, round each leg: about twice the thigh. common practice, no source: no leg is preserved."""

BLOUSE, LEAST_BLOUSE = 0.05, 70.0
"""Of the stature, and mm at the least, that the leg hangs over its band, so that the knee bends. common
practice, no source."""

BELOW_THE_SEAT = 115.0
"""mm of leg and band below the seat gusset's lower corner, which hangs by half the crotch length and
0.0745 of the stature with the trousers' own defaults. source: plane geometry; the mm: common practice."""

ROUND_THE_KNEE, OVER_THE_HEEL = 20.0, 15.0
"""mm that a band is wider than the leg under the knee, and than the foot. common practice, no source."""

KEPT = ("waist", "casing", "front_slit", "gusset_size", "rise_ease", "over", "seam_allowance")
"""The trousers' options that these have as they are."""


def _widest(body: Body) -> float:
    return max(body["hip_girth"], body["waist_girth"])


def _default_blouse(body: Body) -> float:
    return max(LEAST_BLOUSE, round_to(BLOUSE * body["stature"], 5))


def _default_length(body: Body) -> float:
    """To below the knee; further down on a small child, whose legs are short for a seat to sit in."""
    seat = body["crotch_length"] / 2 + 0.0745 * body["stature"]
    return max(named_length(body, "knee"), up_to(seat + BELOW_THE_SEAT - _default_blouse(body), 5))


def _default_width(body: Body) -> float:
    return up_to(max(LEG_WIDTH * body["stature"], _widest(body) / 2 + 100, 1.5 * body["thigh_girth"]), 10)


def _default_band(body: Body) -> float:
    return up_to(max(body["under_knee_girth"] + ROUND_THE_KNEE, body["heel_ankle_girth"] + OVER_THE_HEEL), 5)


OPTIONS = (
    LengthOption("length", "Length", "From the waist down the outside to the lower edge of the band.",
                 _default_length, 250, 1200),
    LengthOption("leg_width", "Round each leg", "The panel's width, pleated in at the band.",
                 _default_width, 400, 2000),
    LengthOption("blouse", "Hangs over the band", "Length of leg beyond what reaches the band.",
                 _default_blouse, 0, 300),
    LengthOption("band_girth", "Band round the leg", "Of the finished band below the knee.",
                 _default_band, 150, 700),
    LengthOption("band_depth", "Depth of the band", "Of the finished band.", 40.0, 20, 90),
    *kept(TROUSERS.options, KEPT),
)


def draft(body: Body, options: Options) -> Pattern:
    """Raises BadInput when options contradict each other or the body."""
    if options["leg_width"] < 1.1 * options["band_girth"]:
        raise BadInput([Problem(
            "leg_width", f"Legs {said(options['leg_width'])} wide have nothing to pleat on to a band of "
            f"{said(options['band_girth'])}: give {said(1.1 * options['band_girth'])} or more, or a narrower "
            "band.", also=("band_girth",))])
    asked, legs = _as_trousers(body, options)
    pieces = _pieces(asked, options, legs)
    return drafted(
        GARMENT, body, options,
        pieces=pieces,
        seams=_seams(asked, options, legs),
        attachments=loop_ends(asked, pieces),
        finished=_finished(body, options, legs),
        clearances=_clearances,
        levels=_levels(body, options, legs),
        notes=_notes(body, options, legs),
        cautions=trouser_cautions(body, options),
        schematic=_schematic(legs, pieces),
    )


def _as_trousers(body: Body, options: Options) -> tuple[Options, Legs]:
    """The trousers that have such a seat, and their legs, straight."""
    asked = TROUSERS.chosen({
        **{option.name: option.default_for(body) for option in TROUSERS.options},
        **{name: options.values[name] for name in KEPT},
        "length_to": "by-number",
        "length": options["length"] + options["blouse"] - options["band_depth"],
        "hip_ease": 0.0, "thigh_ease": 0.0, "leg_hem": 0.0, "ankle_slit": 0.0,
    })
    legs = legs_for(body, asked)
    width = max(options["leg_width"], legs.width)
    return asked, replace(legs, width=width, hem=width)


def _pieces(asked: Options, options: Options, legs: Legs) -> tuple[Piece, ...]:
    leg, *others = trouser_pieces(asked, legs)
    seam = Allowance(options["seam_allowance"])
    leg = replace(leg, allowances={**leg.allowances, "hem": seam}, roles={"waist": "waist"},
                  notches=(*leg.notches, Notch("hem", legs.width / 2, "outside of the leg")))
    girth, depth = options["band_girth"], options["band_depth"]
    band = Piece(
        name="knee band",
        title="knee band",
        outline=rectangle(girth, depth, ("top", "front end", "bottom", "back end")),
        allowances={"top": seam, "front end": seam, "back end": seam,
                    "bottom": Allowance(depth + TURN_UNDER, fold=True, under=TURN_UNDER)},
        cut=2,
        mirrored=True,
        copies=("right knee band", "left knee band"),
        notches=(Notch("top", girth / 2, "outside of the leg"),),
        roles={"bottom": "hem"},
        faces={"front end": "front", "back end": "back"},
    )
    return (leg, *others, band)


def _seams(asked: Options, options: Options, legs: Legs) -> tuple[Seam, ...]:
    """The bands go on while the legs are flat, and each inseam runs on through its band."""
    width, more = options["seam_allowance"], legs.width - options["band_girth"]
    bands = [Seam(f"{side} leg to knee band", (SeamEdge("leg", "hem", copy),),
                  (SeamEdge("knee band", "top", copy),), width, ease=more, order=5)
             for copy, side in ((1, "right"), (2, "left"))]
    through = [
        replace(seam, a=(SeamEdge("knee band", "back end", seam.a[0].copy), *seam.a),
                b=(SeamEdge("knee band", "front end", seam.b[0].copy), *seam.b))
        if seam.name.endswith("inseam") else seam
        for seam in trouser_seams(asked)
    ]
    return (*bands, *through)


def _finished(body: Body, options: Options, legs: Legs) -> dict[str, float]:
    found = {
        "waist_girth": 2 * legs.width, "hip_girth": 2 * legs.width, "thigh_girth": legs.width,
        "leg_hem_girth": options["band_girth"], "length": options["length"],
        "crotch_length": legs.crotch_way, "front_rise": legs.front_rise, "back_rise": legs.back_rise,
        "inseam": legs.gusset + legs.taper.side_length + options["band_depth"],
    }
    if options.is_("waist", "drawstring"):
        found["drawstring_length"] = up_to(_widest(body) + TO_TIE, 10)
    return found


def _clearances(body: Body, options: Options) -> tuple[Clearance, ...]:
    asked, legs = _as_trousers(body, options)
    squat = next(c for c in trouser_clearances(body, asked) if c.name == "room to squat")
    needed, around = _widest(body) + LEAST_HIP_EASE, 2 * legs.width
    band = options["band_girth"]
    wider = Remedy(f"A band of {said(_default_band(body))}", "band_girth", f"{_default_band(body):g} mm")
    knee, heel = body["under_knee_girth"] + ROUND_THE_KNEE / 2, body["heel_ankle_girth"] + OVER_THE_HEEL - 5
    return (
        Clearance("room at the hips", around, needed, f"Both legs together are {said(around)} round.",
                  f"Both legs together are only {said(around)} round: {said(needed)} is wanted.",
                  (Remedy(f"Legs {said(_default_width(body))} wide", "leg_width",
                          f"{_default_width(body):g} mm"),), body.is_estimated("hip_girth")),
        squat,
        Clearance("band round the leg", band, knee, f"The band is {said(band)}, the leg under the knee "
                  f"{said(body['under_knee_girth'])}.", f"A band of {said(band)} binds a leg of "
                  f"{said(body['under_knee_girth'])} under the knee.", (wider,),
                  body.is_estimated("under_knee_girth")),
        Clearance("heel through the band", band, heel, f"Heel and instep, {said(body['heel_ankle_girth'])}, "
                  f"pass the band of {said(band)}.", f"Heel and instep, {said(body['heel_ankle_girth'])}, do "
                  f"not pass a band of {said(band)}.", (wider,), body.is_estimated("heel_ankle_girth")),
    )


def _levels(body: Body, options: Options, legs: Legs) -> tuple[Level, ...]:
    around = 2 * legs.width
    return (
        Level("waist", 0.0, around, body["waist_girth"], kind="waist"),
        Level("hips", WAIST_TO_HIP * body["stature"], around, body["hip_girth"], kind="hips"),
        Level("knee band, one leg", options["length"], options["band_girth"], body["under_knee_girth"],
              kind="leg"),
    )


def _notes(body: Body, options: Options, legs: Legs) -> tuple[str, ...]:
    times = legs.width / options["band_girth"]
    notes = [*legs.changes, "Left and right are the wearer's. Pieces show their outer side.",
             f"Each leg is {times:.1f} times as wide as its band: lay it in narrow pleats or gather it, "
             "evenly "
             "on both sides of the mark at the outside of the leg."]
    if options.is_("waist", "drawstring"):
        cord = said(_finished(body, options, legs)["drawstring_length"])
        ends = ("its ends come out at the front slit" if options["front_slit"]
                else "work two eyelets in front before it is turned")
        notes.append(f"A cord of {cord} runs in the casing; {ends}.")
    return tuple(notes)


def _schematic(legs: Legs, pieces: tuple[Piece, ...]) -> tuple[SchematicPlace, ...]:
    placed = schematic(legs, pieces)
    return (*placed, *below(placed, pieces, [("knee band", 1), ("knee band", 2)]))


GARMENT = Garment(
    name="wide-trousers",
    title="Wide trousers",
    summary="Two broad straight legs, pleated on to a band below each knee, on a drawstring or a belt.",
    needs=TROUSERS.needs,
    uses=(*TROUSERS.uses, "under_knee_girth"),
    options=OPTIONS,
    draft=draft,
    history="Picture stones of Gotland and the tapestry of Oseberg show men in trousers that bag to the "
            "knee. "
            "Scraps of crinkled wool sewn in folds, from Hedeby, are read as such a pair; their cut is lost, "
            "and seat and band here are ours.",
    provenance="from memory: Hägg 1984, Die Textilfunde aus dem Hafen von Haithabu; Hägg 1991; Ibn Rusta; "
               "the "
               "cut: common practice, no source",
    worn_at="legs",
    usual_fibre="wool",
    usual_wearer="man",
    long=False,
    held_by=TROUSERS.held_by,
    instead=("trousers", "tunic", "leg-wraps"),
)
