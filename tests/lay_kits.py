"""Kits for testing the lay: invented garments' pieces, cut the period way."""

from dataclasses import replace
from math import cos, pi, radians, sin
from random import Random

from drafting.cloth.cloth import Cloth
from drafting.kit.marram_farm import VOLUNTEERS
from drafting.lay import Shape
from drafting.lay.bolt import ToCut, fitted, shapes_of
from drafting.lay.remnant import Remnant
from tests.drafts import draft_of

Outline = tuple[tuple[float, float], ...]


def rectangle(width: float, length: float) -> Outline:
    return ((0.0, 0.0), (width, 0.0), (width, length), (0.0, length))


def panel(top: float, hem: float, length: float, corners: int = 16) -> Outline:
    """A flared panel with a hem curved so that every line down it is `length` long."""
    drop = (length**2 - ((hem - top) / 2) ** 2) ** 0.5
    rise = length - drop
    curve = [
        (hem / 2 * (1 - 2 * k / corners), drop + rise * (1 - (1 - 2 * k / corners) ** 2))
        for k in range(corners + 1)
    ]
    return ((-top / 2, 0.0), (top / 2, 0.0), *((x, y) for x, y in curve))


def gore(radius: float, hem: float, corners: int = 12) -> Outline:
    """A sector with its apex up, its hem an arc about the apex."""
    half = hem / radius / 2
    angles = [half - 2 * half * k / corners for k in range(corners + 1)]
    return ((0.0, 0.0), *((radius * sin(a), radius * cos(a)) for a in angles))


def half_gore(length: float, hem: float) -> Outline:
    return ((0.0, 0.0), (hem, length), (0.0, length))


def sleeve(top: float, cuff: float, length: float) -> Outline:
    return ((0.0, 0.0), (top, 0.0), (top / 2 + cuff / 2, length), (top / 2 - cuff / 2, length))


def waisted(top: float, waist: float, hem: float, length: float, corners: int = 10) -> Outline:
    """A side panel drawn in at the waist by curves, straight from there to a curved hem."""
    at = 0.3 * length
    left, right = [], []
    for k in range(corners + 1):
        y = at * k / corners
        w = top / 2 + (waist - top) / 2 * sin(pi / 2 * k / corners)
        right.append((w, y))
        left.append((-w, y))
    flare = panel(waist, hem, length - at, 8)[2:]
    return (*right, *((x, y + at) for x, y in flare), *reversed(left[:]))


def hood(depth: float, height: float, corners: int = 14) -> Outline:
    crown = [
        (depth / 2 + depth / 2 * cos(radians(a)), height / 3 - height / 3 * sin(radians(a)))
        for a in [90 * k / corners for k in range(corners + 1)]
    ]
    return ((0.0, 0.0), *reversed(crown), (depth, height), (0.0, height))


def body_half(width: float, length: float, neck: float, depth: float, corners: int = 12) -> Outline:
    """A front with a round neck scooped out of its top edge."""
    scoop = [
        (width / 2 + neck * cos(radians(a)), depth * sin(radians(a)))
        for a in [180 * k / corners for k in range(corners + 1)]
    ]
    return ((0.0, 0.0), *reversed(scoop), (width, 0.0), (width, length), (0.0, length))


def apron_dress(size: Random) -> list[Shape]:
    girth, length = size.uniform(850, 1150), size.uniform(800, 1150)
    hem = girth + size.uniform(600, 1600)
    strap = size.uniform(40, 60)
    return [
        Shape("front", panel(girth / 3 + 50, hem / 3 + 50, length)),
        Shape("back", panel(girth / 3 + 50, hem / 3 + 50, length)),
        Shape("side", panel(girth / 6 + 50, hem / 6 + 50, length), 2),
        Shape("front strap", rectangle(strap, 250.0), 2),
        Shape("back strap", rectangle(strap, size.uniform(500, 650)), 2),
    ]


def waisted_dress(size: Random) -> list[Shape]:
    bust, length = size.uniform(850, 1150), size.uniform(850, 1150)
    waist = bust - size.uniform(40, 180)
    hem = bust + size.uniform(700, 1500)
    return [
        Shape("front", waisted(bust / 3 + 50, waist / 3 + 50, hem / 3 + 50, length)),
        Shape("back", waisted(bust / 3 + 50, waist / 3 + 50, hem / 3 + 50, length)),
        Shape("side", waisted(bust / 6 + 50, waist / 6 + 50, hem / 6 + 50, length), 2),
        Shape("strap", rectangle(50.0, size.uniform(400, 650)), 2),
    ]


