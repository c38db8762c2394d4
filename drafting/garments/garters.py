"""Garters: a pair of bands tied under the knee, or wound crosswise from the ankle up. Lengths: common
practice, no source; the way of a band that is wound is a helix, plane geometry."""

from math import hypot

from ..body import Body
from ..pattern import Clearance, Pattern, Remedy, SchematicPlace
from ..words.cautions import WRAPS_TOO_TIGHT
from ..words.wording import said
from .bands import HEM, MADE, band, band_seams
from .drafted import drafted
from .garment import Garment
from .leg_wraps import WRAPPED_PART
from .leg_wraps_shape import leg_of
from .options import ChoiceOption, Chosen, CountOption, LengthOption, Options
from .rounding import up_to
from .schematic import GAP

LEAST_TO_TIE = 250.0
_CROSSED = (Chosen("style", ("crossed",)),)

OPTIONS = (
    ChoiceOption("style", "Style", "How the bands are worn.", "knee",
                 {"knee": "tied under the knee", "crossed": "crossed from the ankle to the knee"}),
    CountOption("crossings", "Crossings", "How often the ends cross on the way up.", 6, 2, 20,
                when=_CROSSED),
    LengthOption("width", "Width", "Of the finished band.", 15.0, 6, 60),
    LengthOption("tie", "To tie", "Both ends together, beyond the girth; they may hang.", 400.0, 0, 1500),
    LengthOption("room_beneath", "Room for what is beneath", "Added to the girths of the leg.", 20.0, 0, 200,
                 "Ease"),
    MADE,
    HEM,
)


def draft(body: Body, options: Options) -> Pattern:
    length = _way(body, options) + options["tie"]
    piece = band("garter", options["width"], length, options, ("left garter", "right garter"))
    step = (2 if options.is_("made", "cloth") else 1) * options["width"] + GAP
    return drafted(
        GARMENT, body, options,
        pieces=(piece,),
        seams=band_seams(piece, options),
        finished={"width": options["width"], "length": length},
        clearances=_clearances,
        notes=(options.pick("style", {
            "knee": "Tie it below the knee over the stocking's top, and turn the top down over it.",
            "crossed": "Lay the middle under the heel of the shoe or behind the ankle, cross the ends before "
                       "and behind on the way up, and tie them under the knee."}),),
        cautions=(WRAPS_TOO_TIGHT,),
        schematic=(SchematicPlace("garter", 1, 0.0, 0.0), SchematicPlace("garter", 2, step, 0.0)),
    )


def _way(body: Body, options: Options) -> float:
    """mm round the knee; or up the leg with both ends, each half as often round as they cross, and then once
    round the knee."""
    beneath = options["room_beneath"]
    under_knee = body["under_knee_girth"] + beneath
    if options.is_("style", "knee"):
        return under_knee
    height = WRAPPED_PART * body["knee_height"]
    leg = leg_of(body, height, beneath)
    return 2 * hypot(options.count("crossings") / 2 * leg.surface / height, height) + under_knee


def _clearances(body: Body, options: Options) -> tuple[Clearance, ...]:
    way = _way(body, options)
    wanted = up_to(LEAST_TO_TIE, 10)
    return (Clearance(
        "long enough to tie", way + options["tie"], way + LEAST_TO_TIE,
        f"{said(way)} round the leg, {said(options['tie'])} to tie.",
        f"{said(way)} round the leg leaves {said(options['tie'])} to tie; it takes {said(LEAST_TO_TIE)}.",
        (Remedy(f"{said(wanted)} to tie", "tie", f"{wanted:g} mm"),),
        body.is_estimated("under_knee_girth")),)


GARMENT = Garment(
    name="garters",
    title="Garters",
    summary="Two narrow bands, tied under the knee or crossed up the calf.",
    needs=("calf_girth",),
    uses=("ankle_girth", "under_knee_girth", "knee_height", "stature"),
    options=OPTIONS,
    draft=draft,
    history="Women's graves of the 6th and 7th centuries among Franks, Alamanni and Bavarians keep the "
            "buckles and strap ends of bands about the calf; painters show men's, crossed.",
    provenance="from memory: Clauss 1976, Strumpfbänder; Archäologische Staatssammlung, Munich, on finds "
               "from Bavaria",
    worn_at="legs",
    usual_fibre="wool",
    usual_wearer="man",
    long=False,
    held_by={"winding": True},
    instead=("leg-wraps",),
    cuts_instead={"style=crossed": ("knee",)},
)
