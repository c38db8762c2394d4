"""What a step says: its title, its sentences, the lines it works on, its cautions.

Lengths are left as marks (`said`), to be spelled out in the reader's unit.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from ..pattern import Attachment, Clearance, Pattern, Piece, Seam, SeamEdge
from ..wording import said
from .felling import laid_towards, other_side, side_of
from .graph import copy_of, parts_of
from .naming import capital, copies_named, copy_named, listed, side_named, smaller_first, together
from .finishing import folded, is_neck, tuck_lines
from .stitches import STITCHES
from .tasks import LINED, Kind, Task
from .treatments import Row, edge_treatment, seam_treatment
from .work import (
    BAR,
    REINFORCED,
    Bench,
    Measured,
    folds_of,
    joint_of,
    strip_length,
    strip_width,
)

LEFT_IN_A_SEAM = 10.0
"""mm of allowance that must stay when a seam is let out. common practice, no source."""

TO_BE_FITTED = 300.0
"""mm of strip from which its length is settled on the wearer. common practice, no source."""

PINS = "Count the pins in and out, and leave none in the garment."
IRON = "A hot iron and its steam burn: keep children and cords away from it."


@dataclass(frozen=True)
class Words:
    title: str
    sentences: tuple[str, ...]
    measures: tuple[Measured, ...] = ()
    cautions: tuple[str, ...] = ()


def words_for(task: Task, rows: Sequence[Row], bench: Bench, *, let_out: bool) -> Words:
    return _WORDS[task.kind](_Scene(task, tuple(rows), bench, let_out))


@dataclass(frozen=True)
class _Scene:
    task: Task
    rows: tuple[Row, ...]
    bench: Bench
    let_out: bool

    def named(self) -> str:
        return copies_named(self.bench.pattern, self.task.copies)

    def stitched(self) -> str:
        """How the first row is sewn."""
        row = self.rows[0]
        stitch = STITCHES[row.stitch]
        return f"{stitch.title}, stitches {said(row.stitch_length or stitch.length)} long"

    def line(self, part: SeamEdge) -> Measured:
        pattern = self.bench.pattern
        label = f"{copy_named(pattern, part)}, {part.edge}"
        return Measured(label, self.bench.length(part),
                        pattern.piece(part.piece).allowance(part.edge))


def _join(scene: _Scene) -> Words:
    task, bench, seams = scene.task, scene.bench, scene.task.seams
    first = seams[0]
    treatment = seam_treatment(first.treatment)
    sentences = [treatment.say_join]
    gussets = [copy_of(p) for s in seams for p in parts_of(s) if copy_of(p) in bench.graph.gussets]
    if any(bench.graph.inner_kind(part) == "slit" for seam in seams for part in parts_of(seam)):
        sentences.append(
            "Begin at the slit's end with the gore's point and sew towards the hem, first one side, "
            "then the other; there the slit's allowance runs out to nothing.")
    elif gussets:
        sentences.append(
            "Pin all the corners first; start and stop exactly at the corners, so that the gusset "
            "can turn there.")
    elif any(seam.open_from_top or _notched(bench, seam) for seam in seams):
        sentences.append(f"Pin both ends and the marks{_marks(bench, seams)} first, then between.")
    else:
        sentences.append("Pin both ends first, then the middle, then between.")
    lengths = listed([said(bench.sewn_length(s)) for s in _told_once(seams, bench.sewn_length)])
    from_edge = f", {said(first.allowance)} from the cut edge" if first.allowance else ""
    sentences.append(f"Sew {lengths} with {scene.stitched()}{from_edge}.")
    for seam in seams:
        sentences.extend(_oddities(bench, seam, told_apart=len(seams) > 1))
    if task.closes and task.by_flatness and len(task.copies) > 1:
        sentences.append("This closes what was flat until now: see that nothing is caught beneath.")
    return Words(_join_title(scene), tuple(sentences), _seam_lines(bench, seams), (PINS,))


def _join_title(scene: _Scene) -> str:
    named = together([seam.name for seam in scene.task.seams])
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
    if seam.open_from_top:
        yield f"Leave the {said(seam.open_from_top)}{which} next to the {_start_of(bench, seam)} open."
    if abs(seam.ease) > 0.5:
        longer = side_named(bench.pattern, seam.a if seam.ease > 0 else seam.b)
        yield (f"The side{which} on the {longer} is {said(abs(seam.ease))} longer: spread that evenly "
               "with many pins and hold the longer side towards you.")


def _start_of(bench: Bench, seam: Seam) -> str:
    """What lies at the seam's start: the edge before its first."""
    near = bench.graph.neighbours(seam.a[0])
    return near[0].edge if near else "start"


