"""What is drawn and printed, measured again from outside.

Lengths by Chromium's getTotalLength, printed lines by pdftoppm at 300 dpi, areas by shapely.
source of the limits: issue numbers of the project (register marks meet, outline within 0.2 mm);
common practice, no source.
"""

import io
import itertools
import re
from functools import partial

import numpy as np
import pdfplumber
import pytest
from shapely import affinity, unary_union
from shapely.geometry import LineString, Polygon, box

from drafting.garments import GARMENTS
from drafting.pattern import as_json
from drafting.sheets.svg import pieces_svg
from drafting.sheets.tiled_pdf import tiled_pdf
from tests.drafts import drafted
from tests.printed import (
    POINT,
    SVG,
    cutting_polygons,
    moved_by,
    page_texts,
    rasters,
    register_marks,
    svg_pieces,
    tile_of,
)
from tests.wardrobe import ASTA, TAM, draft

CHILD = {"bust_girth": "58", "waist_girth": "54", "torso_length": "22", "stature": "110"}
"""An invented body, for demo drafts."""


def child(**options):
    return drafted(CHILD, {"length": "62", "hem_girth": "140", "growth_tuck": "4", **options})


DRAFTS = {
    "adult": drafted,
    "child": child,
    "scooped": lambda: drafted(options={"scoop": "6", "shaping": "straight"}),
    "flared from the top": lambda: drafted(options={"shaping": "a-line"}),
    **{f"{name} for {who}": partial(draft, name, values=values)
       for name in GARMENTS for who, values in (("Asta", ASTA), ("Tam", TAM))},
}


@pytest.mark.parametrize("draft", DRAFTS)
def test_chromium_measures_every_edge_as_long_as_the_pattern_says(draft, chromium):
    pattern = DRAFTS[draft]()
    page = chromium.new_page()
    page.set_content(pieces_svg(pattern).split("?>", 1)[1])
    measured = {
        (piece, edge): length
        for piece, edge, length in page.evaluate("""() =>
            [...document.querySelectorAll("path.sewing, path.inner:not(.cutting)")].map(
            p => [p.dataset.piece, p.dataset.edge, p.getTotalLength()])""")
    }
    page.close()
    edges = {
        (piece["name"], edge["name"]): edge["length"]
        for piece in as_json(pattern)["pieces"]
        for edge in piece["edges"]
        if not any(line["name"] == edge["name"] and line["kind"] == "row" for line in piece["inner_lines"])
    }  # a row of quilting is ruled when the layers lie on each other, and not printed
    assert set(edges) <= set(measured)
    for edge, length in edges.items():
        assert measured[edge] == pytest.approx(length, abs=0.1), edge


@pytest.mark.parametrize("draft", ["adult", "tunic for Tam"])
def test_chromium_sees_the_sheet_at_true_size(draft, chromium):
    # source: CSS Values 4, 1 mm = 96 / 25.4 px.
    page = chromium.new_page()
    svg = pieces_svg(DRAFTS[draft]())
    page.set_content(svg.split("?>", 1)[1])
    square = page.evaluate("""() => {
        const box = document.querySelector("#test-square").getBoundingClientRect();
        return [box.width, box.height];
    }""")
    page.close()
    assert square == pytest.approx([100 * 96 / 25.4] * 2, abs=0.05)


@pytest.mark.parametrize("draft", DRAFTS)
def test_the_svg_holds_the_outlines_of_pattern_json(draft):
    pattern = DRAFTS[draft]()
    groups = svg_pieces(pieces_svg(pattern))
    for piece in as_json(pattern)["pieces"]:
        drawn = [Polygon(line) for line in cutting_polygons(groups[piece["name"]])]
        expected = [Polygon(line) for line in (piece["cutting_line"], *piece["holes"])]
        assert len(drawn) == len(expected)
        for one, other in zip(drawn, expected, strict=True):
            assert one.symmetric_difference(other).area < 0.01 * other.length
            assert one.exterior.hausdorff_distance(other.exterior) < 0.01


@pytest.mark.parametrize("draft", DRAFTS)
def test_pieces_on_the_svg_sheet_stand_thirty_millimetres_apart(draft):
    placed = []
    for group in svg_pieces(pieces_svg(DRAFTS[draft]())).values():
        placed.append(affinity.translate(Polygon(cutting_polygons(group)[0]), *moved_by(group)))
    for a, b in itertools.combinations(placed, 2):
        assert a.distance(b) >= 30 - 2e-3, "the file gives thousandths"


