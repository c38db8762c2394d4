"""The chalk plan in words: which mark to make next, measured from where, and how to join them."""

from collections.abc import Iterator
from dataclasses import dataclass
from math import hypot

from ..cloth.chalk import ChalkLine, ChalkPiece, ChalkPlan, Mark, Stroke, Twin
from ..words.units import Unit, format_finely
from ..words.wording import with_kind


@dataclass(frozen=True)
class MarkWords:
    """A mark's letter, its two numbers, and what it is for."""

    label: str
    across: str
    down: str
    note: str = ""


@dataclass(frozen=True)
class PieceWords:
    """One piece's steps: what comes before its marks, the marks under what their numbers are measured
    from, then how to join them and a length to check."""

    title: str
    before: tuple[str, ...]
    columns: tuple[str, str]
    marks: tuple[MarkWords, ...]
    joins: tuple[str, ...]
    check: str


def before_you_start(plan: ChalkPlan) -> tuple[str, ...]:
    """What holds for every piece."""
    _, end = _edges(plan)
    lie = (
        f"Lay {plan.cloth} flat, right side down, its warp running down, as it was measured: from the same "
        "left edge and the same top edge."
        if plan.cloth else
        "Fold the cloth lengthwise, right side in: both selvedges on the left, the fold on the right, the "
        "cut end straight across at the top. Pin the layers together, and cut through both."
        if plan.folded else
        "Lay the cloth flat, right side down, its cut end straight across at the top, a selvedge on the "
        "left."
    )
    needs = "" if plan.cloth else f"The plan needs {format_finely(plan.length, plan.unit)} of cloth. "
    twins = any(piece.twin for piece in plan.pieces)
    mirrored = any(piece.middle is not None for piece in plan.pieces)
    return (
        lie,
        f"Each mark has two numbers: across, and down from the {end}. Measure every mark from there, never "
        "from the mark before.",
        *(["A piece with a middle line is the same on both sides: chalk that line first, straight down the "
           "cloth, and set each width off to both sides of it. Capital letters are at the right, their small "
           "ones at the left."] if mirrored else ()),
        "The lines are cutting lines: the seam allowances are inside them. What sewing needs is marked on "
        "the sewing line.",
        f"{needs}Chalk everything before you cut anything; keep long shears flat on the table and closed "
        "when not in hand.",
        *(["Of pieces that are alike only one has numbers: cut it out, lay it where the other one goes and "
           "chalk round it."] if twins else ()),
    )


def piece_words(plan: ChalkPlan) -> tuple[PieceWords, ...]:
    """Every piece in the order to chalk it."""
    templates = {piece.title: piece for piece in plan.pieces}
    return tuple(
        _twin(piece, piece.twin, templates[piece.twin.of], plan) if piece.twin
        else _words(piece, plan) for piece in plan.pieces
    )


def _words(piece: ChalkPiece, plan: ChalkPlan) -> PieceWords:
    unit, (edge, end) = plan.unit, _edges(plan)
    columns, before = (f"from {edge}", f"from {end}"), []
    if piece.on_fold:
        columns = "out from fold", f"from {end}"
        before = ["Half of it lies on the fold, which is its middle line: leave that uncut, and open the "
                  "piece out."]
    elif piece.middle is not None:
        columns = "out from middle", f"from {end}"
        before = [f"Middle line: {format_finely(piece.middle, unit)} from the {edge}."]
    check = ""
    if box := next((s for line in piece.lines for s in line.strokes if s.how == "box"), None):
        across = hypot(2 * piece.marks[0].across, box.down)
        check = f"Check: each way from corner to corner it is {format_finely(across, unit)}."
    elif piece.diagonal:
        a, b, size = piece.diagonal
        check = f"Check: {a} to {b} is {format_finely(size, unit)}."
    marks = tuple(_mark(mark, piece, unit) for mark in piece.marks)
    return PieceWords(piece.title, tuple(before), columns, marks, tuple(_joins(piece, unit)), check)


def _mark(mark: Mark, piece: ChalkPiece, unit: Unit) -> MarkWords:
    only = ""
    if mark.sides in ("left", "right"):
        only = "on one layer only" if piece.on_fold else f"at the {mark.sides} only"
    label = mark.label.lower() if mark.sides == "left" and not piece.on_fold else mark.label
    note = ", ".join(filter(None, (*mark.notes, only)))
    return MarkWords(label, format_finely(mark.across, unit), format_finely(mark.down, unit), note)


