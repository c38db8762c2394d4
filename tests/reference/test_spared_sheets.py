"""Every piece rebuilt from the sheets that spare paper: pages joined, halves unfolded, numbers drawn.

The PDF is read by pdfplumber, the pages are joined by their register marks alone, and shapely compares what
comes of it with the outlines of the SVG. source of the limit: issue numbers of the project, 0.2 mm.
"""

import io
import re
from functools import cached_property, partial

import numpy as np
import pdfplumber
import pytest
from shapely import affinity, unary_union
from shapely.geometry import LineString, MultiLineString, Polygon, box
from shapely.ops import linemerge

from drafting.sheets.svg import pieces_svg
from drafting.sheets.tiled_pdf import tiled_pdf
from tests.drafts import drafted
from tests.printed import POINT, cover_words, cutting_polygons, register_marks, svg_pieces, tile_of
from tests.wardrobe import ASTA, TAM, draft

LIMIT = 0.2
"""mm."""

MAN = {"stature": 1756.0, "bust_girth": 1067.0, "waist_girth": 940.0, "hip_girth": 1012.0}
"""An invented body, for demo drafts."""

DRAFTS = {
    "apron dress": drafted,
    **{f"{name} for {who}": partial(draft, name, values=values)
       for name in ("underdress", "tunic", "trousers", "wrap-coat", "hood", "cap")
       for who, values in (("Asta", ASTA), ("a man", MAN), ("Tam", TAM))},
    **{f"cloak, {shape}, {cut}": partial(draft, "cloak", {"shape": shape, "cut": cut})
       for shape in ("half-circle", "three-quarter-circle") for cut in ("whole", "quarters")},
}
CUTTING = 0.7
"""mm: the width of lines to cut and of notches; of the middle line, in dashes of 14 mm, and of slits."""


NOTCH = 60.0
"""mm: a lone straight line that is shorter is a notch: from the sewing line through the allowance."""


class Joined:
    """The pages laid down so that their crosses meet; what each shows is cut off where its window ends."""

    def __init__(self, pdf: bytes) -> None:
        self.shown: list = []
        self.middles: list = []
        marks, drawn = {}, {}
        with pdfplumber.open(io.BytesIO(pdf)) as document:
            for page in document.pages:
                text = page.extract_text() or ""
                tile = tile_of(text)
                alone = page.page_number == len(document.pages) > 1 and not marks
                if tile is None and not alone:
                    continue  # a cover
                tile = tile or (1, 1)
                marks[tile] = list(register_marks(page))
                drawn[tile] = list(self._lines(page))
        origins = self._laid(marks) if marks else {}
        for tile, lines in drawn.items():
            for line, kind in lines:
                moved = affinity.translate(line, *origins[tile])
                if kind != "slit":
                    (self.middles if kind == "middle" else self.shown).append(moved)

    @staticmethod
    def _lines(page):
        """The page's lines of that width, as far as its window shows them, each with what its dashes say."""
        window = box(9, 9, float(page.width) * POINT - 9, float(page.height) * POINT - 15)
        for path in (*page.curves, *page.lines, *page.rects):
            if abs(path["linewidth"] * POINT - CUTTING) > 0.01:
                continue
            pts = [(x * POINT, y * POINT) for x, y in path["pts"]]
            if path["object_type"] == "rect" or (len(pts) > 3 and path.get("fill")):
                pts.append(pts[0])
            if len(pts) == 2 and LineString(pts).length < NOTCH:
                continue
            seen = LineString(pts).intersection(window)
            dashes = path["dash"][0] if path["dash"] else []
            kind = "cut" if not dashes else "middle" if abs(dashes[0] * POINT - 14) < 0.1 else "slit"
            if not seen.is_empty and seen.length > 0:
                yield seen, kind

    @staticmethod
    def _laid(marks):
        """Where each page's corner lies: two neighbours are shifted as most of their marks agree."""
        first = min(marks)
        origins = {first: np.zeros(2)}
        waiting = [first]
        while waiting or set(origins) != set(marks):
            if not waiting:  # pages that meet no other hold pieces of their own
                waiting.append(min(set(marks) - set(origins)))
                origins[waiting[0]] = np.array([5000.0 * len(origins), 0.0])
            row, column = waiting.pop()
            for down, across in ((0, 1), (1, 0), (0, -1), (-1, 0)):
                other = row + down, column + across
                if other not in marks or other in origins:
                    continue
                counts: dict = {}
                for x, y in marks[row, column]:
                    for ox, oy in marks[other]:
                        shift = round(x - ox, 2), round(y - oy, 2)
                        ahead = (shift[0] * across + shift[1] * down) > 100
                        straight = abs(shift[1] if across else shift[0]) < 1
                        if ahead and straight:
                            counts[shift] = counts.get(shift, 0) + 1
                shift, count = max(counts.items(), key=lambda item: item[1])
                assert count >= 2, "two marks at least hold a page straight"
                origins[other] = origins[row, column] + np.array(shift)
                waiting.append(other)
        return origins

    @cached_property
    def cut(self):
        """All that is printed to be cut."""
        return unary_union(self.shown)

    @cached_property
    def folds(self) -> list[LineString]:
        """The middle lines: their ends, which lie on paper even where what is between them does not."""
        found: list[list] = []
        for line in self.middles:
            parts = line.geoms if isinstance(line, MultiLineString) else [line]
            for part in parts:
                (a, *_, b) = part.coords
                for fold in found:
                    if _in_line(fold, a) and _in_line(fold, b):
                        fold += [a, b]
                        break
                else:
                    found.append([a, b])
        return [_span(fold) for fold in found]


