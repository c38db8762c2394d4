"""Hood, cloak, leg wraps, cap, scarf and the dress's styles against plane and solid geometry.

The patterns are read from pattern.json and measured with shapely (GEOS), not with our own code. Each
formula names its source beside it.
"""

import json
from math import atan2, cos, hypot, pi, sin, sqrt

import pytest
from shapely.geometry import LineString, Point, Polygon

from drafting.pattern import as_json
from tests.sewn import sewn


def written(name: str, **options: str) -> dict:
    """The pattern as it leaves the program."""
    return json.loads(json.dumps(as_json(sewn(name, **options))))


def piece(pattern: dict, name: str) -> dict:
    (found,) = (p for p in pattern["pieces"] if p["name"] == name)
    return found


def edge(pattern: dict, name: str, edge_name: str) -> LineString:
    (line,) = (e["line"] for e in piece(pattern, name)["edges"] if e["name"] == edge_name)
    return LineString(line)


DRAFTS = [
    ("hood", {}),
    ("hood", {"gore_shape": "wedge"}),
    ("hood", {"front": "overlap", "gores": "all-round", "lining": "full", "gore_shape": "wedge"}),
    ("hood", {"front": "overlap", "gores": "all-round", "lining": "full"}),
    ("hood", {"gore_shape": "square", "tail_length": "60cm", "lining": "full"}),
    ("hood", {"crown": "rounded", "loom_width": "70cm", "face_opening": "58cm"}),
    ("cloak", {}),
    ("cloak", {"shape": "half-circle"}),
    ("cloak", {"shape": "three-quarter-circle", "lining": "full", "closure": "toggle"}),
    ("cloak", {"shape": "three-quarter-circle", "cut": "whole"}),
    ("cloak", {"shape": "rectangle", "loom_width": "60cm", "lining": "full"}),
    ("leg-wraps", {"shape": "tapered", "ends": "pointed"}),
    ("cap", {}),
    ("cap", {"back": "darted"}),
    ("head-scarf", {"shape": "triangle"}),
    ("apron-dress", {"style": "pleated", "growth_tuck": "4cm"}),
    ("apron-dress", {"style": "pleated", "shaping": "a-line"}),
    ("apron-dress", {"style": "wrapped", "growth_tuck": "4cm"}),
]


@pytest.mark.parametrize(("name", "options"), DRAFTS)
def test_every_seam_measured_from_the_file_matches_within_half_a_millimetre(name, options):
    # source of the limit: the project's contract, common practice, no source
    pattern = written(name, **options)
    for seam in pattern["seams"]:
        a = sum(edge(pattern, *part).length for part in seam["a"])
        b = sum(edge(pattern, *part).length for part in seam["b"])
        assert abs(a - b - seam["ease"]) <= 0.5, seam["name"]


@pytest.mark.parametrize(("name", "options"), DRAFTS)
def test_every_cutting_line_in_the_file_is_simple_and_holds_its_sewing_line(name, options):
    for found in written(name, **options)["pieces"]:
        cut, sew = Polygon(found["cutting_line"]), Polygon(found["sewing_line"])
        assert cut.is_valid and sew.is_valid, found["name"]
        assert sew.difference(cut).area < 0.01 * sew.length, found["name"]


@pytest.mark.parametrize("options", [{}, {"gores": "all-round"}, {"front": "overlap"}])
def test_the_cape_s_hem_measured_from_the_file_is_level(options):
    pattern = written("hood", gore_shape="wedge", **options)
    cape = pattern["finished"]["cape_length"]
    for found in pattern["pieces"]:
        levels = [line["line"] for line in found["inner_lines"] if line["kind"] == "level"]
        hem = edge(pattern, found["name"], "hem").coords
        if levels:
            ways = [LineString(levels[0]).distance(Point(p)) for p in hem]
        else:
            # A gore hangs from its apex, 20 mm lower where it stands in a slit.
            below = cape - LineString([(0, 0), hem[0]]).length
            assert below == pytest.approx(0, abs=0.1) or below == pytest.approx(20, abs=0.1)
            ways = [LineString([(0, 0), p]).length + below for p in hem]
        assert max(ways) - min(ways) <= 0.2 and ways[0] == pytest.approx(cape, abs=0.2)


# The cloak: circles, sectors and cones.