def _pleat(scene: _Scene) -> Words:
    bench, seams = scene.bench, scene.task.seams
    length = max(bench.sewn_length(seam) for seam in seams)
    count = f"{len(seams)} pleats" if len(seams) > 1 else "pleat"
    return Words(
        f"Sew the {count}",
        (seam_treatment(seams[0].treatment).say_join,
         f"Sew {said(length)} of each with {scene.stitched()}, and press it to one side.",
         "Do this while the piece is still flat."),
        _seam_lines(bench, seams), (PINS, IRON),
    )


def _lining(scene: _Scene) -> Words:
    bench, seams = scene.bench, scene.task.seams
    raw = [bench.pattern.piece(part.piece).allowance(part.edge)
           for seam in seams for part in side_of(seam, other_side(bench.layer_side(seam)))
           if not folded(bench.graph, part)]
    return Words(
        "Put in the lining",
        (*([f"Turn the garment's own edge in by {said(max(raw))} and baste it."] if any(raw) else []),
         "Turn the lining inside out over the garment, wrong side to wrong side, and pin it at the "
         "seams first: seam to seam.",
         f"Turn its edge under by {said(max(seam.allowance for seam in seams))} and fell it to the "
         "allowance of the hem, a little inside the edge, so that nothing shows or pulls outside.",
         f"Sew {said(sum(bench.sewn_length(seam) for seam in seams))} in all with "
         f"{scene.stitched()}."),
        _seam_lines(bench, seams), (PINS,),
    )


def _seam_lines(bench: Bench, seams: Iterable[Seam]) -> tuple[Measured, ...]:
    return tuple(Measured(seam.name, bench.sewn_length(seam), seam.allowance, seam.name)
                 for seam in seams)


def _face(scene: _Scene) -> Words:
    bench, seams = scene.bench, scene.task.seams
    first = seams[0]
    treatment = seam_treatment(first.treatment)
    layer = copies_named(bench.pattern, (
        copy_of(part) for seam in seams for part in side_of(seam, bench.layer_side(seam))))
    lines = list(_seam_lines(bench, seams))
    for seam in seams:
        outer = bench.outer_edge(seam)
        if outer:
            lines.append(Measured(f"{layer}, felled edge", outer, seam.allowance))
    lengths = listed([said(bench.sewn_length(s)) for s in seams])
    sentences = [
        *(["Do this now, while the piece is light in the lap."] if _early(bench, seams) else []),
        treatment.say_join,
        f"Sew {lengths} with {scene.stitched()}, {said(first.allowance)} from the cut edge.",
    ]
    slits = dict.fromkeys(
        part for seam in seams for part in side_of(seam, other_side(bench.layer_side(seam)))
        if bench.graph.inner_kind(part) == "slit")
    for slit in slits:
        sentences.append(
            f"Along the {slit.edge} sew down one side of the line and up the other, "
            f"{said(bench.length(slit))} each way, and only then cut between the two rows, to one "
            "thread before the end.")
    sentences.append(treatment.say_finish)
    if any(bench.graph.inner_kind(part) for seam in seams for part in parts_of(seam)):
        sentences.append("Try it over the head before felling.")
    return Words(f"{capital(layer)} to the neck" if _at_neck(seams) else
                 f"{capital(layer)} sewn on", tuple(sentences), tuple(lines), (PINS,))


