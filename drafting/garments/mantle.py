"""The mantle: a rectangle as it comes from the loom, its edges woven on tablets, pinned at the shoulder."""

from ..body import Body
from ..geometry import Allowance, Path, Point
from ..pattern import Clearance, InnerLine, Notch, Pattern, Piece, Remedy, SchematicPlace
from ..words.cautions import PINS, is_young_child
from ..words.problems import BadInput, Problem
from ..words.wording import said
from .cloak_shape import CLEAR_OF_GROUND
from .drafted import drafted
from .garment import Garment
from .options import ChoiceOption, Chosen, LengthOption, Options
from .rounding import round_to, up_to
from .shapes import rectangle

LENGTH, HEIGHT = 1.23, 0.62
"""Of stature. source: Grágás on the mantles that served as money, 204.8 by 102.4 cm (Guðjónsson 1962, page
68), for a man of about 166 cm."""

WIDEST_LOOM = 2200.0
"""mm: as far as two weavers reach at one loom. from memory: Hoffmann 1964, The Warp-Weighted Loom."""

LEAST_ROUND = 1.2
PIN_FROM_THE_END = 0.38
"""Length over the girth of the shoulders; and where the pin goes, of the length, so that the right arm is
free. common practice, no source."""

WARP_TAKEN_UP, LEFT_ON_THE_LOOM = 0.08, 400.0
"""Of the length, and mm of warp. common practice, no source."""

_WOVEN = (Chosen("edges", ("woven",)),)

OPTIONS = (
    LengthOption("length", "Length", "Round the body: the long side, along the warp.",
                 lambda body: round_to(LENGTH * body["stature"], 10), 300, 4000),
    LengthOption("height", "Height", "From the shoulder down: the short side, across the loom.",
                 lambda body: round_to(HEIGHT * body["stature"], 10), 200, 4000),
    LengthOption("fold_over", "Folded over", "Of the height, turned down at the top when it is worn.",
                 0.0, 0, 1000),
    ChoiceOption("closure", "Pinned", "Where it is held.", "brooch",
                 {"brooch": "on the right shoulder, with one pin", "two-brooches": "on both shoulders",
                  "none": "wrapped or held, without a pin"}),
    ChoiceOption("edges", "Edges", "What keeps them from fraying.", "woven",
                 {"woven": "woven to size: selvedges, and borders woven on tablets",
                  "hemmed": "cut from wider cloth and hemmed"}, "Cloth"),
    LengthOption("border", "Woven border", "Its width, of the mantle's own size.", 15.0, 0, 120, "Cloth",
                 when=_WOVEN),
    LengthOption("hem_depth", "Hem", "Finished depth, turned twice.", 8.0, 0, 40, "Allowances",
                 when=(Chosen("edges", ("hemmed",)),)),
)


def draft(body: Body, options: Options) -> Pattern:
    """Raises BadInput for a mantle that no loom could hold or that is nothing but its edges."""
    _check(options)
    return drafted(
        GARMENT, body, options,
        pieces=(_mantle(options),),
        seams=(),
        finished=_finished(options),
        clearances=_clearances,
        notes=_notes(body, options),
        cautions=() if options.is_("closure", "none") else (PINS,),
        schematic=(SchematicPlace("mantle", 1, 0.0, 0.0),),
    )


def _check(options: Options) -> None:
    height, problems = options["height"], []
    if height > WIDEST_LOOM:
        problems.append(Problem(
            "height",
            f"A mantle {said(height)} wide is wider than any loom of the time: give {said(WIDEST_LOOM)} or "
            "less, and let its long side run along the warp."))
    if options["fold_over"] > 0.6 * height:
        problems.append(Problem(
            "fold_over",
            f"Of a height of {said(height)}, {said(options['fold_over'])} folded over leaves more above than "
            f"below: give {said(0.6 * height)} or less.", also=("height",)))
    if options.is_("edges", "woven") and 4 * options["border"] > min(height, options["length"]):
        problems.append(Problem(
            "border",
            f"Borders of {said(options['border'])} on either side are half the mantle: give "
            f"{said(min(height, options['length']) / 4)} or less.", also=("height", "length")))
    if problems:
        raise BadInput(problems)


