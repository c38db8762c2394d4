"""How the pieces lie next to each other before they are sewn, as one small picture with their names."""

from collections.abc import Sequence

from ..geometry import Point, bounds
from ..geometry.polygon import bounds_overlap, inside, sides, simplified
from ..pattern import Pattern, SchematicPlace
from .picture import Caption, Item, Picture, PictureLine, fitted

WIDTH, HEIGHT = 352.0, 330.0
TEXT = 11.0
LETTER = 0.56
"""About the width of a letter over the height of the text, on average."""

COARSE = 1.0

Box = tuple[float, float, float, float]
"""Left, top, right, bottom."""


def together_picture(pattern: Pattern) -> Picture | None:
    """Every copy where the pattern's schematic puts it; None when that would show a single piece.

    A lining is left out: it is sewn like what it lines, and lies like it.

    A name is written in its piece where it fits, upright or along it; else the piece has a number,
    which the lines below explain.
    """
    pieces = {piece.name: piece for piece in pattern.pieces}
    placed = [(pieces[p.piece], p) for p in pattern.schematic
              if p.piece in pieces and pieces[p.piece].cloth == "main"]
    if len(placed) < 2:
        return None
    outlines = [_moved(piece.outline.polygon, place) for piece, place in placed]
    at, scale, width, height = fitted(outlines, WIDTH, HEIGHT)
    items: list[Item] = []
    names: dict[str, list[tuple[str, Caption | None]]] = {}
    shapes: dict[str, list[Sequence[Point]]] = {}
    for (piece, place), outline in zip(placed, outlines, strict=True):
        shape = simplified([at(p) for p in (*outline, outline[0])], 0.3)[:-1]
        marks = [
            PictureLine(simplified([at(place.motion(p)) for p in line.path.points(COARSE)]),
                 "cloth" if line.kind in ("slit", "hole") else "fold")
            for line in piece.inner_lines if line.kind in ("fold", "slit", "hole")
        ]
        items += [PictureLine(shape, "cloth", closed=True), *marks]
        text = piece.copy_name(place.copy)
        names.setdefault(piece.name, []).append((text, _inside(text, shape, marks)))
        shapes.setdefault(piece.name, []).append(shape)
    numbered: list[str] = []
    taken = [bounds(shape) for group in shapes.values() for shape in group]
    for name, found in names.items():
        if all(words for _, words in found):
            items.extend(words for _, words in found if words)
            continue
        for (text, _), around in zip(found, shapes[name], strict=True):
            if text not in numbered:
                numbered.append(text)
            items.append(_number(str(numbered.index(text) + 1), around, taken, width))
    drawn = Picture("How the pieces lie before they are sewn", WIDTH, height, tuple(items))
    items = [*drawn.moved((WIDTH - width) / 2, 0.0)]
    if numbered:
        height += 0.5 * TEXT
    for line in _legend(numbered):
        height += 1.4 * TEXT
        items.append(Caption(line, Point(WIDTH / 2, height), TEXT))
    return Picture(drawn.title, WIDTH, height + 0.5 * TEXT, tuple(items))


def _moved(polygon: Sequence[Point], place: SchematicPlace) -> list[Point]:
    return [place.motion(p) for p in polygon]


def _inside(text: str, shape: Sequence[Point], marks: Sequence[PictureLine]) -> Caption | None:
    """The name level or upright where it fits and covers no mark, as near the middle as may be."""
    left, top, right, bottom = bounds(shape)
    middle = Point((left + right) / 2, (top + bottom) / 2)
    long = len(text) * TEXT * LETTER + 4
    for part in (0.0, 0.15, -0.15, 0.3, -0.3):
        p = middle + Point(0.0, part * (bottom - top))
        for angle, wide, high in ((0.0, long, TEXT), (-90.0, TEXT, long)):
            box = p.x - wide / 2, p.y - high / 2, p.x + wide / 2, p.y + high / 2
            if _holds(shape, box) and not any(bounds_overlap(bounds(mark.points), box) for mark in marks):
                drop = Point(0.0, 0.35 * TEXT) if angle == 0.0 else Point(0.35 * TEXT, 0.0)
                return Caption(text, p + drop, TEXT, angle=angle)
    return None


def _number(text: str, shape: Sequence[Point], taken: list[Box], width: float) -> Caption:
    """In its piece where that is large enough; else close by where nothing else is."""
    spare = (WIDTH - width) / 2
    left, top, right, bottom = bounds(shape)
    middle = Point((left + right) / 2, (top + bottom) / 2)
    wide, high = LETTER * len(text) * TEXT + 4, TEXT + 4
    around = (
        middle, Point(middle.x, bottom + high / 2), Point(left - wide / 2, middle.y),
        Point(right + wide / 2, middle.y), Point(middle.x, top - high / 2),
    )
    boxes = [(p.x - wide / 2, p.y - high / 2, p.x + wide / 2, p.y + high / 2) for p in around]
    free = [
        i for i in range(1, 5)
        if boxes[i][0] >= -spare and boxes[i][2] <= width + spare and boxes[i][1] >= 0
        and not any(bounds_overlap(box, boxes[i]) for box in taken)
    ]
    i = 0 if not free or min(right - left - wide, bottom - top - high) >= 0 else free[0]
    if i:
        taken.append(boxes[i])
    x = min(max(around[i].x, wide / 2 - spare), width + spare - wide / 2)
    return Caption(text, Point(x, around[i].y + 0.35 * TEXT), TEXT, bold=True)


def _holds(shape: Sequence[Point], box: Box) -> bool:
    """Whether corners, middles of sides and middle of a box lie in a polygon."""
    left, top, right, bottom = box
    xs, ys = (left, (left + right) / 2, right), (top, (top + bottom) / 2, bottom)
    around = sides(shape)
    return all(inside(around, x, y) for x in xs for y in ys)


def _legend(numbered: Sequence[str]) -> list[str]:
    """`1 gusset · 2 neck facing`, in lines that fit under the picture."""
    lines: list[str] = []
    for number, name in enumerate(numbered, start=1):
        entry = f"{number} {name}"
        if lines and (len(lines[-1]) + len(entry) + 3) * TEXT * LETTER <= WIDTH:
            lines[-1] += f" · {entry}"
        else:
            lines.append(entry)
    return lines
