"""What is said of steps at edges, of what is sewn on, and of trying on."""

from collections.abc import Mapping

from ..garments import GARMENTS
from ..garments.garment import WornAt
from ..geometry import Allowance
from ..pattern import Attachment, Clearance, Pattern, Piece
from ..words.wording import said
from .finishing import tuck_feet
from .job import IRON, PINS, Job, JobWords
from .naming import capital, copy_named, listed, together
from .treatments import edge_treatment
from .work import (
    BAR,
    LOOP_CORD,
    REINFORCED,
    Bench,
    Measured,
    fastenings,
    folds_of,
    joint_of,
    strip_length,
    strip_width,
)

MOVES: Mapping[WornAt, str] = {
    "head": "Turn the head, bow and look up.",
    "neck": "Turn, bend and lift both arms.",
    "trunk": "Raise both arms, sit, bend, and take a long step.",
    "legs": "Sit, squat, bend, and take a long step.",
    "hands": "Make a fist, spread the fingers, and take hold of a handle.",
}
"""What to do in a garment at its fitting, by where it is worn. common practice, no source."""

EYELET_ASIDE = 25.0
"""mm from the front seam to the middle of an eyelet. common practice, no source."""

FROM_THE_END = 12.0
"""mm from an opening's top to the first loop or hook. common practice, no source."""

TO_BE_FITTED = 300.0
"""mm of strip from which its length is settled on the wearer. common practice, no source."""


def reinforce(job: Job) -> JobWords:
    bench = job.bench
    slits = job.task.lines
    lengths = listed(list(dict.fromkeys(said(bench.length(slit)) for slit in slits)))
    count = f"the {len(slits)} slits" if len(slits) > 1 else "the slit"
    return JobWords(
        f"Cut and reinforce {count}",
        (f"Cut the slit line, {lengths} long, in the {job.named()}.",
         f"Before anything goes in, whip round its end, {said(REINFORCED)} down each side: the cloth "
         "tears there first."),
        tuple(job.line(slit) for slit in slits),
        ("Shears are sharp: cut away from the hand that holds the cloth.",),
    )


def strip(job: Job) -> JobWords:
    pattern = job.bench.pattern
    pieces = [pattern.piece(name) for name in dict.fromkeys(name for name, _ in job.task.copies)]
    lines: list[Measured] = []
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
            for name, copy in job.task.copies if name == piece.name
        )
    sentences.append(f"Press the folds and close the open edge with {job.stitched()}.")
    names = together([piece.title for piece in pieces])
    return JobWords(f"Fold and sew the strips: {names}", tuple(sentences), tuple(lines), (IRON,))


def edge(job: Job) -> JobWords:
    bench, parts = job.bench, job.task.lines
    pattern = bench.pattern
    slits = [part for part in parts if bench.graph.inner_kind(part) == "slit"]
    allowances = dict.fromkeys(pattern.piece(part.piece).allowances.get(part.edge, Allowance(0.0))
                               for part in parts if part not in slits)
    sentences = []
    if job.task.kind == "neck":
        sentences.append("Do this now, while the piece is light in the lap.")
    sentences += [f"Cut the {slit.edge}, {said(bench.length(slit))} long, roll both its edges to the "
                  "inside and lay "
                  f"a bar of whip stitches {said(BAR)} long across its end." for slit in slits]
    sentences += [_turned_in(allowance, cased=_is_cased(job)) for allowance in allowances]
    if any(len(pattern.piece(part.piece).line(part.edge).segments) > 1
           or not pattern.piece(part.piece).line(part.edge).is_straight for part in parts):
        sentences.append("Where the edge is curved, ease the turned cloth in with a gathering thread "
                         "rather than with pleats.")
    total = sum(row.length for row in job.rows)
    sentences.append(f"Sew {said(total)} altogether with {job.stitched()}.")
    if _is_cased(job):
        cord = pattern.finished["drawstring_length"]
        sentences.append(
            "This is the casing of the drawstring: see that the way for the cord stays open, and "
            f"draw the cord in, {said(cord)} of it, with a blunt needle.")
    return JobWords(_edge_title(job), tuple(sentences), tuple(job.line(part) for part in parts))


