"""The picture of a step: its pieces laid next to each other, and what is sewn there.

Plain is the right side of the cloth, hatched the wrong side. The line to sew is thick; in the second
drawing of a seam the smaller piece lies on the larger one as it is sewn, right sides together.
"""

from collections.abc import Iterable, Sequence

from ..geometry import Path, Point, bounds
from ..pattern import Seam, SeamEdge
from .graph import Copy, copy_of, parts_of
from .order import tuck_lines
from .picture import TEXT, Item, Line, Picture, Words, arrow, below, beside, bow, fitted, hatched, simplified
from .placing import COARSE, Shapes, Table, meeting_copies
from .plan import Plan, Step
from .sections import section
from .treatments import edge_treatment
from .work import folds_of

WIDTH, HEIGHT = 330.0, 150.0
LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"


def step_pictures(plan: Plan) -> tuple[Picture | None, ...]:
    """A picture for each step; None where there is nothing to see, as at a fitting."""
    shapes = Shapes(plan.pattern)
    return tuple(_step_picture(shapes, step) for step in plan.steps)


def _step_picture(shapes: Shapes, step: Step) -> Picture | None:
    pattern, task = shapes.pattern, step.task
    if task.kind in ("join", "face"):
        return _sewn(shapes, step)
    if task.kind in ("fell", "let-out"):
        scene = _Scene(shapes, _copies(step), pattern.seams, ())
        for seam in task.seams:
            scene.sewn(seam, tied=False)
        treatment = task.seams[0].treatment if task.kind == "fell" else ""
        return scene.picture(step.title, wrong_side=True, inset=section(treatment))
    if task.kind == "opening":
        scene = _Scene(shapes, task.copies, task.seams, ())
        scene.opened(task.seams)
        return scene.picture(step.title, wrong_side=True, inset=section("double-turned"))
    if task.kind in ("neck", "edge", "hem", "vent", "tuck", "reinforce"):
        return _lines(shapes, step)
    if task.kind in ("attach", "catch"):
        copies = tuple(dict.fromkeys(copy_of(a.to) for a in task.attachments))
        scene = _Scene(shapes, copies, pattern.seams, ())
        for a in task.attachments:
            scene.spot(a.to, a.distance)
        return scene.picture(step.title)
    if task.kind == "strip":
        piece = pattern.piece(task.copies[0][0])
        scene = _Scene(shapes, _one_of_each(task.copies), (), (), upright=False)
        return scene.picture(step.title, inset=section(f"strip of {folds_of(piece) + 1}"))
    return None


def _copies(step: Step) -> tuple[Copy, ...]:
    return step.copies or tuple(
        dict.fromkeys(copy_of(p) for seam in step.task.seams for p in parts_of(seam)))


def _one_of_each(copies: Iterable[Copy]) -> tuple[Copy, ...]:
    found: dict[str, Copy] = {}
    for copy in copies:
        found.setdefault(copy[0], copy)
    return tuple(found.values())


def _sewn(shapes: Shapes, step: Step) -> Picture:
    """A seam: the pieces side by side, then one lying on the other."""
    seams = _first_of_twins(step.task.seams)
    copies = tuple(dict.fromkeys(copy_of(part) for seam in seams for part in parts_of(seam)))
    scene = _Scene(shapes, copies, seams, ())
    for seam in seams:
        scene.sewn(seam)
    together = _together(shapes, seams[0]) if len(copies) > 1 else None
    more = len(step.task.seams) > len(seams)
    return scene.picture(step.title, inset=together, note="the same again on the other side"
                         if more else "")


def _first_of_twins(seams: Sequence[Seam]) -> tuple[Seam, ...]:
    """Where the step works on several assemblies of the same pieces, the seams of the first."""
    groups = meeting_copies(seams)
    kinds = [sorted(name for name, _ in group) for group in groups]
    if len(groups) < 2 or any(kind != kinds[0] for kind in kinds):
        return tuple(seams)
    return tuple(s for s in seams if copy_of(s.a[0]) in groups[0])


def _lines(shapes: Shapes, step: Step) -> Picture:
    """Edges, slits or tucks of pieces that hang together by now, seen from inside."""
    pattern, task = shapes.pattern, step.task
    scene = _Scene(shapes, task.copies, pattern.seams, task.lines)
    inset = None
    if task.kind in ("neck", "edge", "hem"):
        first = task.lines[0]
        allowance = pattern.piece(first.piece).allowance(first.edge)
        inset = section(edge_treatment(allowance).name)
    elif task.kind == "tuck":
        inset = section("tuck")
        for copy in task.copies:
            for line in pattern.piece(copy[0]).inner_lines:
                if line.kind == "tuck" and line not in tuck_lines(pattern.piece(copy[0])):
                    scene.guide(copy, line.path)
    return scene.picture(step.title, wrong_side=task.kind != "reinforce", inset=inset)


