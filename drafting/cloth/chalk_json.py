"""chalk-plan.json: the numbers of a chalk plan as they are printed, for whoever draws it with something else.

    {"format": "ellwand-chalk-plan", "version": 1, "unit": "mm", "printed_in": "cm",
     "plans": [{"cloth": "main", "part": "main", "width": 1500.0, "length": 2061.0, "folded": false,
                "marks": 38, "pieces": [PIECE, …]}]}

`part` is which of the garment's cloths is cut, `cloth` the name of the piece of it that is there already, of
the bolt the part again: two parts may have pieces of one name.

Lengths are mm and have been rounded as they are printed. x runs across from the left selvedge, y down from
the cut end. A PIECE with numbers of its own, and its lines:

    {"title": "body", "middle": 298.0, "on_fold": false, "along": [10.0],
     "marks": [{"label": "A", "across": 288.0, "down": 0.0, "sides": "both", "notes": []}, …],
     "lines": [{"kind": "outline", "name": "", "strokes": [
                   {"how": "straight", "marks": ["a", "A", "B", "b", "a"]},
                   {"how": "curve", "marks": ["B", "C", "b"]},
                   {"how": "loop", "marks": ["D", "E", "F", "e"]},
                   {"how": "string", "marks": ["G", "H"], "held": "J", "radius": 950.0},
                   {"how": "box", "marks": ["a", "A"], "down": 640.0},
                   {"how": "bend", "marks": ["K", "L", "M"], "reach": 50.0}]},
               {"kind": "hole" | "slit" | "fold" | "tuck" | "level", …}],
     "diagonal": ["a", "B", 2040.0]}

Where `middle` is null a mark lies at (across, down). Else `sides` says where: “right” at (middle + across,
down) under its letter, “left” at (middle − across, down) under its small letter, “both” at both. With
`on_fold` the middle is the cloth's fold and only the left half lies there; the lines are of the whole.
`along` are folds down the whole piece, mm from the middle line to both sides.

`straight` joins its marks. `curve` is drawn by eye: between two neighbours p and q it goes over evenly from
the circle through the mark before, p and q, to the circle through p, q and the mark after: a point at part t
of the one arc and a point at part t of the other, weighed 1 − t and t. At an end there is but one circle,
and marks on one line have the line. `loop` is the same, closed. `string` is a circle of `radius` about the
mark `held`, from each mark the shorter way round to the next. `box` is the rectangle that goes straight down
from its two upper corners. `bend` is straight from the first mark to the second and on to the third, the
corner there rounded off by the circle that touches both lines `reach` mm from it.

A twin has `twin` instead of marks and lines of its own, as has a line that is cut round another's:

    {"title": "sleeve 2", "twin": {"of": "sleeve 1", "mark": "A", "x": 1490.0, "y": 0.0, "over": false,
                                   "turned": false, "without": ["H"]}}
    {"kind": "hole", "name": "neck", "twin": {"of": "body", "line": "neck", "mark": "C", "at": "H", …}}

It is the other drawn again: x negated where `over`, then both x and y where `turned`, then moved so that the
`mark` comes to (x, y), or to the piece's own mark `at`. `without` are marks that are not copied.
"""

from collections.abc import Sequence
from typing import Any

from .chalk import ChalkLine, ChalkPiece, ChalkPlan, Stroke, Twin

FORMAT = "ellwand-chalk-plan"
VERSION = 1


def as_json(plans: Sequence[tuple[str, ChalkPlan]]) -> dict[str, Any]:
    """The plans of a garment's cloths, or of a bolt, each with the part that is cut; at least one."""
    _, first = plans[0]
    return {
        "format": FORMAT, "version": VERSION, "unit": "mm", "printed_in": first.unit,
        "plans": [_plan(part, plan) for part, plan in plans],
    }


def _plan(part: str, plan: ChalkPlan) -> dict[str, Any]:
    return {
        "cloth": plan.cloth or part, "part": part, "width": round(plan.width, 3),
        "length": round(plan.length, 3), "folded": plan.folded, "marks": plan.count,
        "pieces": [_piece(piece) for piece in plan.pieces],
    }


def _piece(piece: ChalkPiece) -> dict[str, Any]:
    if piece.twin:
        return {"title": piece.title, "on_fold": piece.on_fold, "twin": _twin(piece.twin)}
    return {
        "title": piece.title,
        "middle": piece.middle,
        "on_fold": piece.on_fold,
        "along": list(piece.along),
        "marks": [
            {"label": m.label, "across": m.across, "down": m.down, "sides": m.sides, "notes": list(m.notes)}
            for m in piece.marks
        ],
        "lines": [_line(line) for line in piece.lines],
        "diagonal": list(piece.diagonal) if piece.diagonal else None,
    }


def _line(line: ChalkLine) -> dict[str, Any]:
    told: dict[str, Any] = {"kind": line.kind, "name": line.name}
    if line.twin:
        return {**told, "twin": _twin(line.twin)}
    return {**told, "strokes": [_stroke(stroke) for stroke in line.strokes]}


def _stroke(stroke: Stroke) -> dict[str, Any]:
    told: dict[str, Any] = {"how": stroke.how, "marks": list(stroke.marks)}
    if stroke.how == "box":
        return {**told, "down": stroke.down}
    if stroke.how == "bend":
        return {**told, "reach": stroke.reach}
    return {**told, "held": stroke.held, "radius": stroke.radius} if stroke.how == "string" else told


def _twin(twin: Twin) -> dict[str, Any]:
    told: dict[str, Any] = {"of": twin.of, "mark": twin.mark, "over": twin.over, "turned": twin.turned}
    if twin.line:
        return {**told, "line": twin.line, "at": twin.at}
    return {**told, "x": twin.x, "y": twin.y, "without": list(twin.without)}