def _early(bench: Bench, seams: Iterable[Seam]) -> bool:
    """Whether a neck is finished before all else, and not over a lining."""
    return _at_neck(seams) and not any(
        other.treatment in LINED for seam in seams for part in parts_of(seam)
        for other in bench.graph.seams_at(part))


def _at_neck(seams: Iterable[Seam]) -> bool:
    return any(is_neck(part) for seam in seams for part in parts_of(seam))


def _reinforce(scene: _Scene) -> Words:
    bench = scene.bench
    slits = scene.task.lines
    lengths = listed(list(dict.fromkeys(said(bench.length(slit)) for slit in slits)))
    count = f"the {len(slits)} slits" if len(slits) > 1 else "the slit"
    return Words(
        f"Cut and reinforce {count}",
        (f"Cut the slit line, {lengths} long, in the {scene.named()}.",
         f"Before anything goes in, whip round its end, {said(REINFORCED)} down each side: the cloth "
         "tears there first."),
        tuple(scene.line(slit) for slit in slits),
        ("Shears are sharp: cut away from the hand that holds the cloth.",),
    )


def _strip(scene: _Scene) -> Words:
    pattern = scene.bench.pattern
    pieces = [pattern.piece(name) for name in dict.fromkeys(name for name, _ in scene.task.copies)]
    lines = []
    sentences = []
    for piece in pieces:
        folds = folds_of(piece)
        narrow = said(strip_width(piece) / (folds + 1))
        how = ("Fold the long edges in to the middle, then fold in half" if folds > 1
               else "Fold in half lengthwise, raw edges turned in")
        sentences.append(f"{capital(piece.title)}: {how[0].lower()}{how[1:]}: {folds + 1} layers, "
                         f"{narrow} wide.")
        lines.extend(
            Measured(piece.copy_name(copy), strip_length(piece), 0.0)
            for name, copy in scene.task.copies if name == piece.name
        )
    sentences.append(f"Press the folds and close the open edge with {scene.stitched()}.")
    names = together([piece.title for piece in pieces])
    return Words(f"Fold and sew the strips: {names}", tuple(sentences), tuple(lines), (IRON,))


def _edge(scene: _Scene) -> Words:
    bench, parts = scene.bench, scene.task.lines
    pattern = bench.pattern
    treatments: dict[float, str] = {}
    for part in parts:
        allowance = pattern.piece(part.piece).allowance(part.edge)
        treatments.setdefault(allowance, edge_treatment(allowance).say_finish)
    sentences = []
    if scene.task.kind == "neck":
        sentences.append("Do this now, while the piece is light in the lap.")
    for allowance, how in treatments.items():
        sentences.append(f"{how} The allowance is {said(allowance)}"
                         + (f", the finished hem {said(allowance / 2)} deep."
                            if edge_treatment(allowance).name == "double-turned" else "."))
    if any(len(pattern.piece(part.piece).line(part.edge).segments) > 1
           or not _straight(pattern.piece(part.piece), part.edge) for part in parts):
        sentences.append("Where the edge is curved, ease the turned cloth in with a gathering thread "
                         "rather than with pleats.")
    total = sum(row.length for row in scene.rows)
    sentences.append(f"Sew {said(total)} in all with {scene.stitched()}.")
    if pattern.options.get("waist") == "drawstring" and any(p.edge == "waist" for p in parts):
        sentences.append(
            "This is the casing of the drawstring: see that the way for the cord stays open, and "
            "draw the cord in with a blunt needle.")
    return Words(_edge_title(scene), tuple(sentences), tuple(scene.line(part) for part in parts))


def _edge_title(scene: _Scene) -> str:
    edges = list(dict.fromkeys(part.edge for part in scene.task.lines))
    if scene.task.kind == "hem" or edges == ["hem"]:
        return "Turn up and sew the hem"
    if len(edges) > 2:
        return f"Hem the edges of the {scene.named()}"
    noun = "" if edges[-1].endswith("edge") else " edge" if len(edges) == 1 else " edges"
    return f"Hem the {listed(edges)}{noun}"


def _straight(piece: Piece, edge: str) -> bool:
    path = piece.line(edge)
    return path.length - path.start.distance(path.end) < 0.05