class _Scene:
    """Gathers what is drawn over the pieces; all in mm of cloth until it is made a picture."""

    def __init__(self, shapes: Shapes, copies: Sequence[Copy], seams: Iterable[Seam],
                 lines: Iterable[SeamEdge], *, upright: bool = True) -> None:
        self.pattern = shapes.pattern
        self.graph = shapes.graph
        chosen = set(copies)
        within = [s for s in seams if {copy_of(p) for p in parts_of(s)} <= chosen]
        self.table = Table(shapes, copies, within)
        self.lines = [(self.table.line(part), "seam") for part in lines]
        self.spots: list[Point] = []
        self.bows: list[tuple[Point, Point]] = []
        self.upright = upright

    def guide(self, copy: Copy, path: Path) -> None:
        self.lines.append((self.table.inner(copy, path), "stitch"))

    def spot(self, part: SeamEdge, distance: float) -> None:
        path = Path.through(*self._as_drafted(part))
        self.spots.append(path.point_along(distance))

    def _as_drafted(self, part: SeamEdge) -> tuple[Point, ...]:
        """The edge where it lies, from the end where it starts on the piece as drafted."""
        line = self.table.line(part)
        piece = self.pattern.piece(part.piece)
        turned = piece.mirrored and part.copy % 2 == 0
        return line[::-1] if turned and not self.graph.is_slit(part) else line

    def opened(self, seams: Iterable[Seam]) -> None:
        """The part of each seam that stays open, from its start on side a, its end on side b."""
        for seam in seams:
            for part, path in self._from_top(seam):
                if seam.open_from_top < path.length:
                    path = path.cut_at(seam.open_from_top)[0]
                self.lines.append((tuple(path.points(COARSE)), "seam"))

    def sewn(self, seam: Seam, *, tied: bool = True) -> None:
        """The edges of a seam below what stays open; a bow ties those that lie apart."""
        tops = {part for part, _ in self._from_top(seam)} if seam.open_from_top else set()
        for part in parts_of(seam):
            if part not in tops:
                self.lines.append((self.table.line(part), "seam"))
        for _, path in self._from_top(seam) if tops else ():
            if seam.open_from_top < path.length:
                path = path.cut_at(seam.open_from_top)[1]
                self.lines.append((tuple(path.points(COARSE)), "seam"))
        if tied:
            self.bows.append((_middle(self.table.line(seam.a[0])), _middle(self.table.line(seam.b[0]))))

    def _from_top(self, seam: Seam) -> Iterable[tuple[SeamEdge, Path]]:
        """The edges at the seam's start: that of side a as it is drafted, that of b from its end."""
        for part, turn in ((seam.a[0], False), (seam.b[0], True)):
            line = self._as_drafted(part)
            yield part, Path.through(*(line[::-1] if turn else line))

    def picture(self, title: str, *, wrong_side: bool = False, inset: Picture | None = None,
                note: str = "") -> Picture:
        placed = self.table.placed
        polygons = [p.polygon for p in placed.values()]
        left, top, right, bottom = bounds([p for polygon in polygons for p in polygon])
        sideways = not self.upright and bottom - top > right - left
        room = WIDTH - (inset.width + 14 if inset else 0)
        ways = [_seen(p, wrong_side, sideways) for polygon in polygons for p in polygon]
        at, scale, width, height = fitted([ways], room, HEIGHT)

        def show(points: Iterable[Point]) -> tuple[Point, ...]:
            return simplified([at(_seen(p, wrong_side, sideways)) for p in points])

        items: list[Item] = []
        for polygon in polygons:
            shown = show((*polygon, polygon[0]))[:-1]
            items.append(Line(shown, "cloth", closed=True))
            if wrong_side:
                items.extend(hatched(shown))
        for copy in placed:
            for inner in self.pattern.piece(copy[0]).inner_lines:
                if inner.kind == "fold":
                    items.append(Line(show(self.table.inner(copy, inner.path)), "fold"))
                elif inner.kind not in ("level", "tuck"):
                    items.append(Line(show(self.table.inner(copy, inner.path)), "cloth"))
        for line, style in self.lines:
            items.append(Line(show(line), "seam" if style == "seam" else "stitch"))
        gap = self.table.gap * scale
        for a, b in self.bows:
            start, end = at(a), at(b)
            if start.distance(end) > 2.5 * gap + 2:
                items.extend(arrow(bow(start, end, min(24.0, start.distance(end) / 5))))
        for spot in self.spots:
            p = at(_seen(spot, wrong_side, sideways))
            items.append(Line(_ring(p, 4.0), "fill", closed=True))
        names = []
        for letter, (copy, piece) in zip(LETTERS, placed.items(), strict=False):
            middle = at(_seen(_inside(piece.polygon), wrong_side, sideways))
            items.append(Words(letter, Point(middle.x, middle.y + TEXT * 0.36), TEXT, bold=True))
            names.append(f"{letter} {self.pattern.piece(copy[0]).copy_name(copy[1])}")
        main = Picture(title, width, height, tuple(items))
        shown = beside(title, [main, inset]) if inset else main
        legend = list(names)
        if wrong_side:
            legend.append("hatched: wrong side")
        if note:
            legend.append(note)
        return below(title, [shown, _legend(legend, max(shown.width, WIDTH))])


