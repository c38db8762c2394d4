"""A seam or an edge seen from its end: how the layers lie, for those who have never sewn one.

Each cloth is a thick line, the thread a dotted one. Drawn by hand, to no scale.
"""

from collections.abc import Sequence

from ..geometry import Point
from .picture import Caption, Item, Picture, PictureLine, hatched

WIDTH, HEIGHT = 128.0, 76.0
THICK = 5.0
ENLARGED = 1.23
"""The drawings below are made on a ground 104 by 62."""


def section(treatment: str) -> Picture | None:
    """The picture for a treatment's name; None where there is none."""
    drawn = _SECTIONS.get(treatment)
    if drawn is None:
        return None
    title, cloths, threads = drawn
    items: list[Item] = []
    for index, cloth in enumerate(cloths):
        points = [Point(x, y) * ENLARGED for x, y in cloth]
        band = _band(points)
        items.append(PictureLine(tuple(band), "cloth", closed=True))
        if index:
            items.extend(hatched(band, 3.0))
    for thread in threads:
        items.append(PictureLine(tuple(Point(x, y) * ENLARGED for x, y in thread), "stitch"))
    items.append(Caption("seen from the end", Point(WIDTH / 2, HEIGHT - 4), 10.0))
    return Picture(title, WIDTH, HEIGHT, tuple(items))


def _band(points: Sequence[Point]) -> list[Point]:
    """A strip THICK wide along the polyline."""
    left, right = [], []
    for i, p in enumerate(points):
        before = (p - points[i - 1]).unit() if i else (points[1] - p).unit()
        after = (points[i + 1] - p).unit() if i + 1 < len(points) else before
        out = before.outward + after.outward
        out = out * (THICK / max(0.5, out.dot(before.outward)) / 2)
        left.append(p + out)
        right.append(p - out)
    return left + right[::-1]


_XY = tuple[float, float]
_Drawn = tuple[str, tuple[tuple[_XY, ...], ...], tuple[tuple[_XY, ...], ...]]

_SECTIONS: dict[str, _Drawn] = {
    "run-and-fell": (
        "Run and fell: one allowance is folded over the trimmed other and sewn down",
        (((2, 40), (50, 40), (50, 33), (72, 33)),
         ((102, 40), (57, 40), (57, 26), (84, 26), (84, 33), (77, 33))),
        (((53.5, 22), (53.5, 46)), ((81, 20), (81, 46))),
    ),
    "felled-open": (
        "Allowances pressed apart, each turned under and sewn down",
        (((2, 40), (50, 40), (50, 26), (26, 26), (26, 33), (38, 33)),
         ((102, 40), (55, 40), (55, 26), (79, 26), (79, 33), (67, 33))),
        (((46, 36), (59, 36)), ((29, 20), (29, 46)), ((76, 20), (76, 46))),
    ),
    "overcast": (
        "Allowances pressed apart, each raw edge overcast",
        (((2, 40), (50, 40), (50, 33), (28, 33)), ((102, 40), (55, 40), (55, 33), (77, 33))),
        (((46, 36), (59, 36)), ((26, 28), (31, 38)), ((79, 28), (74, 38))),
    ),
    "plain": (
        "Allowances pressed apart and left raw",
        (((2, 40), (50, 40), (50, 33), (28, 33)), ((102, 40), (55, 40), (55, 33), (77, 33))),
        (((46, 36), (59, 36)),),
    ),
    "butted selvedges": (
        "Two selvedges laid side by side and whipped over",
        (((2, 34), (50, 34)), ((102, 34), (55, 34))),
        (((42, 40), (46, 28), (59, 28), (63, 40)), ((46, 40), (59, 40))),
    ),
    "lapped": (
        "One edge laid over the other, both sewn down",
        (((2, 40), (68, 40)), ((102, 34), (38, 34))),
        (((42, 28), (42, 46)), ((64, 28), (64, 46))),
    ),
    "faced": (
        "A facing turned to the inside and sewn down",
        (((102, 40), (24, 40), (24, 33), (40, 33)),
         ((18, 40), (18, 26), (76, 26), (76, 33), (66, 33))),
        (((16, 36), (28, 36)), ((72, 20), (72, 46))),
    ),
    "ridge": (
        "The cloth folded along a felled seam and sewn through, so that a ridge stands up",
        (((2, 40), (49, 40), (49, 20), (55, 20), (55, 40), (102, 40)),),
        (((44, 34), (60, 34)),),
    ),
    "layered": (
        "One edge laid on another and basted, for the next seam to take both",
        (((2, 38), (80, 38)), ((2, 31), (80, 31))),
        (((68, 26), (68, 43)),),
    ),
    "quilted": (
        "A lining laid on, and rows sewn through both",
        (((2, 38), (102, 38)), ((2, 31), (102, 31))),
        (((22, 26), (22, 43)), ((52, 26), (52, 43)), ((82, 26), (82, 43))),
    ),
    "edged": (
        "A strip sewn to the wrong side, turned to the outside and sewn down there",
        (((102, 30), (24, 30), (24, 37), (40, 37)),
         ((18, 30), (18, 44), (76, 44), (76, 37), (66, 37))),
        (((16, 34), (28, 34)), ((72, 24), (72, 50))),
    ),
    "bound": (
        "A strip sewn on, folded over the edge and sewn down inside",
        (((102, 36), (30, 36)),
         ((58, 43), (22, 43), (22, 28), (58, 28), (58, 32), (48, 32))),
        (((53, 22), (53, 49)),),
    ),
    "double-turned": (
        "The edge turned in twice and sewn down",
        (((102, 40), (24, 40), (24, 26), (62, 26), (62, 33), (32, 33)),),
        (((58, 20), (58, 46)),),
    ),
    "rolled": (
        "The raw edge rolled up and whipped over the roll",
        (((102, 40), (36, 40), (29, 36), (29, 29), (36, 26), (42, 29), (42, 34), (36, 34)),),
        (((50, 46), (45, 24), (30, 22)),),
    ),
    "strip of 4": (
        "Long edges folded to the middle, then folded in half: four layers",
        (((34, 30), (70, 30), (70, 23), (28, 23), (28, 44), (70, 44), (70, 37), (34, 37)),),
        (((74, 20), (66, 33), (74, 47)),),
    ),
    "strip of 2": (
        "Folded in half, the raw edges turned in",
        (((58, 30), (70, 30), (70, 24), (28, 24), (28, 42), (70, 42), (70, 36), (58, 36)),),
        (((74, 20), (66, 33), (74, 46)),),
    ),
    "felled lining": (
        "A lining's turned edge sewn to the hem's allowance",
        (((102, 40), (20, 40), (20, 33), (52, 33)), ((102, 26), (34, 26), (34, 30), (48, 30))),
        (((38, 22), (38, 36)),),
    ),
    "pleat": (
        "Two lines sewn together, the fold on the inside",
        (((2, 44), (46, 44), (46, 14), (53, 14), (53, 44), (102, 44)),),
        (((42, 34), (57, 34)),),
    ),
    "tuck": (
        "A fold sewn in, to be let down later",
        (((2, 44), (46, 44), (46, 14), (53, 14), (53, 44), (102, 44)),),
        (((42, 38), (57, 38)), ((42, 30), (57, 30))),
    ),
}