@pytest.mark.parametrize(("shape", "angle"), [("half-circle", pi), ("three-quarter-circle", 3 * pi / 2)])
def test_the_neck_is_scooped_by_an_arc_about_the_point(shape, angle):
    # source: plane geometry (arc = radius × angle); the depth: common practice, no source: 30 to 50 mm
    pattern = written("cloak", shape=shape, cut="whole")
    line = edge(pattern, "cloak", "neck")
    assert all(30 <= hypot(*p) <= 50 for p in line.coords)
    assert line.length == pytest.approx(angle * pattern["finished"]["neck_radius"], abs=0.2)


@pytest.mark.parametrize("shape", ["half-circle", "three-quarter-circle"])
@pytest.mark.parametrize("cut", ["whole", "quarters"])
def test_the_cloth_of_a_circular_cloak_is_a_ring_s_sector(shape, cut):
    # source: plane geometry: a ring's sector of angle θ has area θ (R² − r²) / 2
    angle = pi if shape == "half-circle" else 3 * pi / 2
    pattern = written("cloak", shape=shape, cut=cut, scoop="45mm", length="105cm")
    r, reach = 45, 45 + 1050
    area = sum(Polygon(p["sewing_line"]).area * p["cut"]
               for p in pattern["pieces"] if p["name"] in ("cloak", "quarter"))
    assert area == pytest.approx(angle * (reach**2 - r**2) / 2, rel=2e-4)


@pytest.mark.parametrize("shape", ["half-circle", "three-quarter-circle"])
def test_closed_the_cloak_is_the_frustum_that_unrolls_into_its_sector(shape):
    # source: plane geometry (developable cone): sector angle 2π (R − r) / s, inner radius s·r / (R − r)
    pattern = written("cloak", shape=shape, cut="whole", scoop="45mm", length="105cm")
    neck, hem, slant = edge(pattern, "cloak", "neck").length, pattern["finished"]["hem_length"], 1050
    r, big_r = neck / (2 * pi), hem / (2 * pi)
    assert slant * r / (big_r - r) == pytest.approx(45, abs=0.02)
    angle = 2 * pi * (big_r - r) / slant
    assert angle == pytest.approx(pi if shape == "half-circle" else 3 * pi / 2, rel=1e-4)


@pytest.mark.parametrize("way", [50, 150, 400])
def test_the_girth_down_the_cloak_is_the_scoop_and_the_angle_times_the_way(way):
    # source: plane geometry, arc = radius × angle; measured on the sector by shapely
    pattern = written("cloak", shape="half-circle", scoop="45mm", length="105cm")
    sector = Polygon(piece(pattern, "cloak")["sewing_line"])
    circle = Point(0, 0).buffer(45 + way, quad_segs=400).exterior
    assert circle.intersection(sector).length == pytest.approx(pi * (45 + way), rel=1e-3)


# Allowances against shapely's own offset.


@pytest.mark.parametrize(
    ("name", "options", "part"),
    [
        ("hood", {"lining": "full", "seam_allowance": "15mm"}, "front gore"),
        ("hood", {"lining": "full", "seam_allowance": "15mm"}, "panel"),
        ("hood", {"lining": "full", "seam_allowance": "15mm", "crown": "rounded"}, "panel"),
        ("cloak", {"shape": "rectangle", "lining": "full", "seam_allowance": "15mm"}, "cloak"),
    ],
)
def test_an_even_allowance_is_the_parallel_with_mitred_corners(name, options, part):
    # source: shapely (GEOS) buffer with mitred joins
    found = piece(written(name, **options), part)
    ours = Polygon(found["cutting_line"])
    theirs = Polygon(found["sewing_line"]).buffer(15, join_style="mitre", mitre_limit=4)
    assert ours.symmetric_difference(theirs).area < 0.1 * theirs.length


def test_an_even_hem_round_the_scarf_is_the_parallel_with_mitred_corners():
    found = piece(written("head-scarf", hem_depth="6mm"), "scarf")
    theirs = Polygon(found["sewing_line"]).buffer(24, join_style="mitre")
    half = Polygon(found["sewing_line"]).buffer(12, join_style="mitre")
    ours = Polygon(found["cutting_line"])
    assert ours.symmetric_difference(half).area < 1 and theirs.contains(ours)


# Leg wraps: a helix on a cone.

LEG = {"room_beneath": "0", "leg_length": "33cm"}


def wound(pattern: dict) -> float:
    """What the turns take, as the file gives it: all but the start and the tuck."""
    ankle = pattern["measurements"]["ankle_girth"]
    return pattern["finished"]["strip_length"] - 1.5 * ankle - 350