def _in_line(points, p) -> bool:
    a, b = _span(points).coords
    along = np.subtract(b, a) / np.hypot(*np.subtract(b, a))
    off = np.subtract(p, a)
    return bool(abs(along[0] * off[1] - along[1] * off[0]) < 0.05)


def _span(points) -> LineString:
    """Between the two of the points that lie furthest apart."""
    ends = max(((a, b) for a in points for b in points), key=lambda ab: np.hypot(*np.subtract(*ab)))
    return LineString(ends)


def rigid(a, b, to_a, to_b, *, over: bool):
    """The motion that takes a to `to_a` and the way to b into that to `to_b`, turning over if asked."""
    way, to = np.subtract(b, a), np.subtract(to_b, to_a)
    sign = -1.0 if over else 1.0
    turn = np.arctan2(to[1], to[0]) - sign * np.arctan2(way[1], way[0])
    c, s = np.cos(turn), np.sin(turn)
    matrix = np.array([[c, -s * sign], [s, c * sign]])
    shift = np.subtract(to_a, matrix @ np.array(a))
    return lambda shape: affinity.affine_transform(
        shape, [matrix[0, 0], matrix[0, 1], matrix[1, 0], matrix[1, 1], shift[0], shift[1]])


def merged(shape):
    """Lines that meet end to end, as one."""
    return linemerge(shape) if shape.geom_type == "MultiLineString" else shape


def sampled(shape, step: float = 2.0):
    for line in getattr(shape, "geoms", [shape]):
        for distance in np.arange(0, line.length, step):
            yield line.interpolate(distance)


def strays(shape, from_what) -> float:
    return max((from_what.distance(p) for p in sampled(shape)), default=0.0)


def as_half(lines, sheet: Joined):
    """The printed lines near one of the folds, if unfolding them gives the piece's lines (its outline and its
    holes): each line of the piece is then printed on this half or, turned over, on the other."""
    outer = lines[0]
    x = (outer.bounds[0] + outer.bounds[2]) / 2
    upright = LineString([(x, outer.bounds[1] - 1), (x, outer.bounds[3] + 1)])
    ys = sorted(p.y for p in getattr(outer.intersection(upright), "geoms", []))
    if len(ys) < 2:
        return None
    expected = unary_union(lines)
    flipped = affinity.scale(expected, -1, 1, origin=(x, 0))
    for fold in sheet.folds:
        ends = list(fold.coords)
        if abs(fold.length - (ys[-1] - ys[0])) > 2 * LIMIT:
            continue
        for a, b in (ends, ends[::-1]):
            back = rigid(a, b, (x, ys[0]), (x, ys[-1]), over=False)
            here = back(sheet.cut).intersection(expected.buffer(400))
            both = here.union(affinity.scale(here, -1, 1, origin=(x, 0)))
            if strays(expected, both) <= LIMIT:
                own = here.intersection(unary_union([expected, flipped]).buffer(LIMIT))
                return rigid((x, ys[0]), (x, ys[-1]), a, b, over=False)(own)
    return None


