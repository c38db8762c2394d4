"""The belt: a narrow band over the clothes, tied or buckled. Lengths: common practice, no source."""

from ..body import Body
from ..pattern import Clearance, Pattern, Remedy, SchematicPlace
from ..words.wording import said
from .bands import HEM, MADE, band, band_seams
from .drafted import drafted
from .garment import Garment
from .options import ChoiceOption, LengthOption, Options
from .rounding import round_to, up_to

TO_CLOSE = {"buckle": 80.0, "tied": 300.0}
"""mm beyond the girth: round the buckle's bar and through it, or for a knot."""

OPTIONS = (
    ChoiceOption("closes", "Closes", "What holds its ends.", "buckle",
                 {"buckle": "with a buckle", "tied": "tied"}),
    LengthOption("width", "Width", "Finished; a buckle must be as wide.", 20.0, 8, 120),
    LengthOption("hanging_end", "Beyond the girth", "To close it and hang down.",
                 lambda body: round_to(0.2 * body["stature"], 10), 0, 1500),
    LengthOption("over_clothes", "Over the clothes", "Added to the waist's girth.", 60.0, 0, 400, "Ease"),
    MADE,
    HEM,
)


def draft(body: Body, options: Options) -> Pattern:
    length = _length(body, options)
    belt = band("belt", options["width"], length, options)
    return drafted(
        GARMENT, body, options,
        pieces=(belt,),
        seams=band_seams(belt, options),
        finished={"width": options["width"], "length": length},
        clearances=_clearances,
        notes=("A tied belt is best a little soft; knot it once over the hip, the ends hanging."
               if options.is_("closes", "tied") else
               "Turn one end round the buckle's bar and sew it down; a strap end saves the other.",
               "A warp for a woven band is longer by what the weaving takes up and what stays on the loom: "
               "a tenth and half a metre, as a rule."),
        schematic=(SchematicPlace("belt", 1, 0.0, 0.0),),
    )


def _length(body: Body, options: Options) -> float:
    return body["waist_girth"] + options["over_clothes"] + options["hanging_end"]


def _clearances(body: Body, options: Options) -> tuple[Clearance, ...]:
    spare = options.pick("closes", TO_CLOSE)
    round_waist = body["waist_girth"] + options["over_clothes"]
    wanted = up_to(spare, 10)
    return (Clearance(
        "goes round and closes", _length(body, options), round_waist + spare,
        f"Round the waist it is {said(round_waist)}; the rest closes it and hangs.",
        f"Round the waist it is {said(round_waist)}, and to close it {said(spare)} more.",
        (Remedy(f"{said(wanted)} beyond the girth", "hanging_end", f"{wanted:g} mm"),),
        body.is_estimated("waist_girth")),)


GARMENT = Garment(
    name="woven-belt",
    title="Woven belt",
    summary="A narrow band over the clothes, woven or of cloth, buckled or tied.",
    needs=("waist_girth",),
    uses=("stature",),
    options=OPTIONS,
    draft=draft,
    history="Of most belts the buckle and the strap end are left, few wider than 2 or 3 cm after 700; "
            "leather was commoner than cloth.",
    provenance="common practice, no source",
    worn_at="trunk",
    usual_fibre="wool",
    usual_wearer="man",
    long=False,
    held_by={},
    instead=("tunic",),
)