@pytest.mark.parametrize("draft", DRAFTS)
@pytest.mark.parametrize("paper", ["A3", "full"])
def test_pieces_on_the_printed_sheet_never_overlap(draft, paper):
    pattern = DRAFTS[draft]()
    placed = printed_polygons(tiled_pdf(pattern, paper=paper, whole=True))
    holes = [p for p in placed if any(p.within(other) for other in placed if other is not p)]
    pieces = [p for p in placed if p not in holes]
    assert len(pieces) == len(pattern.pieces)
    assert len(holes) == sum(len(piece["holes"]) for piece in as_json(pattern)["pieces"])
    for a, b in itertools.combinations(pieces, 2):
        assert a.distance(b) >= 5


@pytest.mark.parametrize("draft", ["adult", "child", "scooped", "flared from the top"])
def test_edges_that_are_sewn_together_are_equally_long_on_the_sheet(draft):
    # The side edges as the SVG has them, curves drawn out finely, measured by shapely.
    pattern = DRAFTS[draft]()
    lengths = {}
    for name, group in svg_pieces(pieces_svg(pattern)).items():
        for path in group.iter(f"{SVG}path"):
            if path.get("class") == "sewing":
                lengths[name, path.get("data-edge")] = LineString(drawn_out(path.get("d"))).length
    for seam in pattern.seams:
        a, b = (sum(lengths[part.piece, part.edge] for part in side) for side in (seam.a, seam.b))
        assert a == pytest.approx(b, abs=0.5)


def drawn_out(d: str) -> list[tuple[float, float]]:
    """Points of a path; a curve in a hundred parts. source: Bézier's formula."""
    points: list[tuple[float, float]] = []
    for kind, given in re.findall("([MLC])([^MLC]+)", d):
        corners = np.array(re.findall(r"-?[\d.]+(?:e-?\d+)?", given), dtype=float).reshape(-1, 2)
        if kind != "C":
            points += map(tuple, corners)
            continue
        for one, two, end in corners.reshape(-1, 3, 2):
            start = np.array(points[-1])
            t = np.linspace(0, 1, 101)[1:, None]
            bent = (1 - t) ** 3 * start + 3 * t * (1 - t) ** 2 * one + 3 * t**2 * (1 - t) * two + t**3 * end
            points += map(tuple, bent)
    return points


def cutting_paths(page) -> list[list[tuple[float, float]]]:
    """Closed paths drawn 0.7 mm wide: the cutting lines, as the page's own coordinates in mm."""
    found = []
    for path in [*page.curves, *page.rects, *page.lines]:
        if abs(path["linewidth"] * POINT - 0.7) < 0.01 and len(path["pts"]) > 3:
            found.append([(x * POINT, y * POINT) for x, y in path["pts"]])
    return found


def printed_polygons(pdf: bytes) -> list[Polygon]:
    """The pieces, from the vector paths of the last page (each page holds the whole sheet)."""
    with pdfplumber.open(io.BytesIO(pdf)) as document:
        return [Polygon(path) for path in cutting_paths(document.pages[-1])]


@pytest.mark.parametrize("paper", ["A4", "A3", "Letter", "Tabloid"])
@pytest.mark.parametrize("overlap", [10.0, 16.0])
@pytest.mark.parametrize("whole", [True, False])
def test_the_register_marks_of_neighbours_meet(paper, overlap, whole):
    pdf = tiled_pdf(child(), paper=paper, overlap=overlap, whole=whole)
    tiles, pages = {}, {}
    with pdfplumber.open(io.BytesIO(pdf)) as document:
        for page in document.pages:
            tile = tile_of(page.extract_text())
            if tile:
                tiles[tile] = list(register_marks(page))
                pages[tile] = cutting_paths(page)[0][0]
    assert len(tiles) > 3
    joined = 0
    for (row, column), marks in tiles.items():
        for down, across in ((0, 1), (1, 0)):
            other = (row + down, column + across)
            if other not in tiles:
                continue
            joined += 1
            # Each page shows the whole pattern, shifted; the shift is how the two pages lie.
            (ax, ay), (bx, by) = pages[row, column], pages[other]
            there = [(x + ax - bx, y + ay - by) for x, y in tiles[other]]
            shared = [
                (x, y) for x, y in marks
                if any(abs(x - tx) < 0.01 and abs(y - ty) < 0.01 for tx, ty in there)
            ]
            edge = [
                (x, y) for x, y in marks
                if (x if across else y) > max(m[0 if across else 1] for m in marks) - 1
            ]
            assert len(shared) >= 3, (row, column, other)
            assert set(edge) <= set(shared), "every mark on that side meets one of the neighbour's"
            assert (bx - ax if across else by - ay) < 0
    assert joined >= len(tiles) - 1