def _twin(piece: ChalkPiece, twin: Twin, template: ChalkPiece, plan: ChalkPlan) -> PieceWords:
    unit, (edge, end) = plan.unit, _edges(plan)
    at = MarkWords(twin.mark, format_finely(twin.x, unit), format_finely(twin.y, unit),
                   f"of {twin.of}")
    not_copied = [mark for mark in template.marks if mark.label in twin.without]
    but = "".join(f", but not {m.label}, {m.notes[0]}" for m in not_copied)
    copied = f"Copy its marks{but}." if template.marks else ""
    return PieceWords(
        piece.title,
        (f"Cut round {twin.of}, its template, laid {_laid(twin)}, straight with the thread: its mark "
         f"{twin.mark} lies at the mark below.",),
        (f"from {edge}", f"from {end}"), (at,), (copied,) if copied else (), "",
    )


def _laid(twin: Twin) -> str:
    ways = [way for way, so in (("turned over left to right", twin.over), ("head down", twin.turned)) if so]
    return " and ".join(ways) or "the same way up"


def _joins(piece: ChalkPiece, unit: Unit) -> Iterator[str]:
    for line in piece.lines:
        if line.twin and line.kind == "hole":
            yield (f"{_named(line)}: as cut out of {line.twin.of}. Lay what was cut out "
                   f"{_laid(line.twin)}, its mark {line.twin.mark} on the mark set for it, and chalk round "
                   "it.")
        elif line.twin:
            yield f"{_named(line)}: as in {line.twin.of}, from the same place."
        else:
            yield from _line(piece, line, unit)
    for out in piece.along:
        where = ("along the middle line" if not out else
                 f"down the whole piece, {format_finely(out, unit)} to each side of the middle line")
        yield f"Fold: {where}."


def _named(line: ChalkLine) -> str:
    """What a line is: “Neck hole”, “Fold, shoulder”."""
    kinds = {"hole": "hole", "slit": "slit", "fold": "fold", "tuck": "tuck", "level": "line"}
    if line.kind == "outline":
        return "Cut"
    return _capital(with_kind(line.name, kinds[line.kind]))


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _line(piece: ChalkPiece, line: ChalkLine, unit: Unit) -> Iterator[str]:
    strokes = [stroke for stroke in line.strokes if _said(piece, stroke)]
    straight = ["–".join(_ways(piece, stroke)) for stroke in strokes if stroke.how == "straight"]
    straight = [way for way in straight if "–" in way]
    name = "" if line.kind == "outline" else f"{_named(line)}: "
    if straight:
        yield f"{name or 'Straight: '}{', '.join(straight)}{' straight' if name else ''}."
    for stroke in strokes:
        if stroke.how == "straight":
            continue
        ways = _ways(piece, stroke)
        if stroke.how == "box":
            yield (f"Draw a rectangle with a square: from {' and '.join(ways)} "
                   f"{format_finely(stroke.down, unit)} straight down the cloth.")
        elif stroke.how == "string":
            through = f" through {', '.join(ways[1:-1])}" if ways[1:-1] else ""
            yield (f"{name}{ways[0]}{through} to {ways[-1]}: a string of "
                   f"{format_finely(stroke.radius, unit)}, held at {stroke.held}.")
        elif stroke.how == "bend":
            reach = format_finely(stroke.reach, unit)
            yield (f"{name}{'–'.join(ways)} straight, and the corner at {ways[1]} rounded off by eye from "
                   f"{reach} before it to {reach} after.")
        elif stroke.how == "loop":
            yield f"{name}one curve round through {', '.join(ways)}, joined by eye."
        else:
            through = ", ".join(ways[1:-1])
            yield (f"{name}{ways[0]} to {ways[-1]}, a curve through {through}, joined by eye.")


def _said(piece: ChalkPiece, stroke: Stroke) -> bool:
    """Whether it must be said: what is at the left as well is said of the right."""
    return piece.middle is None or any(label.isupper() for label in stroke.marks)


def _ways(piece: ChalkPiece, stroke: Stroke) -> list[str]:
    """Its marks in order; of a half on the fold, the capital ones."""
    if not piece.on_fold:
        return list(stroke.marks)
    return [label for label in dict.fromkeys(label.upper() for label in stroke.marks)]


def _edges(plan: ChalkPlan) -> tuple[str, str]:
    """What is measured from, across and down."""
    return ("left edge", "top edge") if plan.cloth else ("left selvedge", "cut end")