def _turned_in(allowance: Allowance, *, cased: bool) -> str:
    treatment, width = edge_treatment(allowance.width), allowance.width
    if treatment.kind != "double-turned":
        return f"{treatment.say_finish} The allowance is {said(width)}."
    finished = f"the finished {'casing' if cased else 'hem'} {said(allowance.depth)} deep."
    if allowance.under is None:
        return f"{treatment.say_finish} The allowance is {said(width)}, {finished}"
    return (f"Fold {said(allowance.under)} of the edge to the inside, then fold along the edge's line, and "
            f"hem. The allowance is {said(width)}, {finished}")


def _is_cased(job: Job) -> bool:
    """Whether a cord is to run in the edge."""
    pattern = job.bench.pattern
    return pattern.options.get("waist") == "drawstring" and any(
        pattern.piece(part.piece).role(part.edge) == "waist" for part in job.task.lines)


def _edge_title(job: Job) -> str:
    edges = list(dict.fromkeys(part.edge for part in job.task.lines))
    roles = {job.bench.pattern.piece(part.piece).role(part.edge) for part in job.task.lines}
    if job.task.kind == "hem" or roles == {"hem"}:
        return "Turn up and sew the hem"
    if len(edges) > 2:
        return f"Hem the edges of the {job.named()}"
    noun = "" if edges[-1].endswith("edge") else " edge" if len(edges) == 1 else " edges"
    return f"Hem the {listed(edges)}{noun}"


def eyelet(job: Job) -> JobWords:
    bench = job.bench
    depth = max(bench.pattern.piece(part.piece).allowances[part.edge].depth for part in job.task.lines)
    return JobWords(
        "Work the eyelets for the cord",
        ("Do this while the cloth lies flat and single: the cord comes out here, and nothing can be worked "
         "once the casing is sewn.",
         f"One on each side of the front seam, {said(EYELET_ASIDE)} from its sewing line and "
         f"{said(depth / 2)} below the fold of the waist edge, where it comes to lie outside.",
         "Pierce the cloth with an awl, so that the threads part and are not cut, and whip round the hole "
         f"with {job.stitched()}."),
        tuple(job.line(part) for part in job.task.lines),
        ("An awl is as sharp as it looks: pierce on to a cork or a block, never towards the hand.",),
    )


def fit(job: Job) -> JobWords:
    clearances = job.bench.pattern.clearances
    checks = [_to_check(c) for c in clearances]
    if any(c.estimated for c in clearances):
        checks.append("≈ rests on a body measurement that was estimated: trust the fitting.")
    return JobWords(
        "Try it on",
        ("Wear what will be worn beneath. Pin on what is not sewn yet.",
         *checks,
         f"{MOVES[_worn_at(job.bench.pattern)]} Pin what is too wide; mark what is too tight and let it "
         "out now, before the seams are sewn.",
         "Chalk every change on both sides of its seam, then take the basting out of each seam when its "
         "turn comes: it is sewn as flat as it can be laid."),
        cautions=(PINS,),
    )


def _worn_at(pattern: Pattern) -> WornAt:
    garment = GARMENTS.get(pattern.garment)
    return garment.worn_at if garment else "trunk"


def _to_check(clearance: Clearance) -> str:
    name = capital(clearance.name)
    guessed = "≈ " if clearance.estimated else ""
    if clearance.unit != "mm":
        return (f"{name}: the pattern gives {clearance.value:g} {clearance.unit}; at least "
                f"{clearance.limit:g} is wanted.")
    return (f"{name}: the pattern gives {said(clearance.value)}; at least "
            f"{guessed}{said(clearance.limit)} is wanted.")


