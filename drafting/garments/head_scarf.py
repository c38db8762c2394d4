"""The head-scarf: a square folded to a triangle, the triangle alone, or a long rectangle.

A square's side is about one and a half times the head's girth, so that its diagonal goes round the head
and still ties or pins. Common practice, no source.
"""

from math import sqrt

from ..body import Body
from ..geometry import Allowance, Edge, Outline, Path, Point
from ..pattern import Clearance, InnerLine, Pattern, Piece, Remedy, SchematicPlace
from ..words.cautions import CORDS, PINS
from ..words.problems import BadInput, Problem
from ..words.wording import said
from .drafted import drafted
from .garment import Garment
from .loom import LOOM_WIDTH, fitted_note, loom_width, share_of_loom, unfitted_note
from .options import ChoiceOption, Chosen, LengthOption, Options
from .rounding import up_to
from .shapes import rectangle
from .wearing import Wearing

SIDE_OF_HEAD = 1.5
LONG_SIDE_OF_HEAD = 2.6
TO_TIE = 0.45
"""Side of a square, and length of a long scarf, over head girth; and what is left to tie or pin."""

BEHIND = 40.0
"""mm that the cloth hangs below the nape."""


def _default_side(body: Body) -> float:
    by_depth = (body["crown_to_nape_length"] + BEHIND) * sqrt(2)
    return up_to(max(SIDE_OF_HEAD * body["head_girth"], by_depth), 10)


OPTIONS = (
    ChoiceOption("shape", "Shape", "How the scarf is cut.", "square",
                 {"square": "square, folded to a triangle", "triangle": "triangle",
                  "rectangle": "long rectangle"}),
    LengthOption("side", "Side", "Of the square, or the short sides of the triangle, finished.",
                 _default_side, 300, 1600,
                 when=(Chosen("shape", ("square", "triangle")),)),
    LengthOption("length", "Length", "Of the long rectangle, finished.",
                 lambda body: up_to(LONG_SIDE_OF_HEAD * body["head_girth"], 10), 400, 3500,
                 when=(Chosen("shape", ("rectangle",)),)),
    LengthOption("width", "Width", "Of the long rectangle, finished.",
                 lambda body: up_to(body["crown_to_nape_length"] + BEHIND, 10), 150, 1600,
                 when=(Chosen("shape", ("rectangle",)),)),
    LengthOption("hem_depth", "Hem", "Finished depth, turned twice; 0 for selvedges.",
                 5.0, 0, 20, "Allowances"),
    LOOM_WIDTH,
)


def draft(body: Body, options: Options) -> Pattern:
    """Raises BadInput when options contradict each other."""
    _check(options)
    side, length, width, fitting = _sizes(options)
    if options.is_("shape", "rectangle"):
        piece = _rectangle(options, width, length)
        finished = {"length": length, "width": width}
    else:
        piece = _square(options, side) if options.is_("shape", "square") else _triangle(options, side)
        finished = {"side": side, "long_side": side * sqrt(2)}
    return drafted(
        GARMENT, body, options,
        pieces=(piece,),
        seams=(),
        finished=finished,
        clearances=_clearances,
        notes=(*fitting, *_notes(options)),
        cautions=(PINS, CORDS),
        schematic=(SchematicPlace("scarf", 1, 0.0, 0.0),),
    )


def _check(options: Options) -> None:
    if options.is_("shape", "rectangle") and options["width"] > options["length"]:
        raise BadInput([Problem(
            "width",
            f"A long scarf {said(options['width'])} wide is wider than its length of "
            f"{said(options['length'])}: give a width of {said(options['length'])} or less, or "
            "exchange the two.",
            also=("length",),
        )])


def _sizes(options: Options) -> tuple[float, float, float, tuple[str, ...]]:
    side, length, width = options["side"], options["length"], options["width"]
    loom = loom_width(options)
    if not loom:
        return side, length, width, ()
    long = options.is_("shape", "rectangle")
    what, wanted = ("The scarf's width", width) if long else ("The scarf's side", side)
    fit = share_of_loom(loom, wanted, 4 * options["hem_depth"], less=0.0)
    if fit is None:
        return side, length, width, (unfitted_note(what, wanted, loom),)
    fitted, across = fit
    note = (fitted_note(f"{what} is", wanted, fitted, across, loom),)
    return (side, length, min(fitted, length), note) if long else (fitted, length, width, note)


