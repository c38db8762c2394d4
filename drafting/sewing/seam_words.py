"""What is said of steps that sew, fell or open seams."""

from collections.abc import Callable, Iterable, Sequence

from ..pattern import Pattern, Seam
from ..words.wording import said
from .felling import laid_towards, other_side, side_of
from .finishing import faced_edges, folded, is_neck, opening_facings
from .graph import copy_of, opening_of, parts_of
from .job import IRON, PINS, Job, JobWords, seam_lines
from .naming import capital, copies_named, listed, side_named, smaller_first, together
from .tasks import LINED, QUILTED
from .treatments import SEAMS
from .work import BAR, Bench, Measured

FACING_END = 10.0
"""mm turned under at the lower end of an opening's facing. common practice, no source."""

GATHERED = 0.15
"""Part by which a side may be longer that pins and fingers can still take up. common practice, no source."""

LEFT_IN_A_SEAM = 10.0
"""mm of allowance that must stay when a seam is let out. common practice, no source."""


def join(job: Job) -> JobWords:
    task, bench, seams = job.task, job.bench, job.task.seams
    first = seams[0]
    if first.treatment == QUILTED:
        return _quilt(job)
    treatment = SEAMS[first.treatment]
    sentences = [treatment.say_join]
    gussets = [copy_of(p) for s in seams for p in parts_of(s) if copy_of(p) in bench.graph.gussets]
    if any(bench.graph.inner_kind(part) == "slit" for seam in seams for part in parts_of(seam)):
        sentences.append(
            "Begin at the slit's end with the gore's point and sew towards the hem; at the end the slit's "
            "allowance runs out to nothing.")
    elif gussets:
        sentences.append(
            "Pin all the corners first; start and stop exactly at the corners, so that the gusset "
            "can turn there.")
    elif any(opening_of(seam) or _notched(bench, seam) for seam in seams):
        sentences.append(f"Pin both ends and the marks{_marks(bench, seams)} first, then between.")
    else:
        sentences.append("Pin both ends first, then the middle, then between.")
    lengths = listed([said(bench.sewn_length(s)) for s in _told_once(seams, bench.sewn_length)])
    from_edge = f", {said(first.allowance)} from the cut edge" if first.allowance else ""
    sentences.append(f"Sew {lengths} with {job.stitched()}{from_edge}.")
    for seam in seams:
        sentences.extend(_oddities(bench, seam, told_apart=len(seams) > 1))
    below = _below_an_opening(bench, seams)
    if below:
        which = f" “{below.name}”" if len(seams) > 1 else ""
        sentences.append(f"Sew the seam{which} up to the end of the opening and finish with three back "
                         "stitches; there snip both allowances straight in, to one thread before them: "
                         "above, they wait for their facings.")
    if task.closes and task.by_flatness and len(task.copies) > 1:
        sentences.append("This closes what was flat until now: see that nothing is caught beneath.")
    return JobWords(_join_title(job), tuple(sentences), seam_lines(bench, seams), (PINS,))


def _quilt(job: Job) -> JobWords:
    bench, (seam, *_) = job.bench, job.task.seams
    lining, piece = (side_named(bench.pattern, side) for side in (seam.a, seam.b))
    return JobWords(
        f"Quilt the {lining} to the {piece}",
        (SEAMS[seam.treatment].say_join,
         f"Rule {len(seam.a)} rows with chalk, as the picture shows them, and sew them from the middle "
         "outwards: "
         f"{said(bench.sewn_length(seam))} altogether, with {job.stitched()}.",
         "From here on both are handled as one: every cut, seam and edge goes through both."),
        seam_lines(bench, job.task.seams), (PINS,),
    )


def _below_an_opening(bench: Bench, seams: Iterable[Seam]) -> Seam | None:
    """The seam that goes on from the edges of an opening that is faced later."""
    faced = {part for facing in opening_facings(bench.graph) for part in faced_edges(bench.graph, facing)}
    return next((seam for seam in seams for part in seam.a
                 if faced & set(bench.graph.neighbours(part))), None)


def _join_title(job: Job) -> str:
    named = together([seam.name for seam in job.task.seams])
    return f"Sew {named}" if " to " in named else f"Sew the {named}"


def _notched(bench: Bench, seam: Seam) -> list[str]:
    return [
        notch.label
        for part in seam.a
        for notch in bench.pattern.piece(part.piece).notches
        if notch.edge == part.edge and notch.label
    ]


def _marks(bench: Bench, seams: Iterable[Seam]) -> str:
    labels = list(dict.fromkeys(label for seam in seams for label in _notched(bench, seam)))
    return f" ({listed(labels)})" if labels else ""


def _told_once(seams: Sequence[Seam], length: Callable[[Seam], float]) -> list[Seam]:
    """One seam for each length there is among them, in their order."""
    found: list[Seam] = []
    for seam in seams:
        if all(abs(length(seam) - length(other)) > 0.5 for other in found):
            found.append(seam)
    return found