def frusta(measurements: dict, length: float) -> list[tuple[float, float, float]]:
    """Lower and upper radius, and height, of the two frusta the leg is taken as."""
    ankle, calf, knee = (measurements[name] / (2 * pi)
                         for name in ("ankle_girth", "calf_girth", "under_knee_girth"))
    return [(ankle, calf, 0.75 * length), (calf, knee, 0.25 * length)]


def helix(lower: float, upper: float, height: float, fresh: float) -> tuple[float, float]:
    """Length and turns of the curve that climbs the frustum, each turn `fresh` above the last.

    Stepped round the cone in space. Where the cone's girth is c, turns that lie `fresh` apart, measured
    square to the strip, rise at the angle whose sine is fresh / c.
    """
    step, angle, length = 1e-3, 0.0, 0.0
    slant = hypot(height, upper - lower)
    along = 0.0
    point = (lower, 0.0, 0.0)
    while along < slant:
        radius = lower + (upper - lower) * along / slant
        climb = radius * step * fresh / sqrt((2 * pi * radius) ** 2 - fresh**2)
        along, angle = along + climb, angle + step
        radius = lower + (upper - lower) * along / slant
        new = (radius * cos(angle), radius * sin(angle), height * along / slant)
        length += sqrt(sum((a - b) ** 2 for a, b in zip(new, point, strict=True)))
        point = new
    return length, angle / (2 * pi)


def test_the_turns_take_what_a_helix_on_the_leg_measures():
    # source: arc length of a space curve, summed over small steps; any text on curves
    pattern = written("leg-wraps", width="9cm", overlap="3cm", **LEG)
    total = sum(helix(*frustum, 60.0)[0] for frustum in frusta(pattern["measurements"], 330))
    assert wound(pattern) == pytest.approx(total, rel=2e-3)


def test_the_turns_number_what_the_helix_goes_round():
    pattern = written("leg-wraps", width="9cm", overlap="3cm", **LEG)
    turns = sum(helix(*frustum, 60.0)[1] for frustum in frusta(pattern["measurements"], 330))
    assert any(f"About {round(turns)} turns" in note for note in pattern["notes"])


def test_the_turns_take_the_leg_s_surface_over_what_each_shows():
    # source: solid geometry: lateral area of a frustum, π (r + R) s
    pattern = written("leg-wraps", width="9cm", overlap="3cm", **LEG)
    surface = sum(pi * (r + big_r) * hypot(height, big_r - r)
                  for r, big_r, height in frusta(pattern["measurements"], 330))
    assert wound(pattern) == pytest.approx(surface / 60, abs=0.01)


def test_on_a_cylinder_a_turn_is_the_hypotenuse_of_girth_and_rise():
    # source: plane geometry: a cylinder unrolled, a turn of a helix is √(c² + p²)
    girth, fresh, height = 240.0, 60.0, 300.0
    length, turns = helix(girth / (2 * pi), girth / (2 * pi) + 1e-9, height, fresh)
    rise = height / turns
    assert length / turns == pytest.approx(hypot(girth, rise), rel=1e-3)
    # Square to the strip the turns lie `fresh` apart, so up the leg they lie further.
    assert rise * girth / hypot(girth, rise) == pytest.approx(fresh, rel=1e-3)


def test_on_the_cone_as_well_each_turn_lies_so_far_above_the_last():
    # source: plane geometry: a cone rolls out flat without stretching, and there distances can be taken
    lower, upper, slant, fresh = 240 / (2 * pi), 390 / (2 * pi), 250.0, 60.0
    sine = (upper - lower) / slant
    along, angle, curve = 0.0, 0.0, []
    while along < slant:
        radius = lower + along * sine
        curve.append((radius / sine, angle * sine))
        climb = radius * 0.01 * fresh / sqrt((2 * pi * radius) ** 2 - fresh**2)
        along, angle = along + climb, angle + 0.01
    flat = LineString([(r * cos(a), r * sin(a)) for r, a in curve])
    turn_above = LineString([(r * cos(a - 2 * pi * sine), r * sin(a - 2 * pi * sine))
                             for r, a in curve if a >= 2 * pi * sine])
    for part in (0.05, 0.2, 0.4):
        gap = turn_above.distance(flat.interpolate(part, normalized=True))
        assert gap == pytest.approx(fresh, rel=0.03)


