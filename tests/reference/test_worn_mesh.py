"""Pieces in triangles, sewn: measured by shapely, and counted as surfaces are."""

from collections import defaultdict
from dataclasses import replace

import numpy as np
import pytest
from shapely import MultiPoint, delaunay_triangles
from shapely.geometry import Polygon

from drafting.garments import GARMENTS
from drafting.pattern import Pattern, as_json
from drafting.worn.assembly import fastened
from drafting.worn.delaunay import inside, triangles
from drafting.worn.halving import halved
from drafting.worn.mesh import Mesh, sewn
from tests.wardrobe import ASTA, TAM, draft

SIDE = 50.0
LEFT_OUT = {"strap", "back strap", "front loop", "neck facing", "neck binding", "neck band", "loop",
            "belt loop", "opening facing"}

TUBE, TROUSERS, SHIRT, SHEET = 2, 3, 4, 1
"""How many borders it has: top and hem; waist and two legs, or cuffs and what is open in front; neck,
two cuffs and hem; one all round."""

SEWN = [
    ("apron-dress", {}, TUBE),
    ("apron-dress", {"shaping": "straight"}, TUBE),
    ("apron-dress", {"opening": "side"}, TUBE),
    ("trousers", {}, TROUSERS),
    ("trousers", {"front_slit": "12cm", "gusset_size": "10cm"}, TROUSERS),
    ("tunic", {}, SHIRT),
    ("tunic", {"shoulder": "seam", "gores": "all"}, SHIRT),
    ("tunic", {"gore_cut": "halves"}, SHIRT),
    ("tunic", {"gusset": "none", "neckline": "boat"}, SHIRT),
    ("tunic", {"sleeve": "none"}, SHIRT),
    ("tunic", {"shoulder": "seam", "body_width": "narrow"}, SHIRT),
    ("wrap-coat", {"body_width": "narrow"}, TROUSERS),
    ("tunic", {"neckline": "slit", "gores": "none"}, SHIRT),
    ("underdress", {"gores": "all"}, SHIRT),
    ("cloak", {"shape": "half-circle"}, SHEET),
    ("cloak", {"shape": "three-quarter-circle", "cut": "quarters"}, SHEET),
]


def name(value: object) -> str:
    return value if isinstance(value, str) else ""


def mesh(pattern: Pattern, side: float = SIDE) -> Mesh:
    copies = tuple((piece.name, copy) for piece, copy in pattern.copies() if piece.name not in LEFT_OUT)
    return sewn(pattern, copies, side)


def characteristic(made: Mesh) -> int:
    return made.count - len(made.edges[0]) + len(made.corners)


def border_neighbours(made: Mesh) -> dict[int, list[int]]:
    found = defaultdict(list)
    ends, _, times = made.edges
    for a, b in ends[times == 1]:
        found[a].append(b)
        found[b].append(a)
    return found


def border_count(made: Mesh) -> int:
    """How many closed lines the edges of one triangle make."""
    neighbours = border_neighbours(made)
    assert {len(those) for those in neighbours.values()} == {2}
    left, count = set(neighbours), 0
    while left:
        count += 1
        here = [left.pop()]
        while here:
            near = [p for p in neighbours[here.pop()] if p in left]
            left -= set(near)
            here += near
    return count


@pytest.mark.parametrize("values", [ASTA, TAM], ids=["woman", "child"])
@pytest.mark.parametrize(("garment", "options", "borders"), SEWN, ids=name)
def test_a_sewn_garment_is_a_surface_with_the_holes_it_is_worn_by(garment, options, borders, values):
    # source: Euler's characteristic: a sphere has 2, and each hole in it takes one away; a handle, as two
    # edges sewn the wrong way round would make, takes two
    made = mesh(draft(garment, options, values))
    assert made.edges[2].max() == 2
    assert border_count(made) == borders
    assert characteristic(made) == 2 - borders


@pytest.mark.parametrize(("garment", "options", "borders"), SEWN, ids=name)
def test_halved_it_is_the_same_surface_of_four_times_the_triangles(garment, options, borders):
    # source: Euler's characteristic, as above; shapely's area of the sewing lines
    pattern = draft(garment, options)
    coarse = mesh(pattern, 2 * SIDE)
    fine = halved(coarse, pattern).mesh
    assert len(fine.corners) == 4 * len(coarse.corners)
    assert border_count(fine) == borders
    assert characteristic(fine) == 2 - borders
    whole = sum(Polygon(outline_of(pattern, cut.copy[0])).area for cut in fine.pieces)
    assert fine.areas.sum() == pytest.approx(whole, rel=0.003)


def outline_of(pattern: Pattern, piece: str) -> Polygon:
    (found,) = (one for one in as_json(pattern)["pieces"] if one["name"] == piece)
    holes = [list(map(lambda p: (p.x, p.y), inner.path.points(0.1)))
             for inner in pattern.piece(piece).inner_lines if inner.kind == "hole"]
    return Polygon(found["sewing_line"], holes)



