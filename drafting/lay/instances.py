"""Reading a file of polygons to be laid.

    {"name": "…", "width": W, "pieces": [{"name": "…", "quantity": 2, "rotations": [0, 180],
                                          "outline": [[x, y], …]}]}

The strip is W wide and as long as needed. As in the collections of such files (ESICUP, the EURO
special interest group on cutting and packing), x runs along the strip and y across it, so lay these
shapes with `along="x"`.
"""

import json
import math
from collections.abc import Callable
from typing import Any, NamedTuple

from ..both.texts import one_line
from ..words.problems import BadInput, Problem
from ..words.reading import NestedTooDeep, read_json
from .engine import width_problems
from .shape import MOST_CORNERS, Shape

MOST_COPIES = 1000
MOST_CHARACTERS = 30_000_000


class PolygonFile(NamedTuple):
    """What a polygon file says. width: the strip's fixed side, mm; lay with `along="x"`."""

    shapes: tuple[Shape, ...]
    width: float


def read_polygon_file(text: str) -> PolygonFile:
    """The shapes and the width in a polygon file.

    `name`, `quantity` (1) and `rotations` ([0]) of a piece may be left out. Repeated corners and
    corners on a straight edge are taken silently.

    Raises BadInput with every problem found, each naming the piece and the reason.
    """
    content = content_of(text)
    problems: list[Problem] = []
    width = read_width(content, problems)
    shapes = read_pieces(content, problems)
    if not problems:
        problems += width_problems(shapes, width, "x")
    if problems:
        raise BadInput(problems)
    return PolygonFile(tuple(shapes), width)


def content_of(text: str) -> dict[str, Any]:
    """What a file of pieces holds. Raises BadInput."""
    if len(text) > MOST_CHARACTERS:
        raise _bad(f"The file has {len(text):,} characters: at most {MOST_CHARACTERS:,} are read.")
    try:
        content = read_json(text)
    except NestedTooDeep:
        raise _bad("The file's brackets are nested far too deep to be a list of pieces.") from None
    except ValueError as error:
        raise _bad(f"The file is no complete JSON: {error}.") from None
    if not isinstance(content, dict):
        raise _bad(
            f"The file holds {_kind(content)}: it must hold an object with “width” and “pieces”."
        )
    return content


def read_width(content: dict[str, Any], problems: list[Problem]) -> float:
    width: Any = content.get("width")
    if _is_number(width) and width > 0:
        return float(width)
    problems.append(
        Problem("width", f"“width” is {_shown(width)}: give the strip's width in mm, above 0.")
    )
    return 0.0


def read_pieces(content: dict[str, Any], problems: list[Problem]) -> list[Shape]:
    """The shapes that read; a problem for each that does not."""
    pieces = content.get("pieces")
    if not isinstance(pieces, list):
        problems.append(Problem("pieces", f"“pieces” is {_kind(pieces)}: it must be a list."))
        raise BadInput(problems)
    if not pieces:
        problems.append(Problem("pieces", "“pieces” is empty: there is nothing to lay."))
    shapes: list[Shape] = []
    names: set[str] = set()
    for number, piece in enumerate(pieces, start=1):
        try:
            shape = _shape(piece, number)
            if shape.name in names:
                raise _bad(
                    f"Two pieces are named “{shape.name}”: give each its own name, or one a larger "
                    "quantity.",
                    shape.name,
                )
            names.add(shape.name)
            shapes.append(shape)
        except BadInput as error:
            problems += error.problems
    copies = sum(shape.quantity for shape in shapes)
    if copies > MOST_COPIES:
        problems.append(
            Problem("pieces", f"{copies:,} pieces are wanted: at most {MOST_COPIES:,} are laid.")
        )
    return shapes


def _shape(piece: Any, number: int) -> Shape:
    if not isinstance(piece, dict):
        raise _bad(f"Piece number {number} is {_kind(piece)}: it must be an object.", "pieces")
    name = one_line(str(piece.get("name", number)))  # type: ignore[no-untyped-call]

    def bad(reason: str) -> BadInput:
        return _bad(f"Piece “{name}” {reason}", name)

    quantity = piece.get("quantity", 1)
    if not _is_number(quantity) or quantity != int(quantity):
        raise bad(f"has the quantity {_shown(quantity)}: give a whole number, at least 1.")
    rotations = piece.get("rotations", [0])
    if not isinstance(rotations, list) or not all(map(_is_number, rotations)):
        raise bad(f"has the rotations {_shown(rotations)}: give a list of degrees, such as [0, 180].")
    if any(piece.get(key) for key in ("holes", "interiors", "inner")):
        raise bad("has a hole: only outlines without holes are laid.")
    corners = read_ring(piece.get("outline"), bad)
    return Shape(name, corners, int(quantity), tuple(float(angle) for angle in rotations))


def read_ring(outline: Any, bad: Callable[[str], BadInput]) -> tuple[tuple[float, float], ...]:
    """The corners of a polygon; raises what `bad` makes of the reason where they are none."""
    if not isinstance(outline, list):
        raise bad(f"has {_kind(outline)} for an outline: give a list of corners [[x, y], …].")
    if len(outline) > MOST_CORNERS:
        raise bad(
            f"has {len(outline):,} corners: at most {MOST_CORNERS:,} are taken, and a curve within "
            "0.1 mm needs a few hundred."
        )
    for index, corner in enumerate(outline, start=1):
        if isinstance(corner, list) and corner and isinstance(corner[0], list):
            raise bad("has a hole, or several rings: give the one outline as [[x, y], …].")
        if not (isinstance(corner, list) and len(corner) == 2 and all(map(_is_a_number, corner))):
            raise bad(f"has a corner (number {index}) that is {_shown(corner)}: give [x, y] in mm.")
        if not all(map(_is_number, corner)):
            raise bad(f"has a corner (number {index}) that is not finite: {_shown(corner)}.")
    return tuple((float(x), float(y)) for x, y in outline)


def _is_a_number(value: Any) -> bool:
    return isinstance(value, (int, float)) and not isinstance(value, bool)


def _is_number(value: Any) -> bool:
    """Whether it is a number that a float can hold, neither NaN nor infinite."""
    try:
        return _is_a_number(value) and math.isfinite(value)
    except OverflowError:
        return False


def _kind(value: Any) -> str:
    kinds = {dict: "an object", list: "a list", str: "a text", bool: "true or false"}
    return "nothing" if value is None else kinds.get(type(value), "a number")


def _shown(value: Any) -> str:
    try:
        text = json.dumps(value, ensure_ascii=False)
    except ValueError:
        text = "a number with thousands of digits"
    return text if len(text) <= 60 else text[:57] + "…"


def _bad(message: str, field: str = "file") -> BadInput:
    return BadInput([Problem(field, message)])
