"""The chalk plan in words: which mark to make next, measured from where, and how to join them."""

from dataclasses import dataclass

from ..cloth.chalk import ChalkPiece, ChalkPlan, Side
from ..words.units import Unit, format_length


@dataclass(frozen=True)
class PieceWords:
    """One piece's steps: rows of (mark, from the left selvedge, from the cut end), then sentences."""

    title: str
    marks: tuple[tuple[str, str, str], ...]
    joins: tuple[str, ...]
    check: str


def before_you_start(plan: ChalkPlan) -> tuple[str, ...]:
    """What holds for every piece."""
    lie = (
        "Fold the cloth lengthwise, right side in: both selvedges on the left, the fold on the right, the "
        "cut end straight across at the top. Pin the layers together, and cut through both."
        if plan.folded else
        "Lay the cloth flat, right side down, its cut end straight across at the top, a selvedge on the "
        "left."
    )
    return (
        lie,
        "Each mark has two numbers: across from the left selvedge, and down from the cut end. Measure "
        "every mark from there, never from the mark before.",
        "The lines are cutting lines: the seam allowances are inside them.",
        f"The plan needs {format_length(plan.length, plan.unit)} of cloth. Chalk everything before you "
        "cut anything; keep long shears flat on the table and closed when not in hand.",
    )


def piece_words(plan: ChalkPlan) -> tuple[PieceWords, ...]:
    """Every piece in cutting order."""
    return tuple(_words(piece, plan.unit) for piece in plan.pieces)


def _words(piece: ChalkPiece, unit: Unit) -> PieceWords:
    marks = tuple(
        (m.label, format_length(m.x, unit), format_length(m.y, unit)) for m in piece.marks
    )
    joins = [_straight(piece)] if any(s.kind == "straight" for s in piece.sides) else []
    joins += [_curve(side, unit) for side in piece.sides if side.kind not in ("straight", "fold")]
    joins += [f"{side.start}–{side.end} lies on the fold: leave it uncut, and open the piece out."
              for side in piece.sides if side.kind == "fold"]
    check = ""
    if piece.diagonal:
        a, b, size = piece.diagonal
        check = f"Check: {a} to {b} is {format_length(size, unit)}."
    return PieceWords(piece.title, marks, tuple(joins), check)


def _straight(piece: ChalkPiece) -> str:
    """The straight sides in one sentence, runs of them joined: A–B–C, E–A."""
    runs: list[list[str]] = []
    for side in piece.sides:
        if side.kind != "straight":
            continue
        if runs and runs[-1][-1] == side.start:
            runs[-1].append(side.end)
        else:
            runs.append([side.start, side.end])
    if len(runs) > 1 and runs[-1][-1] == runs[0][0]:
        runs[0] = runs.pop() + runs[0][1:]
    return "Straight: " + ", ".join("–".join(run) for run in runs) + "."


def _curve(side: Side, unit: Unit) -> str:
    if side.kind == "string" and side.centre:
        x, y = side.centre
        return (
            f"{side.start} to {side.end}: a string of {format_length(side.radius, unit)}, held at a point "
            f"{format_length(x, unit)} across and {format_length(y, unit)} down."
        )
    if not side.stations:
        return f"{side.start} to {side.end}: hardly a curve, a straight line will do."
    stations = "; ".join(
        f"{format_length(along, unit)}: {_height(height, unit)}" for along, height in side.stations
    )
    return (f"{side.start} to {side.end}, a curve: along the straight line from {side.start}, at "
            f"{stations}. Join them by eye.")


def _height(height: float, unit: Unit) -> str:
    if not height:
        return "on the line"
    return f"{format_length(abs(height), unit)} {'out' if height > 0 else 'in'}"