class Assembled:
    """Pages taped together by their register marks alone: where on each a point of the sheet lies."""

    def __init__(self, pdf: bytes, folder, dpi: int = 300) -> None:
        self.scale = dpi / 25.4
        images = rasters(pdf, folder, dpi)
        self.images, self.marks, self.paths = {}, {}, {}
        with pdfplumber.open(io.BytesIO(pdf)) as document:
            for image, page in zip(images, document.pages, strict=True):
                tile = tile_of(page.extract_text())
                if tile:
                    self.images[tile] = image
                    self.marks[tile] = list(register_marks(page))
                    self.paths[tile] = cutting_paths(page)
        self.origins = self._tape()

    def _tape(self) -> dict[tuple[int, int], np.ndarray]:
        """Shifts so that marks meet: the shift between two neighbours is the one most marks agree on."""
        first = min(self.images)
        origins = {first: np.zeros(2)}
        waiting = [first]
        while waiting:
            row, column = waiting.pop()
            for other in ((row, column + 1), (row + 1, column), (row, column - 1), (row - 1, column)):
                if other in self.images and other not in origins:
                    origins[other] = origins[row, column] + self._shift((row, column), other)
                    waiting.append(other)
        assert set(origins) == set(self.images)
        return origins

    def _shift(self, tile, other) -> np.ndarray:
        way = 1 if other[1] != tile[1] else 0
        forward = other[way] > tile[way]
        axis = 0 if way == 1 else 1
        mine = [m for m in self.marks[tile]]
        theirs = [m for m in self.marks[other]]
        line = (max if forward else min)(m[axis] for m in mine)
        back = (min if forward else max)(m[axis] for m in theirs)
        mine = sorted(m for m in mine if abs(m[axis] - line) < 1)
        theirs = sorted(m for m in theirs if abs(m[axis] - back) < 1)
        # Ends of a join may lack a mark where a corner has no third page: align on what both have.
        best = {}
        for a in mine:
            for b in theirs:
                shift = (round(a[0] - b[0], 2), round(a[1] - b[1], 2))
                best[shift] = best.get(shift, 0) + 1
        shift, count = max(best.items(), key=lambda item: item[1])
        assert count >= 2, "two marks at least hold a page straight"
        return np.array(shift)

    def outer_edge(self, at: np.ndarray, outward: np.ndarray) -> list[float]:
        """On every page that shows the point: mm from it, outwards, to where ink begins."""
        found = []
        for tile, image in self.images.items():
            local = at - self.origins[tile]
            height, width = image.shape[0] / self.scale, image.shape[1] / self.scale
            if not (9.9 < local[0] < width - 9.9 and 9.9 < local[1] < height - 15.9):
                continue
            away = [local - np.array(mark) for mark in self.marks[tile]]
            if any(np.hypot(*way) < 7 or np.abs(way).min() < 0.8 for way in away):
                continue  # a mark, or the line between two of them, is printed over it
            steps = np.arange(1.5, -1.5, -0.02)
            xs = ((local[0] + outward[0] * steps) * self.scale).astype(int)
            ys = ((local[1] + outward[1] * steps) * self.scale).astype(int)
            dark = np.flatnonzero(image[ys, xs] < 100)
            found.append(float(steps[dark[0]]) if len(dark) else float("nan"))
        return found


LINE_WIDTH = 0.7
"""mm: the cutting line's."""


@pytest.fixture(scope="module")
def taped(tmp_path_factory):
    pattern = child()
    pdf = tiled_pdf(pattern, paper="A4", whole=True)
    return pattern, Assembled(pdf, tmp_path_factory.mktemp("taped"))


