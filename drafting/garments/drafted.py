"""The end of every draft: the pattern, for whom and with what options, and remedies known to work."""

from collections.abc import Callable, Mapping
from dataclasses import replace

from ..body import Body
from ..pattern import Attachment, Clearance, Level, Pattern, Piece, Remedy, SchematicPlace, Seam
from .garment import Garment
from .loom import wider_than_the_loom
from .options import ChoiceOption, Options

Clearances = Callable[[Body, Options], tuple[Clearance, ...]]
"""What a garment must clear, worked out from the body and any options; raises BadInput where those
contradict each other."""


def drafted(
    garment: Garment,
    body: Body,
    options: Options,
    *,
    pieces: tuple[Piece, ...],
    seams: tuple[Seam, ...],
    finished: Mapping[str, float],
    clearances: Clearances,
    attachments: tuple[Attachment, ...] = (),
    levels: tuple[Level, ...] = (),
    notes: tuple[str, ...] = (),
    cautions: tuple[str, ...] = (),
    schematic: tuple[SchematicPlace, ...] = (),
) -> Pattern:
    """The garment's pattern, its clearances with those remedies that put right what fails."""
    return Pattern(
        garment=garment.name,
        title=garment.title,
        pieces=pieces,
        seams=seams,
        attachments=attachments,
        finished=finished,
        measurements=dict(body.values),
        estimated=dict(body.estimated),
        options=dict(options.values),
        clearances=tuple(
            c if c.clears else replace(c, remedies=tuple(
                remedy for remedy in c.remedies
                if _puts_right(remedy, c.name, garment, body, options, clearances)
            ))
            for c in clearances(body, options)
        ),
        levels=levels,
        notes=(*notes, *wider_than_the_loom(options, pieces)),
        cautions=cautions,
        schematic=schematic,
    )


def _puts_right(
    remedy: Remedy, name: str, garment: Garment, body: Body, options: Options, clearances: Clearances
) -> bool:
    """Whether the garment has the remedy's option, and the clearance of that name clears once it is taken."""
    if remedy.option not in options.declared:
        return False
    option = garment.option(remedy.option)
    try:
        value = remedy.value if isinstance(option, ChoiceOption) else option.read(remedy.value, "cm")
        tried = clearances(body, options.changed(remedy.option, value))
    except ValueError:
        return False
    return all(c.clears for c in tried if c.name == name)
