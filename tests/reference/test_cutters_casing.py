"""The trousers' casing and its cord, measured and read from outside. Invented bodies.

common practice, no source: a casing of 35 mm finished takes 35 and 10 turned under; the cord's length is one
number wherever it is told; what it comes out of is made before the casing is sewn.
"""

import re
from io import BytesIO

import pdfplumber
import pytest
from shapely import LineString, Point, Polygon

from drafting.body.wearer import Wearer
from drafting.kit import Kit, KitGarment, KitWearer
from drafting.kit.listing import as_text
from drafting.kit.shopping import shop
from drafting.pattern import as_json
from drafting.sewing import sewing_plan
from drafting.sewing.materials import materials
from drafting.sheets.booklet import booklet
from drafting.words.wording import spell
from tests.wardrobe import ASTA, TAM, draft

CORD = re.compile(r"(?:cord|drawstring)[^.;]*?(\d+(?:\.\d+)? cm)")


def turned(pattern):
    """mm of cloth beyond the waist's line, in the middle of it."""
    leg = next(piece for piece in as_json(pattern)["pieces"] if piece["name"] == "leg")
    waist = LineString(next(edge["line"] for edge in leg["edges"] if edge["name"] == "waist"))
    middle = waist.interpolate(0.5, normalized=True)
    return Polygon(leg["cutting_line"]).exterior.distance(Point(middle))


def casing_words(pattern):
    (step,) = (step for step in sewing_plan(pattern).steps if step.kind == "edge" and
               any(pattern.piece(part.piece).role(part.edge) == "waist" for part in step.task.lines))
    return " ".join(spell(sentence, "mm") for sentence in step.sentences)


@pytest.mark.parametrize("waist", ["drawstring", "belt-loops"])
@pytest.mark.parametrize("asked", [20, 35, 50])
@pytest.mark.parametrize("body", [ASTA, TAM])
def test_a_casing_is_finished_as_deep_as_it_was_asked_for(body, asked, waist):
    pattern = draft("trousers", {"casing": f"{asked}mm", "waist": waist}, body)
    assert turned(pattern) == pytest.approx(asked + 10, abs=0.5)
    said = casing_words(pattern)
    assert "Fold 10 mm of the edge" in said and f"The allowance is {asked + 10} mm" in said
    assert re.search(rf"finished (casing|hem) {asked} mm deep", said)


@pytest.mark.parametrize("body", [ASTA, TAM])
@pytest.mark.parametrize("slit", ["0", "12cm"])
def test_the_cord_has_one_length_wherever_it_is_told(body, slit):
    pattern = draft("trousers", {"front_slit": slit}, body)
    plan = sewing_plan(pattern)
    (listed,) = (item for item in materials(plan) if "drawstring" in item.what)
    cord = spell(listed.amount, "cm")
    texts = {
        "notes": " ".join(spell(note, "cm") for note in pattern.notes),
        "steps": " ".join(spell(s, "cm") for step in plan.steps for s in step.sentences),
    }
    for where, text in texts.items():
        assert set(CORD.findall(text)) >= {cord}, where
    with pdfplumber.open(BytesIO(booklet(pattern, plan=plan, unit="cm"))) as pdf:
        read = re.sub(r"\s+", " ", " ".join(page.extract_text() or "" for page in pdf.pages))
    assert read.count(cord) >= 3
    # From memory: a bow takes about 300 mm at each end.
    waist = next(level.girth for level in pattern.levels if level.kind == "waist")
    assert 600 <= pattern.finished["drawstring_length"] - waist <= 620


def test_the_shopping_list_tells_the_same_cord():
    measures = {name: f"{mm:g} mm" for name, mm in ASTA.items()}
    kit = Kit(unit="mm", wearers=(KitWearer("w1", Wearer("Asta", measures)),),
              garments=(KitGarment("g1", "w1", "trousers", {}, {}),))
    (line,) = (line for line in as_text(shop(kit, seconds=0.01), "mm").splitlines() if "drawstring" in line)
    assert f": {draft('trousers').finished['drawstring_length']:.0f} mm" in line


def test_eyelets_or_a_slit_come_before_the_casing():
    for options, way in (({}, "eyelet"), ({"front_slit": "12cm"}, "opening")):
        pattern = draft("trousers", options)
        kinds = [step.kind for step in sewing_plan(pattern).steps]
        cased = next(n for n, step in enumerate(sewing_plan(pattern).steps)
                     if any(part.edge == "waist" for part in step.task.lines) and step.kind == "edge")
        assert kinds.index(way) < cased