def _fit(scene: _Scene) -> Words:
    checks = [_to_check(c) for c in scene.bench.pattern.clearances]
    return Words(
        "Try it on",
        ("Wear what will be worn beneath. Pin on what is not sewn yet.",
         *checks,
         "Raise both arms, sit, bend, and take a long step. Pin what is too wide; mark what is too "
         "tight and let it out now, before the seams are felled."),
        cautions=(PINS,),
    )


def _to_check(clearance: Clearance) -> str:
    name = capital(clearance.name)
    guessed = " (the body's size here was estimated)" if clearance.estimated else ""
    return (f"{name}: the pattern gives {said(clearance.value)}; at least {said(clearance.limit)} is "
            f"wanted{guessed}.")


def _let_out(scene: _Scene) -> Words:
    seams = scene.task.seams
    spare = [(seam, seam.allowance - LEFT_IN_A_SEAM) for seam in seams]
    each = max(s for _, s in spare)
    if each <= 0:
        sentence = "The allowances are too narrow to let anything out; leave them whole all the same."
    else:
        sentence = (f"Do not trim these seams: each can give up to {said(2 * each)} later, when it is "
                    f"sewn {said(LEFT_IN_A_SEAM)} from the cut edge.")
    return Words(
        "Keep what will be let out",
        (sentence, "Where the felling below says to trim, fold the whole allowance instead."),
        tuple(Measured(seam.name, scene.bench.sewn_length(seam), seam.allowance, seam.name)
              for seam, _ in spare),
    )


def _fell(scene: _Scene) -> Words:
    bench, seams = scene.bench, scene.task.seams
    treatment = seam_treatment(seams[0].treatment)
    sentences = [_untrimmed(treatment.say_finish) if scene.let_out else treatment.say_finish]
    if seams[0].treatment == "run-and-fell":
        sentences.extend(_laid(bench, seams))
    sentences.append(f"Fell with {scene.stitched()}: {said(sum(r.length for r in scene.rows))} in all.")
    sides = [smaller_first(bench.pattern, seam) for seam in seams]
    small = [copy_of(part) for one, _ in sides for part in one]
    alike = [copy_of(part) for _, other in sides for part in other
             if part.piece in {name for name, _ in small}]
    title = (f"Fell the seams of the {copies_named(bench.pattern, (*small, *alike))}"
             if len(seams) > 1 else f"Fell the seam: {seams[0].name}")
    if treatment.name == "overcast":
        title = title.replace("Fell", "Overcast")
    return Words(title, tuple(sentences), _seam_lines(bench, seams), (IRON,))


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


def _opening(scene: _Scene) -> Words:
    seams = scene.task.seams
    lengths = listed([said(seam.open_from_top) for seam in seams])
    return Words(
        "Hem the opening",
        (f"Turn in both edges of the opening, {lengths} long, in one line with the felled seam, and "
         f"hem them with {scene.stitched()}.",
         f"Lay a bar of whip stitches {said(BAR)} long across its lower end, where it would tear."),
        tuple(Measured(f"{seam.name}, opening, both edges", 2 * seam.open_from_top, seam.allowance)
              for seam in seams),
    )


def _vent(scene: _Scene) -> Words:
    bench = scene.bench
    return Words(
        "Cut and hem the slits" if len(scene.task.lines) > 1 else "Cut and hem the slit",
        ("Cut the slit line and roll both edges to the inside.",
         f"Lay a bar of whip stitches {said(BAR)} long across its end."),
        tuple(Measured(f"{copy_named(bench.pattern, slit)}, {slit.edge}, both edges",
                       2 * bench.length(slit), 0.0) for slit in scene.task.lines),
    )


