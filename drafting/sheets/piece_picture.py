"""A piece with its lengths written along its edges, as a small picture."""

from math import radians

from ..geometry import Bounds, Path, Point
from ..geometry.polygon import simplified
from ..pattern import Piece
from ..sewing.picture import Caption, Item, Picture, PictureLine, arrow
from ..words.units import Unit
from .drawing import draw_piece, turn_of
from .labels import BASELINE, Labels

COARSE = 0.6
LETTERS = 11.0


def piece_picture(
    piece: Piece, width: float, height: float, unit: Unit, largest: float
) -> Picture:
    """The piece fitted into width by height, with the cutting line and the lengths of its edges.

    `largest` is the most that a millimetre of cloth may take up, so that a small piece looks small.
    """
    drawn = draw_piece(piece, turn_of(piece))
    scale = min(largest, _scale(Labels(drawn, unit).bounds, width, height))
    labels = Labels(drawn, unit)
    labels.lengths(LETTERS / scale, names=False, once=True)
    labels.marks(LETTERS / scale, names=False)
    scale = min(largest, _scale(labels.bounds, width, height))
    x0, y0, x1, y1 = labels.bounds

    def at(p: Point) -> Point:
        return Point((p.x - x0) * scale, (p.y - y0) * scale)

    def line(path: Path) -> tuple[Point, ...]:
        return simplified([at(p) for p in path.points(COARSE)])

    cutting = simplified([at(p) for p in (*drawn.cutting, drawn.cutting[0])])
    items: list[Item] = [PictureLine(cutting[:-1], "cloth", closed=True)]
    items.extend(PictureLine(line(path), "guide") for _, path in drawn.sewing)
    items.extend(
        PictureLine(line(mark.path), "cloth" if mark.kind in ("slit", "hole") else "fold")
        for mark in drawn.marks
    )
    items.extend(PictureLine((at(tick.start), at(tick.end)), "cloth") for tick in drawn.ticks)
    items.extend(arrow([at(drawn.grain[0]), at(drawn.grain[1])], 4.0))
    for label in labels.found:
        down = Point(0, BASELINE * label.size).turned(radians(label.angle))
        items.append(Caption(label.text, at(Point(label.x, label.y) + down), label.size * scale,
                           angle=label.angle))
    return Picture(piece.title, (x1 - x0) * scale, (y1 - y0) * scale, tuple(items))


def _scale(box: Bounds, width: float, height: float) -> float:
    return min(width / max(box[2] - box[0], 1e-6), height / max(box[3] - box[1], 1e-6))