def _oddities(bench: Bench, seam: Seam, *, told_apart: bool) -> Iterable[str]:
    which = f" of the seam “{seam.name}”" if told_apart else ""
    if opening_of(seam):
        yield f"Leave the {said(opening_of(seam))}{which} next to the {_start_of(bench, seam)} open."
    if abs(seam.ease) > 0.5:
        longer = side_named(bench.pattern, seam.a if seam.ease > 0 else seam.b)
        how = ("draw it up on two gathering threads, or lay it in narrow pleats, evenly on both sides of "
               "each "
               "mark" if abs(seam.ease) > GATHERED * bench.sewn_length(seam)
               else "spread that evenly with many pins and hold the longer side towards you")
        yield f"The side{which} on the {longer} is {said(abs(seam.ease))} longer: {how}."


def _start_of(bench: Bench, seam: Seam) -> str:
    """What lies at the seam's start: the edge before its first."""
    near = bench.graph.neighbours(seam.a[0])
    return near[0].edge if near else "start"


def baste(job: Job) -> JobWords:
    bench, seams = job.bench, job.task.seams
    uncut = [part for seam in bench.pattern.seams for part in parts_of(seam)
             if bench.graph.inner_kind(part) == "slit" and is_neck(bench.graph, part)
             and bench.graph.meet([part], [p for other in seams for p in parts_of(other)])]
    sentences = [
        "Pin the pieces together along all seams still to sew and baste them: running stitches as long as a "
        "thumbnail is wide, just beside the sewing line, in a thread of another colour that is easily "
        "drawn out again.",
        "It is for trying on only: each seam is sewn, and felled, in a step of its own below.",
    ]
    if uncut:
        sentences.append(f"The {uncut[0].edge} is not cut yet: leave one seam beside it open, and pin that "
                         "on the wearer.")
    total = sum(bench.sewn_length(seam) for seam in seams)
    sentences.append(f"That is {said(total)} to baste.")
    return JobWords("Baste it together", tuple(sentences), cautions=(PINS,))


def pleat(job: Job) -> JobWords:
    bench, seams = job.bench, job.task.seams
    length = max(bench.sewn_length(seam) for seam in seams)
    count = f"{len(seams)} pleats" if len(seams) > 1 else "pleat"
    return JobWords(
        f"Sew the {count}",
        (SEAMS[seams[0].treatment].say_join,
         f"Sew {said(length)} of each with {job.stitched()}, and press it to one side.",
         "Do this while the piece is still flat."),
        seam_lines(bench, seams), (PINS, IRON),
    )


def lining(job: Job) -> JobWords:
    bench, seams = job.bench, job.task.seams
    raw = [bench.pattern.piece(part.piece).allowance(part.edge)
           for seam in seams for part in side_of(seam, other_side(bench.layer_side(seam)))
           if not folded(bench.graph, part)]
    return JobWords(
        "Put in the lining",
        (*([f"Turn the garment's own edge in by {said(max(raw))} and baste it."] if any(raw) else []),
         "Turn the lining inside out over the garment, wrong side to wrong side, and pin it at the "
         "seams first: seam to seam.",
         f"Turn its edge under by {said(max(seam.allowance for seam in seams))} and fell it to the "
         "allowance of the hem, a little inside the edge, so that nothing shows or pulls outside.",
         f"Sew {said(sum(bench.sewn_length(seam) for seam in seams))} altogether with "
         f"{job.stitched()}."),
        seam_lines(bench, seams), (PINS,),
    )


def face(job: Job) -> JobWords:
    bench, seams = job.bench, job.task.seams
    first = seams[0]
    treatment = SEAMS[first.treatment]
    layer = copies_named(bench.pattern, (
        copy_of(part) for seam in seams for part in side_of(seam, bench.layer_side(seam))))
    lines = list(seam_lines(bench, seams))
    for seam in seams:
        outer = bench.outer_edge(seam)
        if outer:
            lines.append(Measured(f"{layer}, felled edge", outer, seam.allowance))
    lengths = listed([said(bench.sewn_length(s)) for s in seams])
    in_a_seam = first in opening_facings(bench.graph)
    sentences = [
        *(["Do this now, while the piece is light in the lap."] if _early(bench, seams) else []),
        *([f"Turn {said(FACING_END)} of each facing's lower end to its wrong side and begin there, at the "
           "snip."] if in_a_seam else []),
        treatment.say_join,
        f"Sew {lengths} with {job.stitched()}, {said(first.allowance)} from the cut edge.",
    ]
    slits = dict.fromkeys(
        part for seam in seams for part in side_of(seam, other_side(bench.layer_side(seam)))
        if bench.graph.inner_kind(part) == "slit")
    for slit in slits:
        sentences.append(
            f"Along the {slit.edge} sew down one side of the line and up the other, "
            f"{said(bench.length(slit))} each way, and only then cut between the two rows, to one "
            "thread before the end.")
    if in_a_seam:
        sentences.append(
            "Turn the facing to the inside and roll the seam just out of sight. Turn its outer edge under "
            "and fell it down, and its lower end with it; its top is taken into the top hem.")
    elif any(bench.graph.inner_kind(part) for seam in seams for part in parts_of(seam)):
        *turned, felled = treatment.say_finish.rsplit(". ", 1)
        sentences += [*(f"{how}." for how in turned), "Try it over the head before you fell it.", felled]
    else:
        sentences.append(treatment.say_finish)
    if in_a_seam:
        return JobWords("Face the opening", tuple(sentences), tuple(lines), (PINS,))
    return JobWords(f"{capital(layer)} to the neck" if _at_neck(bench, seams) else
                 f"{capital(layer)} sewn on", tuple(sentences), tuple(lines), (PINS,))


