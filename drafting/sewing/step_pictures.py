"""The picture of a step: its pieces laid next to each other, and what is sewn there.

Plain is the right side of the cloth, hatched the wrong side. The line to sew is thick; in the second
drawing of a seam the smaller piece lies on the larger one as it is sewn, right sides together.
"""

from collections.abc import Iterable, Sequence

from ..pattern import Seam, SeamTreatment
from .finishing import tuck_feet
from .graph import Copy, copy_of, parts_of
from .naming import smaller_first
from .picture import Picture
from .placing import Shapes, meeting_copies
from .plan import SewingPlan, Step
from .scene import Scene, facing_on, right_sides_together
from .sections import section
from .tasks import LAYERED, QUILTED, RIDGE
from .treatments import edge_treatment
from .work import folds_of

SEEN_FROM_THE_END: tuple[SeamTreatment, ...] = ("edged", QUILTED, LAYERED, RIDGE)
"""Treatments for which pieces are not laid right sides together: how the layers lie shows from the end."""


def step_pictures(plan: SewingPlan) -> tuple[Picture | None, ...]:
    """A picture for each step; None where there is nothing to see, as at a fitting."""
    shapes = Shapes(plan.pattern)
    found: list[Picture | None] = []
    sewn: list[Seam] = []
    for step in plan.steps:
        found.append(_step_picture(shapes, step, sewn))
        sewn.extend(seam for seam in step.task.seams if seam.name in step.seams)
    return tuple(found)


def _step_picture(shapes: Shapes, step: Step, sewn: Sequence[Seam]) -> Picture | None:
    """`sewn` are the seams of the steps before, along which the pieces lie together by now."""
    task, seams = step.task, shapes.pattern.seams
    if task.kind in ("join", "face", "pleat"):
        return _sewn(shapes, step, sewn)
    if task.kind in ("baste", "fell", "let-out", "lining"):
        scene = Scene(shapes, task.copies, seams, wrong_side=True)
        for seam in task.seams:
            scene.sewn(seam, tied=False)
        return scene.picture(
            step.title, inset=None if task.kind in ("baste", "let-out") else section(task.seams[0].treatment))
    if task.kind == "opening":
        scene = Scene(shapes, task.copies, seams, wrong_side=True)
        for seam in task.seams:
            scene.opened(seam)
        return scene.picture(step.title, inset=section("double-turned"))
    if task.kind in ("neck", "edge", "hem", "vent", "tuck", "reinforce", "eyelet", "fasten"):
        return _lines(shapes, step)
    if task.kind in ("attach", "catch"):
        scene = Scene(shapes, tuple(dict.fromkeys(copy_of(a.to) for a in task.attachments)), seams)
        for a in task.attachments:
            scene.spot(a.to, a.distance)
        return scene.picture(step.title)
    if task.kind == "strip":
        piece = shapes.pattern.piece(task.copies[0][0])
        scene = Scene(shapes, _one_of_each(task.copies), lying=True)
        return scene.picture(step.title, inset=section(f"strip of {folds_of(piece) + 1}"))
    return None


def _one_of_each(copies: Iterable[Copy]) -> tuple[Copy, ...]:
    found: dict[str, Copy] = {}
    for copy in copies:
        found.setdefault(copy[0], copy)
    return tuple(found.values())


def _sewn(shapes: Shapes, step: Step, sewn: Sequence[Seam]) -> Picture:
    """A seam: the pieces side by side, then one lying on the other."""
    seams = _first_of_twins(step.task.seams)
    copies = tuple(dict.fromkeys(copy_of(part) for seam in seams for part in parts_of(seam)))
    scene = Scene(shapes, copies, (*sewn, *seams))
    for seam in seams:
        scene.sewn(seam)
    again = len(step.task.seams) > len(seams)
    return scene.picture(step.title, inset=_together(shapes, seams[0]),
                         note="the same again on the other side" if again else "")


def _together(shapes: Shapes, seam: Seam) -> Picture | None:
    small, large = (side[0] for side in smaller_first(shapes.pattern, seam))
    if seam.treatment in SEEN_FROM_THE_END:
        return section(seam.treatment)
    if copy_of(small) == copy_of(large):
        return None
    if seam.treatment == "faced":
        return facing_on(shapes, large, small, seam)
    inner = shapes.graph.inner_kind(large) or shapes.graph.inner_kind(small)
    if inner or len(parts_of(seam)) > 2 or seam.treatment == "lapped":
        return None
    return right_sides_together(shapes, large, small, seam)


def _first_of_twins(seams: Sequence[Seam]) -> tuple[Seam, ...]:
    """Where the step works on several assemblies of the same pieces, the seams of the first."""
    groups = meeting_copies(seams)
    kinds = [sorted(name for name, _ in group) for group in groups]
    if len(groups) < 2 or any(kind != kinds[0] for kind in kinds):
        return tuple(seams)
    return tuple(s for s in seams if copy_of(s.a[0]) in groups[0])


def _lines(shapes: Shapes, step: Step) -> Picture:
    """Edges, slits or tucks of pieces that hang together by now, seen from inside."""
    pattern, task = shapes.pattern, step.task
    scene = Scene(shapes, task.copies, pattern.seams, wrong_side=task.kind not in ("reinforce", "eyelet"))
    for part in task.lines:
        scene.mark(part)
    inset = None
    if task.kind in ("neck", "edge", "hem"):
        first = task.lines[0]
        allowance = pattern.piece(first.piece).allowance(first.edge)
        inset = section(edge_treatment(allowance).kind)
    elif task.kind == "tuck":
        inset = section("tuck")
        for copy in task.copies:
            for line in pattern.piece(copy[0]).inner_lines:
                if line.kind == "tuck" and line not in tuck_feet(pattern.piece(copy[0])):
                    scene.guide(copy, line.path)
    return scene.picture(step.title, inset=inset)
