"""A garment on the body block put together: its gores, its seams, and what is said about it."""

from dataclasses import dataclass, replace

from ..body import Body
from ..geometry import Allowance
from ..pattern import Half, InnerLine, Pattern, Piece, SchematicPlace, Seam, SeamEdge
from ..words.cautions import LONG_HEM, NECK_CLOSING
from ..words.wording import said
from .block_facts import block_clearances
from .block_options import hip_depth
from .body_block import Block, block_for
from .body_panels import SIDES, on_panel, panels, side_panels, tucks_above_hem
from .drafted import Clearances, drafted
from .fit import girth_at
from .garment import Garment
from .gore import SLIT_TURN, WIDEST_ANGLE, Gore, Gores, GoreSide
from .options import Options
from .schematic import GAP, below
from .sleeve import square_gusset

GUSSET_EDGES = ("back sleeve", "back body", "front body", "front sleeve")
"""Clockwise from the corner that points down the sleeve."""

GUSSET_FACES: tuple[Half, ...] = ("back", "back", "front", "front")

CHILD_STATURE = 1500.0
"""mm; wearers up to this height are given the cautions for children. common practice, no source."""


@dataclass(frozen=True)
class Parts:
    """The pieces of a garment on the body block and the seams that join them."""

    pieces: tuple[Piece, ...]
    seams: tuple[Seam, ...]


def draft_block(garment: Garment, body: Body, options: Options) -> Pattern:
    """Underdress and tunic: closed in front, pulled on over the head. Raises BadInput."""
    block = block_for(body, options)
    parts = block_parts(block, options)
    return finish(
        garment, body, options, block, parts,
        lambda body, options: block_clearances(body, options, block_for(body, options)),
        notes=_neck_notes(options, block),
        cautions=neck_cautions(body, options),
    )


def finish(
    garment: Garment,
    body: Body,
    options: Options,
    block: Block,
    parts: Parts,
    clearances: Clearances,
    notes: tuple[str, ...] = (),
    cautions: tuple[str, ...] = (),
    extra: dict[str, float] | None = None,
) -> Pattern:
    """The pattern, with everything that all garments on the block have to say."""
    return drafted(
        garment, body, options,
        pieces=parts.pieces,
        seams=parts.seams,
        finished=_finished(body, block) | (extra or {}),
        clearances=clearances,
        levels=block.levels(body),
        notes=(*_notes(options, block), *notes),
        cautions=(*_cautions(body, block), *cautions),
        schematic=schematic(block, parts.pieces),
    )


def block_parts(block: Block, options: Options) -> Parts:
    """Panels, sleeves, gussets, gores and facing, and their seams in the order of making."""
    seam = Allowance(options["seam_allowance"])
    hem = Allowance(2 * options["hem_depth"], fold=True)
    turned = options.is_("neck_finish", "turned")
    width = options["seam_allowance"]
    pieces = list(panels(block, seam, hem, turned_neck=turned))
    seams = [*_middle_gores(block, pieces, seam, hem), *_shoulders(block, width)]
    if not turned and block.overlap is None:
        pieces.append(block.neck.facing())
        seams.append(_facing_seam(block))
    if block.sleeve:
        pieces.append(block.sleeve.piece(seam, hem))
        seams += _sleeves(block, pieces, seam)
    seams += _sides(block, pieces, seam, hem)
    return Parts(tuple(pieces), tuple(seams))


def _shoulders(block: Block, width: float) -> list[Seam]:
    if block.folded:
        return []
    return [
        Seam(f"{side} shoulder", (on_panel(block, "front", side, "shoulder"),),
             (on_panel(block, "back", side, "shoulder"),), width, order=30)
        for side in SIDES
    ]


def _facing_seam(block: Block) -> Seam:
    """Round the hole and down one side of the slit and up the other, in one go."""
    facing = SeamEdge("neck facing", "neck")
    lips = 2 if block.neck.is_slit else 1
    if block.folded:
        around = (SeamEdge("body", "neck"),) * lips
        slit = SeamEdge("body", "neck slit")
    else:
        around = (SeamEdge("front", "neck"), SeamEdge("back", "neck"))
        slit = SeamEdge("front", "neck slit")
    both = bool(block.neck.slit)
    return Seam(
        "neck facing",
        (facing,) * lips + (SeamEdge("neck facing", "neck slit"),) * (2 * both),
        around + (slit,) * (2 * both),
        6.0, treatment="faced", order=40,
    )


def _middle_gores(
    block: Block, pieces: list[Piece], seam: Allowance, hem: Allowance
) -> list[Seam]:
    """A gore in each slit; both its sides are sewn to the slit's two sides."""
    seams: list[Seam] = []
    if block.middle_gore is None:
        return seams
    for half in block.middles:
        sides: tuple[GoreSide, GoreSide] = ("right", "left") if half == "front" else ("left", "right")
        gores = Gores(f"{half} gore", block.middle_gore, sides, (f"{half} gore",), block.halves, half=half)
        slit = (SeamEdge("body" if block.folded else half, f"{half} slit"),)
        pieces.append(_tucked(block, block.middle_gore,
                              gores.piece(seam, hem, below=block.middle_depth)))
        seams += (replace(s, order=10) for s in gores.seams(0, slit, slit, seam.width))
    return seams