def as_printed(svg_line: list, printed: list) -> np.ndarray | None:
    """The SVG's outline laid over the printed path: turned by no or half a turn, and shifted."""
    line, there = np.array(svg_line), np.array(printed)
    if len(line) + 1 == len(there):
        there = there[:-1]
    if len(line) != len(there):
        return None
    for turned in (line, -line):
        moved = turned - turned.min(axis=0) + there.min(axis=0)
        if np.abs(moved - there).max() < 0.02:
            return moved
    return None


def test_the_outline_rebuilt_from_all_tiles_is_the_svgs_outline(taped):
    pattern, sheet = taped
    first = min(sheet.images)
    groups = svg_pieces(pieces_svg(pattern))
    paths = list(sheet.paths[first])
    checked = missed = 0
    worst = 0.0
    for name, group in groups.items():
        matches = [(path, over) for path in paths
                   if (over := as_printed(cutting_polygons(group)[0], path)) is not None]
        assert matches, f"{name} is on the printed sheet"
        path, outline = matches[0]
        paths.remove(path)
        ring = Polygon(outline).exterior
        clockwise = not ring.is_ccw
        for distance in np.arange(2.5, ring.length, 5.0):
            at, ahead = (np.array(ring.interpolate(d).coords[0]) for d in (distance, distance + 0.5))
            before = np.array(ring.interpolate(distance - 0.5).coords[0])
            way, back = ahead - at, at - before
            if abs(way[0] * back[1] - way[1] * back[0]) > 0.01:
                continue  # at a corner the outer edge is not half a line away
            way = way / np.hypot(*way)
            outward = np.array([-way[1], way[0]]) if clockwise else np.array([way[1], -way[0]])
            shown = sheet.outer_edge(at, outward)
            missed += not shown
            for edge in shown:
                checked += 1
                worst = max(worst, abs(edge - LINE_WIDTH / 2))
                assert abs(edge - LINE_WIDTH / 2) <= 0.2, (name, distance, edge)
    assert not paths, "nothing else is on the printed sheet"
    assert checked > 1500
    assert missed < 0.06 * checked, "only points beside a mark are left out"
    assert worst > 0, "something was measured"


def test_every_point_of_every_outline_is_on_some_page(taped):
    _, sheet = taped
    paths = sheet.paths[min(sheet.images)]
    for path in paths:
        for at in LineString([*path, path[0]]).segmentize(20).coords:
            shown = []
            for tile, image in sheet.images.items():
                local = np.array(at) - sheet.origins[tile]
                x, y = (local * sheet.scale).astype(int)
                if 0 <= x < image.shape[1] and 0 <= y < image.shape[0]:
                    shown.append(image[max(0, y - 8): y + 9, max(0, x - 8): x + 9].min())
            assert shown and min(shown) < 100


@pytest.mark.parametrize("draft", ["child", "flared from the top"])
def test_every_page_holds_part_of_a_piece_and_the_blank_ones_are_left_out(draft):
    pdf = tiled_pdf(DRAFTS[draft](), paper="A3", whole=True)
    windows, pieces = {}, None
    with pdfplumber.open(io.BytesIO(pdf)) as document:
        for page in document.pages:
            tile = tile_of(page.extract_text())
            if tile:
                paths = cutting_paths(page)
                corner = paths[0][0]
                pieces = pieces or [affinity.translate(Polygon(p), -corner[0], -corner[1]) for p in paths]
                window = box(10, 10, float(page.width) * POINT - 10, float(page.height) * POINT - 16)
                windows[tile] = affinity.translate(window, -corner[0], -corner[1])
    for tile, window in windows.items():
        others = unary_union([w for other, w in windows.items() if other != tile])
        own = window.difference(others.buffer(-6))
        assert any(own.intersects(piece) for piece in pieces), f"{tile} is blank"
    # A line on the sheet's border is half outside its last window.
    shown = unary_union(list(windows.values())).buffer(0.5)
    assert all(shown.covers(piece) for piece in pieces)


def test_a_sheet_with_an_empty_corner_leaves_tiles_out():
    pdf = tiled_pdf(drafted(options={"shaping": "a-line", "hem_girth": "480"}), paper="A4", whole=True)
    tiles = [tile for text in page_texts(pdf) if (tile := tile_of(text))]
    rows, columns = max(row for row, _ in tiles), max(column for _, column in tiles)
    assert len(set(tiles)) == len(tiles) < rows * columns
    assert f"less {rows * columns - len(tiles)} blank" in page_texts(pdf)[0].replace("\n", " ")