def _middle(line: Sequence[Point]) -> Point:
    path = Path.through(*line)
    return path.point_along(path.length / 2)


def _seen(p: Point, wrong_side: bool, sideways: bool) -> Point:
    """From the inside left and right change places; a long strip is laid on its side."""
    q = Point(-p.x, p.y) if wrong_side else p
    return Point(q.y, -q.x) if sideways else q


def _ring(p: Point, radius: float) -> tuple[Point, ...]:
    return tuple(p + Point(radius, 0).turned(i * 0.785398) for i in range(8))


def _inside(polygon: Sequence[Point]) -> Point:
    """A point well within: the middle of the widest stretch of a level line across it."""
    left, top, right, bottom = bounds(polygon)
    best, where = -1.0, Point((left + right) / 2, (top + bottom) / 2)
    for part in (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8):
        y = top + part * (bottom - top) + 1e-6
        crossings = sorted(
            a.x + (b.x - a.x) * (y - a.y) / (b.y - a.y)
            for a, b in zip(polygon, (*polygon[1:], polygon[0]), strict=True)
            if (a.y > y) != (b.y > y)
        )
        for x0, x1 in zip(crossings[::2], crossings[1::2], strict=False):
            width = (x1 - x0) * (1.0 if part == 0.5 else 0.8)
            if width > best:
                best, where = width, Point((x0 + x1) / 2, y)
    return where


def _legend(parts: Sequence[str], width: float, size: float = 11.0) -> Picture:
    """The parts in lines no wider than the picture; broken between parts only where it can be."""
    lines: list[str] = []
    most = int(width / (size * 0.56))
    for part in parts:
        if lines and len(lines[-1]) + 3 + len(part) <= most:
            lines[-1] += f" · {part}"
        else:
            lines.append(part)
    items = tuple(Words(line, Point(2, (i + 0.8) * size * 1.3), size, "start")
                  for i, line in enumerate(lines))
    return Picture("", width, len(lines) * size * 1.3 + 3, items)


def _together(shapes: Shapes, seam: Seam) -> Picture | None:
    """The smaller piece turned over on to the larger, its seam line on the other's."""
    graph, pattern = shapes.graph, shapes.pattern
    sides = sorted((seam.a, seam.b), key=lambda side: pattern.piece(side[0].piece).outline.area)
    small, large = sides[0][0], sides[1][0]
    if len(seam.a) > 1 or len(seam.b) > 1 or graph.is_slit(large) or graph.is_slit(small):
        return None
    table = Table(shapes, (copy_of(large), copy_of(small)), (seam,))
    line = table.line(large)
    a, b = line[0], line[-1]
    if a.distance(b) < 1.0:
        return None
    along = (b - a).unit()
    near = table.line(small)
    shift = a.towards(b, 0.5) - near[0].towards(near[-1], 0.5)

    def turned_over(p: Point) -> Point:
        off = p + shift - a
        return a + along * (2 * off.dot(along)) - off

    ground = table.placed[copy_of(large)].polygon
    over = [turned_over(p) for p in table.placed[copy_of(small)].polygon]
    at, _, width, height = fitted([ground, over], 104.0, HEIGHT - 16)
    upper = simplified([at(p) for p in (*over, over[0])])[:-1]
    items: list[Item] = [
        Line(simplified([at(p) for p in (*ground, ground[0])])[:-1], "cloth", closed=True),
        Line(upper, "cloth", closed=True),
        *hatched(upper),
        Line(simplified([at(p) for p in line]), "stitch"),
        Words("right sides together", Point(width / 2, height + 11), 9.0),
    ]
    return Picture("", max(width, 96.0), height + 16, tuple(items))
