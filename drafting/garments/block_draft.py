"""A garment on the body block drafted: put together, and with all that is said about it."""

from collections.abc import Callable

from ..body import Body
from ..pattern import Attachment, Clearance, Pattern
from ..words.cautions import CHILD_STATURE, LONG_HEM, NECK_CLOSING
from ..words.wording import said
from .block_fit import block_clearances
from .block_options import hip_depth
from .block_schematic import schematic
from .block_sizes import block_for
from .body_block import Block
from .body_seams import Parts, block_parts
from .drafted import drafted
from .fit import girth_at
from .garment import Garment
from .gore import SLIT_TURN, WIDEST_ANGLE
from .loom import loom_width
from .options import Options

AsAsked = Callable[[Body, Options], Options]
"""Turns the options of a garment that is cut as another into that one's."""


def draft_block(
    garment: Garment, body: Body, options: Options, *,
    as_block: AsAsked = lambda _, options: options,
    parts_of: Callable[[Block, Options, Options], Parts] = lambda block, asked, _: block_parts(block, asked),
    notes: tuple[str, ...] = (),
) -> Pattern:
    """Underdress and tunic: closed in front, pulled on over the head. Raises BadInput.

    `as_block` turns a garment's own options into the underdress's or tunic's; `parts_of` makes its pieces
    of the block, those options, and its own.
    """
    asked = as_block(body, options)
    block = block_for(body, asked)

    def sizes(body: Body, changed: Options) -> Block:
        return block_for(body, as_block(body, changed))

    def clearances(body: Body, changed: Options, block: Block) -> tuple[Clearance, ...]:
        return block_clearances(body, as_block(body, changed), block)

    return finish(
        garment, body, options, block, parts_of(block, asked, options), sizes, clearances,
        notes=(*_neck_notes(body, asked, block), *notes),
        cautions=neck_cautions(body, asked),
        asked=asked,
    )


def finish(
    garment: Garment,
    body: Body,
    options: Options,
    block: Block,
    parts: Parts,
    sizes: Callable[[Body, Options], Block],
    clearances: Callable[[Body, Options, Block], tuple[Clearance, ...]],
    notes: tuple[str, ...] = (),
    cautions: tuple[str, ...] = (),
    extra: dict[str, float] | None = None,
    attachments: tuple[Attachment, ...] = (),
    asked: Options | None = None,
) -> Pattern:
    """The pattern, with everything that all garments on the block have to say.

    `sizes` works the block out anew for options that a remedy would change. `asked` are the block's options
    where the garment has not all of them.
    """
    def cleared(body: Body, asked: Options) -> tuple[Clearance, ...]:
        return clearances(body, asked, block if asked is options else sizes(body, asked))

    return drafted(
        garment, body, options,
        pieces=parts.pieces,
        seams=parts.seams,
        attachments=attachments,
        finished=_finished(body, block) | (extra or {}),
        clearances=cleared,
        levels=block.levels(body),
        notes=(*_notes(asked or options, block), *notes),
        cautions=(*_cautions(body, block), *cautions),
        schematic=schematic(block, parts.pieces),
    )


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
    loom, allowances = loom_width(options), 2 * options["seam_allowance"]
    if loom and block.sleeve:
        beside = loom - block.width - allowances
        if beside >= max(block.sleeve.shape.top, block.sleeve.shape.end) + allowances:
            notes.append(f"A sleeve can be cut from the {said(beside)} left beside the body.")
    spare = options["seam_allowance"] - 10
    if spare > 0:
        notes.append(f"Left untrimmed, the side seams hold up to {said(4 * spare)} of girth to let out.")
    if block.tuck:
        notes.append(f"The tuck holds {said(block.tuck)} of length to let down.")
    if options.is_("gores", "none") and not block.side_panel:
        notes.append("Without gores the hem is as wide as the body, whatever hem girth is given.")
    return tuple(notes)


def _neck_notes(body: Body, options: Options, block: Block) -> tuple[str, ...]:
    notes = []
    if block.folded:
        notes.append("The back hangs from the fold: on cloth with a nap or a one-way pattern it runs "
                     "upward there. Cut such cloth with a seamed shoulder.")
    else:
        notes.append("The shoulders are straight: the cloth drapes over their slope.")
    if options.is_("neck_finish", "facing"):
        notes.append("Lay the facing on before the slit is cut, right sides together; sew round, cut, "
                     "turn it in and fell its outer edge.")
    if block.neck.slit:
        notes.append("A button and a sewn loop close the slit." if body["stature"] <= CHILD_STATURE
                     else "A bead and a thread loop, or a small brooch, closes the slit.")
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