def test_a_tapered_strip_shows_as_much_leg_as_there_is():
    # source: the surface law above, summed over the strip: ∫ shown width dl = the leg's surface
    pattern = written("leg-wraps", shape="tapered", width="9cm", ankle_width="6cm", overlap="3cm",
                      **LEG)
    surface = sum(pi * (r + big_r) * hypot(height, big_r - r)
                  for r, big_r, height in frusta(pattern["measurements"], 330))
    length, start = pattern["finished"]["strip_length"], 1.5 * pattern["measurements"]["ankle_girth"]
    steps = 2000
    shown = 0.0
    for i in range(steps):
        at = start + wound(pattern) * (i + 0.5) / steps
        shown += (60 + 30 * at / length) * (1 - 3 / 9) * wound(pattern) / steps
    assert shown == pytest.approx(surface, rel=1e-4)


# Hood, cap, scarf, pleats: plane geometry.


def test_a_wedge_gore_is_a_circle_s_sector():
    # source: plane geometry: area of a sector, arc × radius / 2
    pattern = written("hood", gore_shape="wedge")
    gore = Polygon(piece(pattern, "front gore")["sewing_line"])
    arc, radius = edge(pattern, "front gore", "hem").length, pattern["finished"]["cape_length"]
    assert gore.area == pytest.approx(arc * radius / 2, rel=1e-3)


def test_the_hood_s_hems_add_up_to_its_hem_girth():
    pattern = written("hood", gores="all-round", hem_girth="140cm", gore_shape="wedge")
    along = sum(edge(pattern, p["name"], "hem").length * p["cut"] for p in pattern["pieces"])
    # The two shoulder slits are turned in by 8 mm on each side at the hem.
    assert along - 2 * 16 == pytest.approx(1400, abs=0.5)


def test_the_square_gore_s_point_hangs_lower_by_its_diagonal():
    # source: Pythagoras: the diagonal of a square of side s is s √2
    pattern = written("hood", gore_shape="square", cape_length="25cm")
    square = piece(pattern, "front gore")["sewing_line"]
    assert max(hypot(*p) for p in square) == pytest.approx(250 * sqrt(2), abs=0.01)


def test_the_rounded_cap_loses_the_corner_between_square_and_quarter_circle():
    # source: plane geometry: r² (1 − π/4), on each side of the fold
    plain = Polygon(piece(written("cap", back="plain"), "cap")["sewing_line"]).area
    shaped = Polygon(piece(written("cap", rounding="6cm"), "cap")["sewing_line"]).area
    assert plain - shaped == pytest.approx(2 * 60**2 * (1 - pi / 4), rel=5e-3)


def test_the_triangle_scarf_is_right_angled_and_half_a_square():
    shape = Polygon(piece(written("head-scarf", shape="triangle", side="90cm"), "scarf")["sewing_line"])
    assert shape.area == pytest.approx(900**2 / 2)
    assert shape.length == pytest.approx(900 * (2 + sqrt(2)))


def test_pleats_widen_the_front_by_twice_their_depths_at_every_height():
    # common practice, no source: each pleat of depth k adds 2k to the cut width over the pleated part
    plain = written("apron-dress")
    pleated = written("apron-dress", style="pleated", pleat_count="5", pleat_depth="12mm")
    outlines = [Polygon(piece(pattern, "front")["sewing_line"]) for pattern in (plain, pleated)]
    for up in (40, 100, 200):  # above where the side bends
        across = LineString([(-2000, -up), (2000, -up)])
        narrow, wide = (across.intersection(outline).length for outline in outlines)
        assert wide - narrow == pytest.approx(5 * 2 * 12, abs=0.1)


def test_the_wrapped_dress_s_slit_and_gore_edges_are_one_length():
    pattern = written("apron-dress", style="wrapped")
    slit = edge(pattern, "back", "left slit").length
    for side in ("front", "back"):
        assert edge(pattern, "left gore", side).length == pytest.approx(slit, abs=0.05)


def test_the_apex_of_a_wrapped_dress_s_gore_is_its_flare_over_its_length():
    # source: plane geometry: angle = arc / radius
    pattern = written("apron-dress", style="wrapped", hem_girth="230cm")
    waist = pattern["measurements"]["waist_girth"] + pattern["options"]["waist_ease"]  # before it bends
    hem = 2300
    sides = [edge(pattern, "right gore", name) for name in ("front", "back")]
    (x1, y1), (x2, y2) = (next(p for p in side.coords if hypot(*p) > 1) for side in sides)
    angle = abs(atan2(y1, x1) - atan2(y2, x2))
    assert angle == pytest.approx((hem - waist) / 2 / sides[0].length, rel=1e-4)

