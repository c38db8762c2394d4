"""A task: what one step does, before it has words, lengths or a picture."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Literal

from ..pattern import Attachment, Seam, SeamEdge, SeamTreatment
from .graph import COVERING, Copy, copy_of, parts_of
from .treatments import SEAMS

Kind = Literal[
    "strip", "reinforce", "eyelet", "vent", "neck", "pleat", "join", "face", "catch", "baste", "fit",
    "let-out", "fell", "opening", "edge", "fasten", "attach", "tuck", "hang", "hem", "lining", "check",
]

JOINING: tuple[Kind, ...] = ("join", "face", "pleat", "lining")
"""Kinds of task in which a seam is sewn: every seam in exactly one of them."""

WORKED_FLAT: tuple[Kind, ...] = ("reinforce", "eyelet", "vent", "pleat")
"""Kinds of task for which the piece must still lie flat: they come before the fitting."""

INNER_LAYERS: tuple[SeamTreatment, ...] = ("faced", "bound", "edged")
"""Treatments by which a facing, a binding or an edging is sewn on and felled in one go."""

LINED = COVERING
"""Treatments by which a lining is felled on to edges that are already hemmed."""

PLEATED: SeamTreatment = "pleat"

QUILTED: SeamTreatment = "quilted"
"""Rows through two layers that lie on each other, which from then on are handled as one."""


RIDGE: SeamTreatment = "ridge"
"""Rows through both sides of a seam that is sewn and felled, so that it stands up outside."""

LAYERED: SeamTreatment = "layered"
"""Two edges that lie on each other and are basted together, for the next seam to take both."""


def felled_later(seam: Seam) -> bool:
    """Whether sewing the seam leaves allowances that a step of its own finishes."""
    return seam.treatment not in INNER_LAYERS and bool(SEAMS[seam.treatment].say_finish)


@dataclass(frozen=True)
class Task:
    """`lines` are edges, slits and tucks that it works on; `closes` says that its seams join an
    assembly to itself, `by_flatness` that this decided when it is their turn."""

    kind: Kind
    seams: tuple[Seam, ...] = ()
    lines: tuple[SeamEdge, ...] = ()
    attachments: tuple[Attachment, ...] = ()
    copies: tuple[Copy, ...] = ()
    closes: bool = False
    by_flatness: bool = False


def of_lines(kind: Kind, lines: Iterable[SeamEdge]) -> Task:
    lines = tuple(lines)
    return Task(kind, lines=lines, copies=tuple(dict.fromkeys(map(copy_of, lines))))


def of_seams(kind: Kind, seams: Iterable[Seam]) -> Task:
    seams = tuple(seams)
    return Task(kind, seams=seams, copies=around(seams))


def around(seams: Iterable[Seam]) -> tuple[Copy, ...]:
    """The copies that the seams join."""
    return tuple(dict.fromkeys(copy_of(part) for seam in seams for part in parts_of(seam)))


def copies_in(task: Task) -> Iterator[Copy]:
    """Every copy the task touches, some more than once."""
    yield from around(task.seams)
    yield from map(copy_of, task.lines)
    for a in task.attachments:
        yield a.piece, a.copy
        yield copy_of(a.to)