def as_patch(outer, sheet: Joined):
    """A printed line that is what of the outline lies off the sides of its box, or the left half of that.

    A patch is turned by quarters; where it lies is what most of its corners agree on.
    """
    left, top, right, bottom = outer.bounds
    odd = merged(outer.difference(box(*outer.bounds).exterior.buffer(0.01)))
    middle = (left + right) / 2
    over = affinity.scale(outer, -1, 1, origin=(middle, 0))
    corners = {p for line in getattr(odd, "geoms", [odd]) for p in line.coords}
    cut = merged(sheet.cut)
    for printed in getattr(cut, "geoms", [cut]):
        for turn in (0, 90, 180, 270):
            lying = affinity.rotate(printed, turn, origin=(0, 0))
            votes: dict = {}
            for x, y in lying.coords:
                for cx, cy in corners:
                    shift = round(cx - x, 1), round(cy - y, 1)
                    votes.setdefault(shift, []).append((cx - x, cy - y))
            best = max(votes.values(), key=len)
            if len(best) < 2:
                continue
            there = affinity.translate(lying, *np.mean(best, axis=0))
            rebuilt = there
            if outer.hausdorff_distance(over) < 0.1:
                rebuilt = there.union(affinity.scale(there, -1, 1, origin=(middle, 0)))
            if strays(odd, rebuilt) <= LIMIT and strays(there, outer) <= LIMIT:
                return printed
    return None


NUMBER = r"([\d./ ]+ (?:cm|in))(?: \(([\d.]+) mm\))?"


def told_sizes(words: str) -> dict[str, tuple[float, float]]:
    """By the piece's title, lower case, the sides of its rectangle in mm as the cover tells them."""
    found = {}
    for title, *numbers in re.findall(
            rf"([A-Z][\w -]*?): cut [^.]*?\. (?:A rectangle, |A square, |Draw a rectangle, |)"
            rf"{NUMBER} across by {NUMBER} down", words):
        text_w, mm_w, text_h, mm_h = numbers
        found[title.lower()] = tuple(
            float(mm) if mm else 10 * float(text.removesuffix(" cm"))
            for text, mm in ((text_w, mm_w), (text_h, mm_h)))
    return found


def told_corners(words: str, title: str) -> Polygon | None:
    """The corners of a piece with straight sides that is no rectangle, as the cover tells them."""
    said = re.search(rf"{title}: cut [^:]*straight from corner to corner: ([^:]*?)\. ", words, re.IGNORECASE)
    if said is None:
        return None
    number = r"([\d.]+) cm(?: \(([\d.]+) mm\))?"
    return Polygon([
        (float(mm_x) if mm_x else 10 * float(x), float(mm_y) if mm_y else 10 * float(y))
        for x, mm_x, y, mm_y in re.findall(rf"{number} across, {number} down", said[1])
    ])


def swung(words: str, title: str) -> Polygon | None:
    """What a string draws as the cover says, from stop to stop."""
    said = re.search(rf"{title}: cut [^:]*? drawn with a string\. Hold it (.*?)\. Begin (.*?)\. ", words,
                     re.IGNORECASE)
    if said is None:
        return None
    number = r"([\d.]+) cm(?: \(([\d.]+) mm\))?"

    def mm(text, exact):
        return float(exact) if exact else 10 * float(text)

    def at(text):
        x, mm_x, y, mm_y = re.search(f"{number} across, {number} down", text).groups()
        return np.array([mm(x, mm_x), mm(y, mm_y)])

    centre, (start, *ways) = at(said[1]), said[2].split("; ")
    points = [at(start)]
    for way in ways:
        to = at(way)
        if string := re.match(f"the string, {number} long, (clockwise|against the clock) to", way):
            first, last = (np.arctan2(*(p - centre)[::-1]) for p in (points[-1], to))
            turn = (last - first) % (2 * np.pi) - (0 if string[3] == "clockwise" else 2 * np.pi)
            for angle in np.linspace(first, first + turn, 400):
                points.append(centre + mm(*string.groups()[:2]) * np.array([np.cos(angle), np.sin(angle)]))
        points.append(to)
    return Polygon(points)