def _finished(options: Options) -> dict[str, float]:
    length, height = options["length"], options["height"]
    found = {"length": length, "height": height}
    if options.is_("edges", "woven"):
        found["warp_length"] = length * (1 + WARP_TAKEN_UP) + LEFT_ON_THE_LOOM
        found["border_width"] = options["border"]
    return found


def _mantle(options: Options) -> Piece:
    """As it hangs on the loom: its long side down the page, the edge for the shoulders on the left."""
    height, length = options["height"], options["length"]
    woven, folded = options.is_("edges", "woven"), options["fold_over"]
    edge = Allowance(0.0) if woven else Allowance(2 * options["hem_depth"], fold=True)
    names = ("right end", "foot", "left end", "shoulder")
    fold = InnerLine("fold", Path.through(Point(folded, 0), Point(folded, length)))
    pins = options.pick("closure", {"brooch": (PIN_FROM_THE_END,), "two-brooches": (0.4, 0.6), "none": ()})
    return Piece(
        name="mantle",
        title="mantle",
        outline=rectangle(height, length, names),
        allowances=dict.fromkeys(names, edge),
        notches=tuple(Notch("shoulder", length * (1 - part), "pin") for part in pins),
        inner_lines=(fold,) if folded else (),
        grain=(Point(0.7 * height, 0.3 * length), Point(0.7 * height, 0.7 * length)),
    )


def _clearances(body: Body, options: Options) -> tuple[Clearance, ...]:
    _check(options)
    wanted = up_to(LEAST_ROUND * body["shoulder_girth"], 10)
    hangs = options["height"] - options["fold_over"]
    off_ground, limit = body["cervicale_height"] - hangs, CLEAR_OF_GROUND * body["stature"]
    lower = (body["cervicale_height"] - limit + options["fold_over"]) // 10 * 10
    return (
        Clearance(
            "goes round the shoulders and laps", options["length"], LEAST_ROUND * body["shoulder_girth"],
            "It goes round both shoulders and laps where it is pinned.",
            f"Round the shoulders it is {said(body['shoulder_girth'])}, and it must lap.",
            (Remedy(f"A length of {said(wanted)}", "length", f"{wanted:g} mm"),),
            body.is_estimated("shoulder_girth")),
        Clearance(
            "hem clears the ground", max(off_ground, 0.0), limit,
            f"It hangs about {said(off_ground)} off the ground.", "It trails on the ground or trips.",
            (Remedy(f"A height of {said(lower)}", "height", f"{lower:g} mm"),),
            body.is_estimated("cervicale_height")),
    )


def _notes(body: Body, options: Options) -> tuple[str, ...]:
    notes = []
    if options.is_("edges", "woven"):
        found = _finished(options)
        notes.append(
            f"Woven to size it is neither cut nor hemmed: warp threads {said(found['warp_length'])} long, "
            f"the cloth {said(options['height'])} wide on the loom. Begin with a band woven on tablets, "
            "whose weft is the warp, and close the other end in another.")
    if not options.is_("closure", "none") and is_young_child(body["stature"]):
        notes.append("For a small child sew a button and a short loop in place of the pin.")
    return tuple(notes)


GARMENT = Garment(
    name="mantle",
    title="Mantle",
    summary="A rectangle woven to size, with tablet-woven edges, pinned on the shoulder.",
    needs=("stature",),
    uses=("shoulder_girth", "cervicale_height"),
    options=OPTIONS,
    draft=draft,
    history="Icelandic law gives the size of the shaggy mantles that served as money, four ells by two. The "
            "man of Bernuthsfeld had a cloth of 195 by 170 cm with a woven border. Borders woven on tablets "
            "all round are best known from the moors of Thorsberg and Vehnemoor, some centuries earlier.",
    provenance="Guðjónsson 1962, Forn röggvarvefnaður, page 68",
    worn_at="neck",
    usual_fibre="wool",
    usual_wearer="man",
    long=False,
    held_by={"pins": Chosen("closure", ("brooch", "two-brooches"))},
    instead=("cloak",),
)