def tunic(size: Random) -> list[Shape]:
    width, length = size.uniform(440, 620), size.uniform(800, 1250)
    top = size.uniform(320, 460)
    gore_length = length * size.uniform(0.45, 0.65)
    return [
        Shape("front", body_half(width, length, 90, 110)),
        Shape("back", body_half(width, length, 80, 40)),
        Shape("sleeve", sleeve(top, size.uniform(200, 270), size.uniform(480, 620)), 2),
        Shape("gusset", rectangle(*[size.uniform(110, 180)] * 2), 2),
        Shape("gore", gore(gore_length, size.uniform(300, 560)), size.choice((2, 4))),
        Shape("facing", rectangle(300.0, 260.0), 1),
    ]


def trousers_and_hood(size: Random) -> list[Shape]:
    seat, leg = size.uniform(560, 720), size.uniform(800, 1050)
    return [
        Shape("leg", sleeve(seat, size.uniform(300, 420), leg), 2),
        Shape("seat gusset", rectangle(*[size.uniform(180, 260)] * 2), 1),
        Shape("waistband", rectangle(90.0, size.uniform(900, 1300)), 1),
        Shape("hood", hood(size.uniform(280, 340), size.uniform(480, 620)), 2, mirroring="pairs"),
        Shape("hood gore", gore(size.uniform(220, 320), size.uniform(200, 300)), 2),
    ]


def coat(size: Random) -> list[Shape]:
    width, length = size.uniform(480, 620), size.uniform(950, 1250)
    overlap = size.uniform(100, 180)
    return [
        Shape("back", body_half(width, length, 80, 35)),
        Shape("front", sleeve(width / 2 + overlap, width / 2 + overlap + 40, length), 2,
              mirroring="pairs"),
        Shape("sleeve", sleeve(size.uniform(400, 480), 260.0, size.uniform(520, 620)), 2),
        Shape("gusset", rectangle(160.0, 160.0), 2),
        Shape("half gore", half_gore(length * 0.55, size.uniform(180, 280)), 4, mirroring="pairs"),
    ]


GARMENTS = (apron_dress, waisted_dress, tunic, trousers_and_hood, coat)


def garment_kit(seed: int) -> tuple[str, list[Shape], float]:
    """An invented garment and the usable width of a cloth that every piece fits."""
    size = Random(seed)
    make = GARMENTS[seed % len(GARMENTS)]
    shapes = make(size)
    if size.random() < 0.2:
        shapes = [
            Shape(s.name, s.outline, s.quantity, (0.0,), s.mirroring) for s in shapes
        ]
    needed = max(max(x for x, _ in s.outline) - min(x for x, _ in s.outline) for s in shapes)
    widths = [w for w in (600.0, 700.0, 900.0, 1100.0, 1400.0, 1480.0) if w > needed]
    return make.__name__, shapes, size.choice(widths)


WARDROBE = ("apron-dress", "underdress", "tunic", "trousers", "wrap-coat", "hood", "cloak")


def household(times: int = 1) -> tuple[list[Shape], float]:
    """Seven garments for each of three people, so many times over, on one bolt 148 cm wide; no piece may be
    turned over, so that the lay can be compared with others'."""
    cloth = Cloth(width=1480)
    orders = [
        ToCut(draft_of({"garment": garment, "measurements": who.measurements, "sex": who.sex,
                        "age_months": who.age_months and str(who.age_months)}).pattern, who.name)
        for who in VOLUNTEERS for garment in WARDROBE
    ]
    shapes = shapes_of(fitted(orders, cloth), cloth)
    return [replace(s, quantity=s.quantity * times, mirroring="none") for s in shapes], cloth.piece_width


def random_kit(seed: int) -> tuple[list[Shape], float]:
    """A few odd polygons, many of them far from convex, that no garment would have."""
    size = Random(seed)
    width = size.choice((450.0, 600.0, 1000.0, 1500.0))
    shapes = []
    for k in range(size.randint(1, 7)):
        corners = size.randint(3, 14)
        reach = size.uniform(0.05, 0.45) * width
        dent = size.choice((0.2, 0.6, 0.95))
        angles = sorted(size.uniform(0, 2 * pi) for _ in range(corners))
        if max(b - a for a, b in zip(angles, [*angles[1:], angles[0] + 2 * pi], strict=False)) >= pi:
            angles = [2 * pi * i / corners for i in range(corners)]
        outline = tuple(
            (r * cos(a), r * sin(a))
            for a, r in ((a, reach * size.uniform(dent, 1.0)) for a in angles)
        )
        shapes.append(
            Shape(
                f"piece {k + 1}", outline, size.randint(1, 3),
                size.choice(((0.0,), (0.0, 180.0), (0.0, 90.0, 180.0, 270.0), (0.0, 37.0))),
                size.choice(("none", "pairs", "free")),
            )
        )
    return shapes, width


def _convex(size: Random, reach: float) -> Outline:
    """Corners on a circle, squashed: what a knife leaves."""
    corners, squash = size.randint(3, 8), size.uniform(0.4, 1.0)
    step = 2 * pi / corners
    angles = [step * (k + size.uniform(-0.3, 0.3)) for k in range(corners)]
    return tuple((reach * cos(a), reach * squash * sin(a)) for a in angles)