def rebuilt(pattern, printed_as=None):
    """For each piece, by name, how it was rebuilt; and what is printed to be cut that no piece explains."""
    pdf = tiled_pdf(printed_as or pattern)
    words, sheet = cover_words(pdf), Joined(pdf)
    sizes = told_sizes(words)
    found, explained = {}, []
    groups = svg_pieces(pieces_svg(pattern))
    lines = {name: [Polygon(line).exterior for line in cutting_polygons(group)]
             for name, group in groups.items()}
    for piece in pattern.pieces:
        outer, *holes = lines[piece.name]
        printed = as_half([outer, *holes], sheet) if sheet.shown else None
        if printed is not None:
            found[piece.name] = "half"
            explained.append(printed)
            continue
        if piece.title.lower() in sizes:
            width, height = sizes[piece.title.lower()]
            left, top, right, bottom = outer.bounds
            assert width == pytest.approx(right - left, abs=LIMIT)
            assert height == pytest.approx(bottom - top, abs=LIMIT)
            if outer.hausdorff_distance(box(left, top, left + width, top + height).exterior) <= LIMIT:
                found[piece.name] = "numbers"
            elif (told := told_corners(words + " ", piece.title) or swung(words, piece.title)) is not None:
                there = affinity.translate(told.exterior, left, top)
                assert outer.hausdorff_distance(there) <= LIMIT
                found[piece.name] = "numbers"
            elif (printed := as_patch(outer, sheet)) is not None:
                found[piece.name] = "patch"
                explained.append(printed)
        elif like := re.search(rf"{piece.title}: as the ([\w ]+?)(?:,|;)", words, re.IGNORECASE):
            (other,) = [p.name for p in pattern.pieces if p.title == like[1]]
            assert other in found
            there = lines[other][0]
            moved = affinity.translate(there, *np.subtract(outer.bounds[:2], there.bounds[:2]))
            assert outer.hausdorff_distance(moved) <= LIMIT
            found[piece.name] = "like another"
        assert piece.name in found, f"{piece.name} cannot be made from {words}"
        for hole in holes:
            down = float(re.search(r"Cut out “[^”]*”, as in the ([\w ]+): on the middle line, its top "
                                   r"[\d.]+ cm(?: \(([\d.]+) mm\))? down", words)[2])
            assert down == pytest.approx(hole.bounds[1] - outer.bounds[1], abs=LIMIT)
            assert any(hole.hausdorff_distance(other) <= LIMIT for name, others in lines.items()
                       if name != piece.name for other in others[1:]), "the same hole is printed elsewhere"
    rest = sheet.cut.difference(unary_union(explained).buffer(LIMIT)) if sheet.shown else LineString()
    return found, merged(rest)


@pytest.mark.parametrize("draft", DRAFTS)
def test_every_piece_rebuilt_from_the_sheets_is_the_svgs(draft):
    pattern = DRAFTS[draft]()
    found, rest = rebuilt(pattern)
    assert set(found) == {piece.name for piece in pattern.pieces}
    assert rest.length < 1, "nothing else is printed to be cut"


@pytest.mark.parametrize(("usual", "other"), [
    ({"length": "115cm"}, {"length": "115.1cm"}), ({"hem_girth": "240cm"}, {"hem_girth": "240.4cm"}),
    ({"strap_cut_width": "4cm"}, {"strap_cut_width": "4.1cm"}),
])
def test_a_piece_printed_a_millimetre_off_is_caught(usual, other):
    with pytest.raises(AssertionError):
        found, rest = rebuilt(drafted(options=usual), drafted(options=other))
        assert rest.length < 1