def _attach(scene: _Scene) -> Words:
    bench, attached = scene.bench, scene.task.attachments
    pieces = list(dict.fromkeys(bench.pattern.piece(a.piece).title for a in attached))
    sentences = [_where(bench, a) for a in attached]
    joint = said(max(joint_of(bench.pattern.piece(a.piece)) for a in attached))
    how = (f"Lay {joint} of each end inside the edge and sew round it in a small square with "
           f"{scene.stitched()}.")
    if scene.task.kind == "catch":
        how = f"Baste {joint} of each end in place, so that the seam will catch it."
    longest = max(strip_length(bench.pattern.piece(a.piece)) for a in attached)
    if scene.task.kind == "attach" and longest > TO_BE_FITTED:
        sentences.append("Settle the lengths at a fitting, with the wearer standing.")
    return Words(f"Sew on the {listed(pieces)}", (*sentences, how))


def _where(bench: Bench, a: Attachment) -> str:
    piece = bench.pattern.piece(a.to.piece)
    path = piece.line(a.to.edge)
    whole = path.length
    from_start = a.distance <= whole / 2
    corner, other = (path.start, path.end) if from_start else (path.end, path.start)
    distance = a.distance if from_start else whole - a.distance
    across = abs(corner.x - other.x) >= abs(corner.y - other.y)
    if across:
        end = "left" if corner.x < other.x else "right"
    else:
        end = "upper" if corner.y < other.y else "lower"
    edge = f"the {a.to.edge} of the {copy_named(bench.pattern, a.to)}"
    if distance < 0.5:
        return f"{capital(a.name)}: at the {end} end of {edge}, as the piece is drawn."
    return (f"{capital(a.name)}: {said(distance)} along {edge}, from its {end} end as the piece is "
            "drawn.")


def _hang(scene: _Scene) -> Words:
    allowance = max(scene.line(part).allowance for part in scene.task.lines)
    return Words(
        "Hang it for a day",
        ("Hang the garment as it is worn, for a day and a night: slanted edges stretch and drop.",
         "Then mark the hem level, measured up from the floor on a person or a hanger, and trim to "
         f"{said(allowance)} below the mark."),
    )


def _tuck(scene: _Scene) -> Words:
    bench = scene.bench
    depths = sorted({round(_tuck_depth(bench.pattern.piece(p.piece), p.edge), 1)
                     for p in scene.task.lines})
    total = sum(bench.length(part) for part in scene.task.lines)
    return Words(
        "Sew the growth tuck",
        ("Bring the tuck's lower line up to its upper line, right sides out, so that a fold "
         f"{listed([said(depth) for depth in depths])} deep stands on the inside.",
         f"Sew {said(total)} with {scene.stitched()} through both lines, then a second row a "
         "finger's breadth nearer the fold. Lay the fold downwards.",
         "To let it down, draw out the two rows, the lower one first."),
        tuple(scene.line(part) for part in scene.task.lines),
    )


def _tuck_depth(piece: Piece, lower: str) -> float:
    """Half the way between a tuck's two stitching lines, at their middles."""
    lines = [line for line in piece.inner_lines if line.kind == "tuck"]
    under = piece.line(lower)
    middle = under.point_along(under.length / 2)
    others = [line.path for line in lines if line not in tuck_lines(piece)]
    if not others:
        return 0.0
    return min(path.point_along(path.length / 2).distance(middle) for path in others) / 2


def _check(scene: _Scene) -> Words:
    pattern = scene.bench.pattern
    finished = "; ".join(f"{name.replace('_', ' ')} {said(mm)}"
                         for name, mm in pattern.finished.items())
    return Words(
        "Press and check",
        ("Brush or sponge out the chalk, press the seams, and measure what you made: "
         f"{finished}.",
         "Wear it for an hour before the event: what rubs or pulls is quickest mended at home."),
        cautions=(PINS,),
    )


_WORDS: dict[Kind, Callable[[_Scene], Words]] = {
    "strip": _strip, "reinforce": _reinforce, "neck": _edge, "pleat": _pleat, "join": _join, "face": _face,
    "catch": _attach, "fit": _fit, "let-out": _let_out, "fell": _fell, "opening": _opening,
    "vent": _vent, "edge": _edge, "attach": _attach, "hang": _hang, "tuck": _tuck, "hem": _edge,
    "lining": _lining, "check": _check,
}