def _tucked(block: Block, gore: Gore, piece: Piece) -> Piece:
    lines = tuple(
        InnerLine(name, gore.line_below(gore.length - above, half=block.halves), "tuck", role)
        for name, role, above in tucks_above_hem(block)
    )
    return replace(piece, inner_lines=lines)


def _sleeves(block: Block, pieces: list[Piece], seam: Allowance) -> list[Seam]:
    sleeve, width = block.sleeve, seam.width
    assert sleeve is not None
    seams = []
    if block.gusset:
        pieces.append(square_gusset("gusset", block.gusset, GUSSET_EDGES, seam,
                                    ("left gusset", "right gusset"), GUSSET_FACES))
    for copy, side in enumerate(SIDES, 1):
        if block.gusset:
            seams += [
                Seam(f"{side} gusset to {half} of sleeve",
                     (SeamEdge("gusset", f"{half} sleeve", copy),),
                     (SeamEdge("sleeve", f"{half} gusset", copy),), width, order=50)
                for half in ("front", "back")
            ]
        seams.append(Seam(f"{side} sleeve to armhole", (SeamEdge("sleeve", "top", copy),),
                          _armhole(block, side, copy), width, order=60))
        if block.gusset:
            seams += [
                Seam(f"{side} gusset to {half}", (SeamEdge("gusset", f"{half} body", copy),),
                     (on_panel(block, half, side, "gusset"),), width, order=65)
                for half in ("front", "back")
            ]
        seams.append(sleeve.seam(copy, side, width))
    return seams


def _armhole(block: Block, side: str, copy: int) -> tuple[SeamEdge, ...]:
    """What the sleeve's top is sewn to."""
    front = on_panel(block, "front", side, "armhole")
    under = (SeamEdge("side panel", "top", copy),) if block.side_panel else ()
    if block.folded:
        return front, *under
    return front, *under, on_panel(block, "back", side, "armhole")


def _sides(block: Block, pieces: list[Piece], seam: Allowance, hem: Allowance) -> list[Seam]:
    width, seams = seam.width, []
    if block.side_panel:
        pieces.append(side_panels(block, block.side_panel, seam, hem))
        for copy, side in enumerate(SIDES, 1):
            for half in ("front", "back"):
                seams.append(Seam(f"{side} side panel to {half}",
                                  (SeamEdge("side panel", half, copy),),
                                  (on_panel(block, half, side, "side"),), width, order=20))
        return seams
    if block.side_gore:
        gores = Gores("side gore", block.side_gore, ("front", "back"),
                      tuple(f"{side} side gore" for side in SIDES), block.halves, mirrored=True)
        pieces.append(_tucked(block, block.side_gore,
                              gores.piece(seam, hem, below=block.gore_depth)))
        for index, side in enumerate(SIDES):
            seams += (
                replace(s, order=20) for s in gores.seams(
                    index, (on_panel(block, "front", side, "gore"),),
                    (on_panel(block, "back", side, "gore"),), width)
            )
    if not block.side_gore or block.gore_depth > block.gusset_foot or not block.sleeve:
        seams += [_side_seam(block, side, width) for side in SIDES]
    return seams


def _side_seam(block: Block, side: str, width: float) -> Seam:
    """From the shoulder or gusset down to the gore or hem; without sleeves the armhole stays open."""
    # Openings are counted from where the first edge starts, and this is the one that runs downwards.
    first = "front" if side == "left" or block.overlap is not None else "back"
    second = "back" if first == "front" else "front"
    return Seam(f"{side} side seam", (on_panel(block, first, side, "side"),),
                (on_panel(block, second, side, "side"),), width,
                open_from_top=0.0 if block.sleeve else block.armhole, order=75)


def _finished(body: Body, block: Block) -> dict[str, float]:
    levels = block.levels(body)
    found = {
        "bust_girth": block.narrowest,
        **{name: girth_at(levels, depth)
           for name, depth in (("waist_girth", block.waist), ("hip_girth", hip_depth(body)))
           if depth < block.length},
        "hem_girth": block.hem_girth,
        "length": block.length,
        "body_width": block.width,
        "armhole_depth": block.armhole,
    }
    if block.overlap is None:
        found["neck_girth"] = block.neck.girth
        if block.neck.slit:
            found["neck_slit"] = block.neck.slit
    if block.sleeve:
        found["sleeve_length"] = block.sleeve.length
        found["upper_arm_girth"] = block.sleeve.girth_at(block.sleeve.gusset)
        found["cuff_girth"] = block.sleeve.shape.end
    return found