def test_an_edge_sewn_the_wrong_way_round_is_told():
    trousers = draft("trousers")
    crossed = {f"{side} leg's {half} to seat gusset": f"{other} {half}"
               for side, other in (("left", "right"), ("right", "left")) for half in ("front", "back")}
    wrong = replace(trousers, seams=tuple(
        replace(seam, a=(replace(seam.a[0], edge=crossed[seam.name]),)) if seam.name in crossed else seam
        for seam in trousers.seams))
    made = mesh(wrong)
    assert characteristic(made) != 2 - border_count(made)


def test_a_seam_left_unsewn_opens_the_tube():
    dress = draft("apron-dress")
    assert characteristic(mesh(replace(dress, seams=dress.seams[1:]))) == 1


def test_what_is_open_to_be_got_into_is_closed_when_worn_and_a_vent_is_not():
    # source: a seam's two sides part where it opens, and there each has an edge of its own
    def border(pattern: Pattern, fastens: bool) -> int:
        copies = tuple((piece.name, copy) for piece, copy in pattern.copies() if piece.name not in LEFT_OUT)
        return len(border_neighbours(sewn(pattern, copies, SIDE, fastened=fastens)))

    dress = draft("apron-dress")
    closed = fastened(GARMENTS["apron-dress"], dress)
    lips = border(dress, True) - border(closed, True)
    assert lips * SIDE == pytest.approx(2 * dress.finished["opening_length"], abs=2 * SIDE)
    slit = draft("trousers", {"front_slit": "12cm", "gusset_size": "10cm"})
    assert border(slit, False) - border(slit, True) in (4, 5, 6)
    whole, vented = draft("trousers"), draft("trousers", {"ankle_slit": "10cm"})
    assert border(vented, True) - border(whole, True) in (6, 7, 8, 9, 10)


@pytest.mark.parametrize(("garment", "options"), [(g, o) for g, o, _ in SEWN], ids=name)
def test_the_triangles_cover_each_piece_and_no_more(garment, options):
    # source: shapely's area of the sewing line; the corners of an arc lie on it, and so a little less
    pattern = draft(garment, options)
    outlines = {piece["name"]: piece for piece in as_json(pattern)["pieces"]}
    for cut in mesh(pattern).pieces:
        piece = pattern.piece(cut.copy[0])
        shape = Polygon(outlines[piece.name]["sewing_line"])
        for line in piece.inner_lines:
            if line.kind == "hole":
                ring = [line.path.point_along(line.path.length * k / 100) for k in range(100)]
                shape -= Polygon([(p.x, p.y) for p in ring])
        u, v = (cut.points[cut.corners[:, k]] - cut.points[cut.corners[:, 0]] for k in (1, 2))
        doubled = u[:, 0] * v[:, 1] - u[:, 1] * v[:, 0]
        assert (doubled > 0).all(), "none is turned over"
        assert doubled.sum() / 2 == pytest.approx(shape.area, rel=0.02), cut.copy


@pytest.mark.parametrize(("garment", "options"), [(g, o) for g, o, _ in SEWN], ids=name)
def test_both_sides_of_a_seam_are_as_long_from_point_to_point(garment, options):
    made = mesh(draft(garment, options))
    ends = np.concatenate([made.corners[:, (a, b)] for a, b in ((0, 1), (1, 2), (2, 0))])
    long = np.concatenate([
        np.linalg.norm(made.flat[:, a] - made.flat[:, b], axis=1) for a, b in ((0, 1), (1, 2), (2, 0))])
    of = defaultdict(list)
    for pair, length in zip(np.sort(ends, 1), long, strict=True):
        of[tuple(pair)].append(length)
    apart = [abs(two[0] - two[1]) for two in of.values() if len(two) == 2]
    assert max(apart) < 8.0
    assert np.mean(apart) < 0.5


def test_points_are_put_in_triangles_as_geos_puts_them():
    # source: shapely (GEOS), delaunay_triangles; of the same points both have the same triangles
    points = np.random.default_rng(7).uniform(0, 1000, (160, 2))
    ours = {frozenset(map(int, three)) for three in triangles(points)}
    number = {tuple(p): i for i, p in enumerate(points)}
    cut = delaunay_triangles(MultiPoint(points)).geoms
    geos = {frozenset(number[corner] for corner in triangle.exterior.coords[:3]) for triangle in cut}
    assert len(ours ^ geos) <= 2, "along the outermost border one may be too thin to be kept"


def test_a_point_is_inside_a_polygon_where_shapely_says_so():
    rng = np.random.default_rng(3)
    turns = np.sort(rng.uniform(0, 2 * np.pi, 17))
    star = np.stack([np.cos(turns), np.sin(turns)], 1) * rng.uniform(100, 500, 17)[:, None]
    points = rng.uniform(-500, 500, (400, 2))
    polygon = Polygon(star)
    assert [polygon.contains(p) for p in MultiPoint(points).geoms] == inside(points, star).tolist()