def _early(bench: Bench, seams: Iterable[Seam]) -> bool:
    """Whether a neck is finished before all else, and not over a lining."""
    return _at_neck(bench, seams) and not any(
        other.treatment in LINED for seam in seams for part in parts_of(seam)
        for other in bench.graph.seams_at(part))


def _at_neck(bench: Bench, seams: Iterable[Seam]) -> bool:
    return any(is_neck(bench.graph, part) for seam in seams for part in parts_of(seam))


def fell(job: Job) -> JobWords:
    bench, seams = job.bench, job.task.seams
    treatment = SEAMS[seams[0].treatment]
    how = _untrimmed(treatment.say_finish) if job.let_out else treatment.say_finish
    sentences = [f"As in step {job.like}." if job.like else how]
    if seams[0].treatment == "run-and-fell":
        sentences.extend(_laid(bench, seams))
    sentences.append(f"Fell with {job.stitched()}: {said(sum(r.length for r in job.rows))} altogether.")
    sides = [smaller_first(bench.pattern, seam) for seam in seams]
    small = [copy_of(part) for one, _ in sides for part in one]
    alike = [copy_of(part) for _, other in sides for part in other
             if part.piece in {name for name, _ in small}]
    title = (f"Fell the seams of the {copies_named(bench.pattern, (*small, *alike))}"
             if len(seams) > 1 else f"Fell the seam: {seams[0].name}")
    if treatment.kind == "overcast":
        title = title.replace("Fell", "Overcast")
    return JobWords(title, tuple(sentences), seam_lines(bench, seams), (IRON,))


def _untrimmed(sentence: str) -> str:
    return sentence.replace(
        "Trim the allowance on the side it will lie to half, fold the other over it",
        "Trim nothing: fold one allowance over the other")


def _laid(bench: Bench, seams: Iterable[Seam]) -> Iterable[str]:
    """Which way each seam is laid: towards the back, or down."""
    pattern = bench.pattern
    ways: dict[str, list[str]] = {}
    for seam in seams:
        ways.setdefault(way_laid(pattern, seam), []).append(seam.name)
    for towards, names in ways.items():
        which = listed([f"“{name}”" for name in names])
        yield f"Lay the allowances of {which} towards the {towards}."


def way_laid(pattern: Pattern, seam: Seam) -> str:
    """What a seam's allowances are laid towards: a piece, or one of its edges where it meets itself."""
    side = side_of(seam, laid_towards(pattern, seam))
    if set(map(copy_of, seam.a)) == set(map(copy_of, seam.b)):
        return f"{side[0].edge} edge"
    return side_named(pattern, side)


def opening(job: Job) -> JobWords:
    seams = job.task.seams
    lengths = listed([said(opening_of(seam)) for seam in seams])
    return JobWords(
        "Hem the opening",
        (f"Turn in both edges of the opening, {lengths} long, in one line with the felled seam, and "
         f"hem them with {job.stitched()}.",
         f"Lay a bar of whip stitches {said(BAR)} long across its lower end, where it would tear."),
        tuple(Measured(f"{seam.name}, opening, both edges", 2 * opening_of(seam), seam.allowance)
              for seam in seams),
    )


def let_out(job: Job) -> JobWords:
    graph = job.bench.graph
    slit = [s for s in job.task.seams if any(graph.inner_kind(part) == "slit" for part in parts_of(s))]
    seams = [seam for seam in job.task.seams if seam not in slit] or slit
    spare = sorted({seam.allowance - LEFT_IN_A_SEAM for seam in seams} if seams != slit else {0.0})
    if spare[-1] <= 0:
        sentences = ["These allowances hold nothing to let out; leave them whole all the same."]
    else:
        each = f"{said(2 * spare[0])} to " if 0 < spare[0] < spare[-1] else ""
        sentences = [f"Do not trim these seams: each can give up to {each}{said(2 * spare[-1])} later, when "
                     f"it is sewn {said(LEFT_IN_A_SEAM)} from the cut edge."]
    if slit and slit != seams:
        sentences.append("The seams into a slit give nothing: their allowance runs out at its end.")
    return JobWords("Keep what will be let out", tuple(sentences), seam_lines(job.bench, seams))
