"""500 random valid bodies and options, measured from pattern.json by shapely, not by our own code.

source of the limits: the project's contract (seams within 0.5 mm, hem level within 3 mm, hem and top
edges within 2° of straight), common practice, no source. source of the measuring: shapely (GEOS).
"""

import json
import math
import random

import pytest
from shapely.geometry import LineString, Point, Polygon

from drafting.requests import workbench
from tests.sampling import some


def random_request(rng: random.Random) -> dict:
    bust = rng.uniform(50, 150)
    waist = bust * rng.uniform(0.72, 1.08)
    torso = rng.uniform(0.3, 0.46) * bust
    length = torso * rng.uniform(1.6, 3.6)
    options = {
        "length": f"{length:.1f}",
        "hem_girth": f"{max(bust, waist) * rng.uniform(1.3, 2.8) + 15:.1f}",
        "shaping": rng.choice(["waisted", "straight", "a-line"]),
        "opening": rng.choice(["as-needed", "side", "none"]),
        "scoop": f"{rng.uniform(0, min(6, torso / 3)):.1f}",
        "growth_tuck": rng.choice(["0", f"{rng.uniform(1, 8):.1f}"]),
        "seam_allowance": f"{rng.uniform(1, 4):.1f}",
        "hem_depth": f"{rng.uniform(0.5, 3):.1f}",
        "strap_style": rng.choice(["loops", "single", "none"]),
    }
    return {
        "garment": "apron-dress",
        "measurements": {
            "bust_girth": f"{bust:.1f}",
            "waist_girth": f"{waist:.1f}",
            "torso_length": f"{torso:.1f}",
        },
        "options": options,
    }


def valid_drafts(count: int):
    rng = random.Random(20261125)
    found = tried = 0
    while found < count:
        request = random_request(rng)
        tried += 1
        assert tried < 3 * count, "most random bodies and options should be valid"
        result = workbench.run({**request, "do": "file", "kind": "pattern.json"})
        if result["ok"]:
            found += 1
            yield request, json.loads(result["bytes"])
        else:
            assert all(p["field"] for p in result["problems"]), result


@pytest.fixture(scope="module")
def drafts():
    return list(valid_drafts(len(some(range(500), 3))))


OPENINGS, ENDS = {"left opening", "front opening"}, {"top", "hem"}


def edge(pattern: dict, piece: str, name: str) -> LineString:
    (found,) = (p for p in pattern["pieces"] if p["name"] == piece)
    (line,) = (e["line"] for e in found["edges"] if e["name"] == name)
    return LineString(line)


def test_every_seam_matches_within_half_a_millimetre(drafts):
    for request, pattern in drafts:
        for seam in pattern["seams"]:
            a = sum(edge(pattern, *part).length for part in seam["a"])
            b = sum(edge(pattern, *part).length for part in seam["b"])
            assert abs(a - b - seam["ease"]) <= 0.5, (request, seam["name"], a, b)


def test_the_hem_hangs_level_within_three_millimetres(drafts):
    for request, pattern in drafts:
        ways = []
        for piece in pattern["pieces"]:
            levels = [line["line"] for line in piece["inner_lines"] if line["kind"] == "level"]
            if levels:
                level, sewn_in = LineString(levels[0]), 0.0
                tuck = sorted((line["line"] for line in piece["inner_lines"] if line["kind"] == "tuck"),
                              key=lambda line: line[0][1])
                if tuck:
                    # As it is worn: from the level to the tuck's upper row, and on from its lower one.
                    sewn_in = max(level.distance(Point(p)) for p in tuck[0])
                    assert min(level.distance(Point(p)) for p in tuck[0]) > sewn_in - 1
                    level = LineString(tuck[-1])
                ways += [sewn_in + level.distance(Point(p))
                         for p in edge(pattern, piece["name"], "hem").coords]
        assert max(ways) - min(ways) <= 3, request


def test_the_hem_and_the_top_meet_every_seam_square(drafts):
    for request, pattern in drafts:
        for piece in pattern["pieces"]:
            names = {e["name"] for e in piece["edges"]}
            if "hem" not in names:
                continue
            ring = [e for e in piece["edges"]]
            for before, after in zip(ring, ring[1:] + ring[:1], strict=True):
                angle = direction(before, at_end=True) + 180 - direction(after)
                if {before["name"], after["name"]} & OPENINGS and not {before["name"], after["name"]} & ENDS:
                    # An edge goes straight on where its opening ends.
                    assert abs((angle + 180) % 360 - 180) <= 2, (request, piece["name"])
                    continue
                assert abs(abs((angle + 180) % 360 - 180) - 90) <= 2, (request, piece["name"])


def direction(edge_json: dict, at_end: bool = False) -> float:
    """Degrees in which an edge leaves its start (or, backwards, its end).

    Hem and top are curves given as chords: the first lies half a step off the tangent, the way to the
    second point a whole step, so the tangent is as far beyond the first as that is from the second.
    """
    line = edge_json["line"][::-1] if at_end else edge_json["line"]
    (x0, y0), (x1, y1) = line[:2]
    first = math.atan2(y1 - y0, x1 - x0)
    if edge_json["name"] not in ("hem", "top") or len(line) == 2:
        return math.degrees(first)
    x2, y2 = line[2]
    turn = math.atan2(y2 - y0, x2 - x0) - first
    return math.degrees(first - ((turn + math.pi) % (2 * math.pi) - math.pi))


def test_every_cutting_line_is_simple_and_holds_its_sewing_line(drafts):
    for request, pattern in drafts:
        for piece in pattern["pieces"]:
            cut, sew = Polygon(piece["cutting_line"]), Polygon(piece["sewing_line"])
            assert cut.is_valid and sew.is_valid, (request, piece["name"])
            assert sew.difference(cut).area < 0.01, (request, piece["name"])


def test_the_hems_and_tops_of_the_pieces_add_up_to_the_finished_girths(drafts):
    for request, pattern in drafts:
        scooped = float(request["options"]["scoop"]) > 0
        for name, girth in (("hem", "hem_girth"), ("top", "top_girth")):
            if name == "top" and scooped:
                continue
            along = sum(
                edge(pattern, piece["name"], name).length * piece["cut"]
                for piece in pattern["pieces"]
                if any(e["name"] == "hem" for e in piece["edges"])
            )
            assert along == pytest.approx(pattern["finished"][girth], abs=1.0), request


def test_every_check_that_the_geometry_decides_passed(drafts):
    for request, pattern in drafts:
        for check in pattern["checks"]:
            if check["unit"] in ("°", "pieces") or "match" in check["name"] or "level" in check["name"]:
                assert check["passed"], (request, check)