def fasten(job: Job) -> JobWords:
    bench, lines = job.bench, job.task.lines
    count, length = fastenings(bench.length(lines[0])), bench.length(lines[0])
    cord = bench.pattern.finished.get("lace_length")
    if cord:
        sewn = (f"Cut {2 * count} pieces of cord {said(LOOP_CORD)} long. Whip both ends of each to the "
                f"facing, {count} along each edge of the opening, evenly from {said(FROM_THE_END)} below the "
                "top, so that a loop as wide as the lace just shows beyond the edge.")
        closed = (f"Lace it from below, from edge to edge, with {said(cord)} of cord, and tie the ends "
                  "inside at the top.")
    else:
        sewn = (f"Whip {count} hooks to the facing of the front, evenly from {said(FROM_THE_END)} below the "
                "top and a little back from the edge, and an eye across from each to the other facing.")
        closed = "Hook it from below; with the edges meeting, nothing should pull or gape."
    return JobWords(
        f"Sew on the {'loops' if cord else 'hooks and eyes'} of the opening",
        (sewn, f"Lay a bar of whip stitches {said(BAR)} long across the opening's lower end, where it would "
         "tear.", closed, f"The opening is {said(length)} long."),
        tuple(map(job.line, lines)),
    )


def vent(job: Job) -> JobWords:
    bench = job.bench
    return JobWords(
        "Cut and hem the slits" if len(job.task.lines) > 1 else "Cut and hem the slit",
        ("Cut the slit line and roll both edges to the inside.",
         f"Lay a bar of whip stitches {said(BAR)} long across its end."),
        tuple(Measured(f"{copy_named(bench.pattern, slit)}, {slit.edge}, both edges",
                       2 * bench.length(slit), 0.0) for slit in job.task.lines),
    )


def attach(job: Job) -> JobWords:
    bench, attached = job.bench, job.task.attachments
    pieces = list(dict.fromkeys(bench.pattern.piece(a.piece).title for a in attached))
    sentences = [_where(bench, a) for a in attached]
    joint = said(max(joint_of(bench.pattern.piece(a.piece)) for a in attached))
    how = (f"Lay {joint} of each end inside the edge and sew round it in a small square with "
           f"{job.stitched()}.")
    if job.task.kind == "catch":
        how = f"Baste {joint} of each end in place, so that the seam will catch it."
    longest = max(strip_length(bench.pattern.piece(a.piece)) for a in attached)
    if job.task.kind == "attach" and longest > TO_BE_FITTED:
        sentences.append("Settle the lengths at a fitting, with the wearer standing.")
    return JobWords(f"Sew on the {listed(pieces)}", (*sentences, how))


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


def hang(job: Job) -> JobWords:
    allowance = max(job.line(part).allowance for part in job.task.lines)
    return JobWords(
        "Hang it for a day",
        ("Hang the garment as it is worn, for a day and a night: slanted edges stretch and drop.",
         "Then mark the hem level, measured up from the floor on a person or a hanger, and trim to "
         f"{said(allowance)} below the mark."),
    )


def tuck(job: Job) -> JobWords:
    bench = job.bench
    depths = sorted({round(_tuck_depth(bench.pattern.piece(p.piece), p.edge), 1)
                     for p in job.task.lines})
    total = sum(bench.length(part) for part in job.task.lines)
    return JobWords(
        "Sew the growth tuck",
        ("Bring the tuck's lower line up to its upper line, right sides together, so that a fold "
         f"{listed([said(depth) for depth in depths])} deep stands on the inside.",
         f"Sew {said(total)} with {job.stitched()} through both lines, then a second row a "
         "finger's breadth nearer the fold. Lay the fold downwards.",
         "To let it down, draw out the two rows, the lower one first."),
        tuple(job.line(part) for part in job.task.lines),
    )


def _tuck_depth(piece: Piece, lower: str) -> float:
    """Half the way between a tuck's two stitching lines, at their middles."""
    lines = [line for line in piece.inner_lines if line.kind == "tuck"]
    under = piece.line(lower)
    middle = under.point_along(under.length / 2)
    others = [line.path for line in lines if line not in tuck_feet(piece)]
    if not others:
        return 0.0
    return min(path.point_along(path.length / 2).distance(middle) for path in others) / 2


def check(job: Job) -> JobWords:
    pattern = job.bench.pattern
    finished = "; ".join(f"{name.replace('_', ' ')} {said(mm)}"
                         for name, mm in pattern.finished.items())
    return JobWords(
        "Press and check",
        ("Brush or sponge out the chalk, press the seams, and measure what you made: "
         f"{finished}.",
         "Wear it for an hour before the event: what rubs or pulls is quickest mended at home."),
        cautions=(PINS,),
    )