def _hem(options: Options) -> Allowance:
    return Allowance(2 * options["hem_depth"], fold=True)


def _rectangle(options: Options, width: float, length: float) -> Piece:
    hem = _hem(options)
    return Piece(
        name="scarf",
        title="head-scarf",
        outline=rectangle(width, length),
        allowances={name: hem for name in ("top", "right", "bottom", "left")},
    )


def _square(options: Options, side: float) -> Piece:
    fold = Path.through(Point(0, side), Point(side, 0))
    return Piece(
        name="scarf",
        title="head-scarf",
        outline=rectangle(side, side),
        allowances={name: _hem(options) for name in ("top", "right", "bottom", "left")},
        inner_lines=(InnerLine("fold", fold),),
        # Beside the fold, where both can be read.
        grain=(Point(side * 0.3, side * 0.1), Point(side * 0.3, side * 0.55)),
    )


def _triangle(options: Options, side: float) -> Piece:
    top, corner, foot = Point(0, 0), Point(side, side), Point(0, side)
    return Piece(
        name="scarf",
        title="head-scarf",
        outline=Outline((
            Edge("long side", Path.through(top, corner)),
            Edge("bottom", Path.through(corner, foot)),
            Edge("left", Path.through(foot, top)),
        )),
        allowances={name: _hem(options) for name in ("long side", "bottom", "left")},
        grain=(Point(side * 0.2, side * 0.4), Point(side * 0.2, side * 0.85)),
    )


def _clearances(body: Body, options: Options) -> tuple[Clearance, ...]:
    _check(options)
    side, length, width, _ = _sizes(options)
    long = options.is_("shape", "rectangle")
    round_head, over_head = (length, width) if long else (side * sqrt(2), side / sqrt(2))
    wanted_round = (1 + TO_TIE) * body["head_girth"]
    wanted_over = body["crown_to_nape_length"] + BEHIND
    if long:
        longer, wider = up_to(wanted_round, 10), up_to(wanted_over, 10)
        to_tie = (Remedy(f"A length of {said(longer)}", "length", f"{longer:g} mm"),)
        to_cover = (Remedy(f"A width of {said(wider)}", "width", f"{wider:g} mm"),)
    else:
        larger = up_to(max(wanted_round / sqrt(2), wanted_over * sqrt(2)), 10)
        to_tie = to_cover = (Remedy(f"A side of {said(larger)}", "side", f"{larger:g} mm"),)
    return (
        _enough("goes round the head and ties", round_head, wanted_round, to_tie,
                body.is_estimated("head_girth")),
        _enough("covers the head down to the nape", over_head, wanted_over, to_cover,
                body.is_estimated("crown_to_nape_length")),
    )


def _enough(
    name: str, value: float, limit: float, remedies: tuple[Remedy, ...], estimated: bool
) -> Clearance:
    return Clearance(
        name, value, limit,
        f"{said(value - limit)} to spare.", f"{said(limit - value)} too short.",
        remedies, estimated,
    )


def _notes(options: Options) -> tuple[str, ...]:
    return options.pick("shape", {
        "square": ("Fold it corner to corner, lay the fold over the forehead, and tie or pin it at "
                   "the nape.",),
        "triangle": ("The long side is on the bias and stretches: hem it without pulling.",),
        "rectangle": ("Lay the middle over the head, cross the ends under the chin or behind the "
                      "neck, and pin or tuck them in.",),
    })


GARMENT = Garment(
    name="head-scarf",
    title="Head-scarf",
    summary="A square, a triangle or a long rectangle, tied or pinned over the hair.",
    needs=("head_girth",),
    uses=("crown_to_nape_length", "stature"),
    options=OPTIONS,
    draft=draft,
    history="Scarves of fine wool and silk were found beside the caps of 10th-century Dublin.",
    provenance="from memory: Wincott Heckett 2003, Viking Age Headcoverings from Dublin",
    worn_at="head",
    usual_fibre="linen",
    usual_wearer="woman",
    long=False,
    held_by={"pins": True},
    instead=("cloak", "tunic"),
    worn=Wearing(
        hangs_from="head",
        lies={"scarf": "over the head"},
        # Folded, it is the triangle in two layers.
        shown_as={"shape=square": "triangle"},
    ),
)