def _star(size: Random, reach: float) -> Outline:
    """Star-shaped about its middle, with deep dents."""
    corners = size.randint(6, 16)
    step = 2 * pi / corners
    return tuple(
        (r * cos(a), r * sin(a))
        for a, r in ((step * (k + size.uniform(-0.3, 0.3)), reach * size.uniform(0.35, 1.0))
                     for k in range(corners))
    )


def _stepped(size: Random, reach: float) -> Outline:
    """Right angles only: an L, a T, a Z, a U, on a grid of its own."""
    a = reach * size.uniform(0.5, 0.9)
    b, c = a * size.uniform(0.3, 0.7), a * size.uniform(0.3, 0.7)
    shape = size.randrange(4)
    if shape == 0:
        return ((0, 0), (2 * a, 0), (2 * a, b), (c, b), (c, 2 * a), (0, 2 * a))
    if shape == 1:
        return ((0, 0), (2 * a, 0), (2 * a, b), (a + c / 2, b), (a + c / 2, 2 * a), (a - c / 2, 2 * a),
                (a - c / 2, b), (0, b))
    if shape == 2:
        return ((0, 0), (a, 0), (a, a), (2 * a, a), (2 * a, a + b), (a - c / 2, a + b), (a - c / 2, b),
                (0, b))
    return ((0, 0), (2 * a, 0), (2 * a, 2 * a), (2 * a - b / 2, 2 * a), (2 * a - b / 2, c), (b / 2, c),
            (b / 2, 2 * a), (0, 2 * a))


CLASSES = {"convex": (_convex,), "star": (_star,), "stepped": (_stepped,),
           "mixed": (_convex, _star, _stepped)}


def instance(seed: int) -> tuple[str, list[Shape], float]:
    """A set of invented polygons as the packing literature has them: of one class or mixed, few kinds
    with many copies or many kinds, with or without turning. The width is 1000."""
    size = Random(f"instance {seed}")
    name, makers = list(CLASSES.items())[seed % len(CLASSES)]
    kinds, copies = size.choice(((4, 8), (8, 4), (16, 2), (30, 1)))
    rotations = size.choice(((0.0,), (0.0, 180.0), (0.0, 90.0, 180.0, 270.0)))
    reach = size.uniform(90, 200)
    shapes = [
        Shape(f"{name} {k + 1}", size.choice(makers)(size, reach * size.uniform(0.5, 1.4)),
              max(1, copies + size.randint(-1, 1)), rotations)
        for k in range(kinds)
    ]
    return f"{name}, {kinds} kinds, {len(rotations)} ways", shapes, 1000.0


def rag(seed: int) -> Remnant:
    """An invented remnant about a metre across: the edges left by an earlier garment, every other one with a
    stain."""
    size = Random(f"rag {seed}")
    corners = size.randint(6, 9)
    step = 2 * pi / corners
    angles = [step * (k + size.uniform(-0.25, 0.25)) for k in range(corners)]
    ring = tuple((r * cos(a), 0.8 * r * sin(a)) for a in angles for r in (size.uniform(380, 720),))
    stain = tuple((x + 60 * cos(k), y + 45 * sin(k))
                  for x, y in ((size.uniform(-120, 120), size.uniform(-100, 100)),) for k in range(6))
    return Remnant("rag", ring, (stain,) if seed % 2 else (), size.choice((0.0, 17.0)))


def as_rectangle(remnant: Remnant) -> Remnant:
    """A rectangle of its area, as long for its width as its box."""
    along, across = remnant.size
    scale = (remnant.area / (along * across)) ** 0.5
    return Remnant("rectangle", rectangle(along * scale, across * scale))


def rag_kit(seed: int, area: float) -> list[Shape]:
    """A child's small pieces, half as much again as `area` holds."""
    size = Random(f"rag kit {seed}")
    length, top = size.uniform(330, 420), size.uniform(240, 300)
    kinds = [
        Shape("sleeve", sleeve(top, 0.6 * top, length), 2),
        Shape("hood", hood(size.uniform(190, 230), size.uniform(280, 340)), 2, mirroring="free"),
        Shape("gore", gore(size.uniform(300, 380), size.uniform(140, 200)), 2),
        Shape("gusset", rectangle(*[size.uniform(80, 110)] * 2), 2),
        Shape("facing", rectangle(size.uniform(150, 200), size.uniform(120, 160)), 1),
        Shape("strap", rectangle(40.0, size.uniform(300, 400)), 2),
    ]
    once = sum(kind.area * kind.quantity for kind in kinds)
    times = int(1.5 * area / once) + 1
    return [Shape(k.name, tuple((y, x) for x, y in k.outline)[::-1], k.quantity * times, k.rotations,
                  k.mirroring) for k in kinds]
