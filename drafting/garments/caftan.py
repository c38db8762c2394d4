"""The caftan: the wrap coat, its fronts lapped far over and held by a belt, its edges faced with strips.

The strips are straight, so they go on the edges that are: down both fronts and, where wanted, round the
cuffs. Each is sewn to the inside and turned over the edge to the outside, where it shows.
"""

from dataclasses import replace
from math import ceil

from ..body import Body
from ..geometry import Allowance
from ..pattern import Pattern, Piece, Seam, SeamEdge
from ..words.wording import said
from .body_seams import Parts
from .garment import Garment
from .options import ChoiceOption, LengthOption, Option, Options, kept
from .shapes import rectangle
from .wearing import COAT_WORN
from .wrap_coat import GARMENT as WRAP_COAT
from .wrap_coat import draft_coat

LAPS_MORE = 1.4
"""How much further its fronts lap than a wrap coat's: it closes at the side of the body, not in the middle.
source: Knauer 2001, of the caftan in New York; the number: common practice, no source."""

STRIP_SEAM = 8.0
"""mm of allowance along an edge that a strip covers. common practice, no source."""

CUFF_ROOM = 20.0
"""mm that a cuff is wider than a wrap coat's, for the strip that stiffens it. common practice, no source."""

KEPT = ("length", "length_to", "body_width", "hem_girth", "growth_tuck", "sleeve_length", "cuff_girth",
        "over", "chest_ease", "arm_ease", "loom_width", "seam_allowance", "hem_depth", "overlap", "lap",
        "closure", "toggles", "neck_finish", "lining")
"""The wrap coat's options that this coat has; its cut settles the others."""

STRIPS = (
    ChoiceOption("strips", "Strips", "Which edges are faced with strips that show.", "fronts",
                 {"fronts": "down the fronts", "fronts-and-cuffs": "down the fronts and round the cuffs"},
                 "Front"),
    LengthOption("strip_width", "Width of the strips", "As they show.", 50.0, 20, 120, "Front"),
)


def draft(body: Body, options: Options) -> Pattern:
    """Raises BadInput when options contradict each other or the body."""
    pattern = draft_coat(GARMENT, body, options, _as_coat, lambda parts: _edged(parts, options))
    return replace(pattern, notes=(*pattern.notes, *_notes(options)))


def _as_coat(body: Body, options: Options) -> Options:
    return WRAP_COAT.chosen({
        **{option.name: option.default_for(body) for option in WRAP_COAT.options},
        **{name: options.values[name] for name in KEPT},
    })


def _edged(parts: Parts, options: Options) -> Parts:
    """The strips, and the edges they cover without their hems."""
    by_name = {piece.name: piece for piece in parts.pieces}
    covered = {"front": "front edge"}
    if options.is_("strips", "fronts-and-cuffs"):
        covered["sleeve"] = "cuff"
    strips = [_strip(by_name[name], edge, options) for name, edge in covered.items()]
    seams = [
        Seam(f"{strip.copies[copy - 1]} to {name}", (SeamEdge(strip.name, "sewn", copy),),
             (SeamEdge(name, edge, copy),), STRIP_SEAM, stitch="back", treatment="edged", order=94)
        for strip, (name, edge) in zip(strips, covered.items(), strict=True)
        for copy in (1, 2)
    ]
    pieces = [
        replace(piece, allowances={**piece.allowances, covered[piece.name]: Allowance(STRIP_SEAM)})
        if piece.name in covered else piece
        for piece in parts.pieces
    ]
    return Parts((*pieces, *strips), (*parts.seams, *seams))


def _strip(piece: Piece, edge: str, options: Options) -> Piece:
    """As long as the edge; its ends have the allowances of the edges that it runs out at.

    Drawn as it lies on the left front when it is done, its sewn edge on the front's own.
    """
    length = piece.outline[edge].path.length
    before, after = piece.outline.neighbours(edge)
    names = ("upper end", "felled", "lower end", "sewn")
    seam = Allowance(STRIP_SEAM)
    called = {"front": "front strip", "sleeve": "cuff strip"}[piece.name]
    return Piece(
        name=called,
        title=called,
        outline=rectangle(options["strip_width"], length, names),
        allowances={"sewn": seam, "felled": seam,
                    "lower end": Allowance(piece.allowance(before.name)),
                    "upper end": Allowance(piece.allowance(after.name))},
        cut=2,
        mirrored=True,
        copies=(f"left {called}", f"right {called}"),
    )


def _notes(options: Options) -> tuple[str, ...]:
    width = said(options["strip_width"])
    return (f"The strips are counted as of the coat's own cloth. Of silk, or a braid {width} wide, they come "
            "nearer to the finds: then buy that by its length, and cut none.",
            "The belt holds it: either front may lie on top, the same on everyone of a group.")


def _lapping(option: Option) -> Option:
    """The wrap coat's options with a caftan's defaults."""
    if not isinstance(option, LengthOption) or not callable(option.default):
        return option
    usual = option.default
    if option.name == "overlap":
        return replace(option, default=lambda body: min(option.most, ceil(LAPS_MORE * usual(body) / 5) * 5.0))
    if option.name == "cuff_girth":
        return replace(option, default=lambda body: usual(body) + CUFF_ROOM)
    return option


GARMENT = Garment(
    name="caftan",
    title="Caftan",
    summary="A belted coat whose fronts lap far over each other, its edges faced with strips that show.",
    needs=WRAP_COAT.needs,
    uses=WRAP_COAT.uses,
    options=(*map(_lapping, kept(WRAP_COAT.options, KEPT)), *STRIPS),
    draft=draft,
    history="A caftan of linen from the northern Caucasus, 8th to 10th century, has broad silk borders, "
            "closes "
            "at the side and came down to the calf. Silk strips in graves at Birka are read as such edges; "
            "how far north the cut itself came is disputed, and its body and skirts were cut apart at the "
            "waist, ours are not.",
    provenance="Knauer 2001, Metropolitan Museum Journal 36, on the caftan 1996.78.1; from memory: Hägg "
               "1983, "
               "Fornvännen 78, on Birka; the cut in straight panels: common practice, no source",
    worn_at=WRAP_COAT.worn_at,
    usual_fibre="linen",
    usual_wearer="man",
    long=False,
    held_by=WRAP_COAT.held_by,
    instead=("wrap-coat", "tunic", "cloak"),
    worn=COAT_WORN,
)