def _notes(options: Options, block: Block) -> tuple[str, ...]:
    notes = [*block.changes, "Left and right are the wearer's. Pieces show their outer side."]
    if not options.is_("length_to", "by-number"):
        notes.append(f"The hem at the {options.chosen('length_to')} makes it {said(block.length)} long.")
    if block.side_gore or block.side_panel:
        notes.append("Hang it for a day before hemming: the slanted edges drop.")
    if block.halves and (block.side_gore or block.middle_gore):
        notes.append("Half gores lie head to tail in one rectangle. Sew each slanted edge to a straight "
                     "one, which keeps it from stretching.")
    if block.middle_gore:
        notes.append(f"A slit's edges turn in by up to {said(SLIT_TURN)} each at the hem and by nothing "
                     "at its end; the gore is that much wider. Sew the end over twice before it is cut.")
    for gore in (block.side_gore, block.middle_gore):
        if gore and gore.angle > WIDEST_ANGLE:
            notes.append(f"A gore {said(gore.width)} wide on {said(gore.length)} opens over "
                         f"{WIDEST_ANGLE:g}° and will drop at the bias: gores in front and back as well "
                         "share the width.")
            break
    loom, allowances = options["loom_width"], 2 * options["seam_allowance"]
    if loom and block.sleeve:
        beside = loom - block.width - allowances
        if beside >= max(block.sleeve.shape.top, block.sleeve.shape.end) + allowances:
            notes.append(f"A sleeve can be cut from the {said(beside)} left beside the body.")
    spare = options["seam_allowance"] - 10
    if spare > 0:
        notes.append(f"The side seams hold up to {said(4 * spare)} of girth to let out.")
    if block.tuck:
        notes.append(f"The tuck holds {said(block.tuck)} of length to let down.")
    if options.is_("gores", "none") and not block.side_panel:
        notes.append("Without gores the hem is as wide as the body, whatever hem girth is given.")
    return tuple(notes)


def _neck_notes(options: Options, block: Block) -> tuple[str, ...]:
    notes = []
    if not block.folded:
        notes.append("The shoulders are straight: the cloth drapes over their slope.")
    if options.is_("neck_finish", "facing"):
        notes.append("Lay the facing on before the slit is cut, right sides together; sew round, cut, "
                     "turn it in and fell its outer edge.")
    if block.neck.slit:
        notes.append("A bead and a thread loop, or a small brooch, closes the slit.")
    return tuple(notes)


def _cautions(body: Body, block: Block) -> tuple[str, ...]:
    if body["cervicale_height"] - block.length > body["knee_height"]:
        return ()
    return (LONG_HEM,)


def neck_cautions(body: Body, options: Options) -> tuple[str, ...]:
    """For a small wearer: nothing at the neck that can catch, prick or strangle."""
    if body["stature"] > CHILD_STATURE or not options.is_("neckline", "keyhole", "slit"):
        return ()
    return (NECK_CLOSING,)


def schematic(block: Block, pieces: tuple[Piece, ...]) -> tuple[SchematicPlace, ...]:
    """The body spread over the shoulders, sleeves at its sides, gussets and gores where they go."""
    names = {piece.name for piece in pieces if piece.cloth == "main"}
    half, end = block.width / 2, block.cut_length
    if block.folded:
        placed = [SchematicPlace("body", 1, 0.0, 0.0)]
    else:
        lap = 0.0 if block.overlap is None else block.overlap + GAP / 2
        placed = [SchematicPlace("back", 1, 0.0, -GAP / 2, turn=180.0),
                  SchematicPlace("front", 1, lap, GAP / 2)]
        if block.overlap is not None:
            placed.append(SchematicPlace("front", 2, -lap, GAP / 2, mirrored=True))
    lap = 0.0 if block.overlap is None else block.overlap + GAP / 2
    edge, top = half + lap + GAP, 0.0 if block.folded else GAP / 2
    for copy, way in ((1, 1), (2, -1)):
        over = copy == 2
        if block.sleeve:
            placed.append(SchematicPlace("sleeve", copy, way * edge, 0.0, turn=-90.0 * way, mirrored=over))
        if block.gusset:
            y = block.armhole + top + GAP
            placed.append(SchematicPlace("gusset", copy, way * (edge + block.gusset), y,
                                    turn=90.0 * way, mirrored=over))
        if block.side_panel:
            shape = block.side_panel
            lean = 57.29578 * shape.hem_lean
            x, y = edge + shape.top_width / 2, top + block.armhole + 2 * GAP
            if block.sleeve:
                y = max(y, block.sleeve.shape.top / 2 + 2 * GAP)
            placed.append(SchematicPlace("side panel", copy, way * x, y, turn=-lean * way, mirrored=over))
        if block.side_gore and "side gore" in names:
            y = top + max(block.gore_depth, block.gusset_foot + 2 * GAP) + GAP
            placed.append(SchematicPlace("side gore", copy, way * edge, y,
                                    turn=-way * block.side_gore.angle / 2, mirrored=over))
    if block.middle_gore and not block.halves:
        for gore in block.middles:
            up = gore == "back"
            away = top + end + GAP
            placed.append(SchematicPlace(f"{gore} gore", 1, 0.0, -away if up else away,
                                    turn=180.0 if up else 0.0))
    done = {(p.piece, p.copy) for p in placed}
    rest = [(piece.name, copy) for piece in pieces for copy in range(1, piece.cut + 1)
            if (piece.name, copy) not in done]
    return (*placed, *below(placed, pieces, rest))
