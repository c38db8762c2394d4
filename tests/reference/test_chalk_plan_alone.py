"""What chalk-plan.json says is the whole lay: every piece, hole and slit drawn again from it alone.

source: the contract of the chalk plan, within 3 mm; measured by shapely (GEOS), Hausdorff distance, against
lay.json, in which the lines lie unrounded. Bodies: Marram Farm's volunteers, invented.
"""

import copy
import json
import random

import pytest
from shapely import hausdorff_distance
from shapely.geometry import LinearRing, LineString, Point, Polygon, box

from drafting.cloth.cloth import Cloth
from drafting.desk.lay_results import lay_files
from drafting.garments import GARMENTS, ChoiceOption, read_options
from drafting.lay.bolt import ToCut, lay_on_bolt
from drafting.words.problems import BadInput
from tests.chalked import Redrawn
from tests.wardrobe import ASTA, TAM, body_for

LIMIT = 3.0
"""mm"""

DRAFTS = 6
"""Of each garment; thirty of each came right when this was written."""

CLOTHS = (Cloth(), Cloth(width=1100, nap=True), Cloth(folded=True), Cloth(width=900, two_sided=False),
          Cloth(shrinkage_warp=0.06, shrinkage_weft=0.03, washed_first=False))


def taken(name: str, seed: int) -> tuple[dict, dict]:
    """lay.json and chalk-plan.json of a garment: its options, its body, its cloth and unit by chance."""
    chance = random.Random(f"{name} {seed}")
    garment = GARMENTS[name]
    values = {key: value * chance.uniform(0.94, 1.08) for key, value in
              (ASTA if chance.random() < 0.7 else TAM).items()} if seed else ASTA
    while True:
        body = body_for(garment, values)
        options = {o.name: chance.choice(list(o.choices)) for o in garment.options
                   if isinstance(o, ChoiceOption) and seed and chance.random() < 0.4}
        cloth = chance.choice(CLOTHS) if seed else CLOTHS[0]
        try:
            pattern = garment.draft(body, read_options(garment, options, body))
            bolt = lay_on_bolt([ToCut(pattern, "Ada")], cloth, max_rounds=4)
            break
        except BadInput:
            seed += 1
    files = lay_files([bolt], chance.choice(["cm", "in", "mm"]) if seed else "cm", title="", name=None)
    return json.loads(files["lay.json"]), json.loads(files["chalk-plan.json"])


def missed(lay: dict, plan: dict) -> dict[tuple[str, str, str], float]:
    """mm by which each line drawn from the plan misses where it lies in the lay."""
    (one,) = plan["plans"]
    redrawn = Redrawn(one)
    edge = (lay["cloth"]["width"] - lay["cloth"]["usable_width"]) / (1 if one["folded"] else 2)
    names = [p["piece"] for p in lay["placements"]]
    found = {}
    for placement in lay["placements"]:
        name = placement["piece"]
        title = f"{name} {placement['copy']}" if names.count(name) > 1 else name
        cut = Cut(lay, redrawn.lines[title], edge, one["width"] if placement.get("on_fold") else None)
        found[title, "outline", ""] = cut.off_ring(placement["outline"], ("outline", ""))
        for hole in placement["holes"]:
            found[title, "hole", hole["name"]] = cut.off_ring(hole["outline"], ("hole", hole["name"]))
        for line in placement["lines"]:
            if line["kind"] == "slit":
                found[title, "slit", line["name"]] = cut.off_line(line["line"], ("slit", line["name"]))
            else:
                found[title, line["kind"], line["name"]] = cut.from_lines(line["line"], line["kind"])
        for mark in placement["marks"]:
            at = Point(mark["at"][0] + edge, mark["at"][1])
            off = [at.distance(Point(p)) for note, p in redrawn.spots(title) if note == mark["label"]]
            found[title, "mark", f"{mark['label']} {mark['at']}"] = min(off, default=float("inf"))
    assert set(redrawn.lines) == {title for title, _, _ in found}
    return found


class Cut:
    """The lines of one piece drawn again, against the lay's; `fold` is where a half ends."""

    def __init__(self, lay: dict, lines: dict, edge: float, fold: float | None) -> None:
        self._lines, self._edge, self._fold = lines, edge, fold
        self._left = box(-1e5, -1e5, fold, 1e5) if fold is not None else None

    def _moved(self, points: list) -> list:
        return [(x + self._edge, y) for x, y in points]

    def off_ring(self, outline: list, key: tuple[str, str]) -> float:
        drawn = LinearRing(self._lines[key])
        if self._left is not None:
            left = Polygon(drawn).intersection(self._left)
            drawn = max(getattr(left, "geoms", [left]), key=lambda part: part.area).exterior
        return hausdorff_distance(LinearRing(self._moved(outline)), drawn, densify=0.2)

    def off_line(self, line: list, key: tuple[str, str]) -> float:
        drawn = LineString(self._lines[key])
        if self._left is not None:
            drawn = drawn.intersection(self._left)
        return hausdorff_distance(LineString(self._moved(line)), drawn, densify=0.2)

    def from_lines(self, line: list, kind: str) -> float:
        """How far a fold, a tuck or a level is from the nearest that is drawn, which may be longer."""
        drawn = [LineString(points) for (other, _), points in self._lines.items() if other == kind]
        true = self._moved(line)
        return min((max(Point(p).distance(one) for p in true) for one in drawn), default=float("inf"))


@pytest.mark.parametrize("name", GARMENTS)
def test_every_piece_hole_and_slit_is_where_the_numbers_alone_put_it(name):
    for seed in range(DRAFTS):
        lay, plan = taken(name, seed)
        worst = max(missed(lay, plan).items(), key=lambda item: item[1])
        assert worst[1] <= LIMIT, (seed, worst)


def test_a_rectangle_that_goes_down_too_far_is_caught():
    lay, plan = taken("apron-dress", 0)
    boxes = [stroke for piece in plan["plans"][0]["pieces"] for line in piece.get("lines", ())
             for stroke in line.get("strokes", ()) if stroke["how"] == "box"]
    assert boxes and max(missed(lay, plan).values()) <= LIMIT
    boxes[0]["down"] += 40.0
    assert max(missed(lay, plan).values()) > LIMIT


def test_a_plan_with_one_number_wrong_by_four_centimetres_is_caught():
    lay, plan = taken("tunic", 0)
    assert max(missed(lay, plan).values()) <= LIMIT
    numbers = [(k, m, key) for k, piece in enumerate(plan["plans"][0]["pieces"])
               for m, mark in enumerate(piece.get("marks", ())) for key in ("across", "down")
               if key == "down" or mark["across"]]  # what lies on the middle line has one number
    for k, m, key in numbers[::4]:
        found = []
        for slip in (-40.0, 40.0):  # one of them may only move a mark along a nearly straight curve
            wrong = copy.deepcopy(plan)
            wrong["plans"][0]["pieces"][k]["marks"][m][key] += slip
            found.append(max(missed(lay, wrong).values()))
        assert max(found) > LIMIT, (k, m, key)
