"""Handing over: QR codes, links to kits, and what an opened link comes to."""

import json
import random
import re
import time
from dataclasses import replace

import numpy
import pytest
from PIL import Image, ImageDraw

from drafting.kit import read_kit
from drafting.kit.codes import LARGEST_VERSION, LONGEST_TEXT, codes
from drafting.kit.listing import listing, listing_text, listing_values, read_listing
from drafting.kit.marram_farm import demo_kit
from drafting.kit.shopping import shop
from drafting.requests.workbench import run, shop_in_steps
from tests.scanning import scan

ADDRESS = "https://group.example/ellwand/"
DRAFT = ADDRESS + "#apron-dress&v=2&unit=cm&bust_girth=92cm&waist_girth=78cm&torso_length=38cm&end"


def picture(svg, scale=6):
    """The code as pixels, drawn from segno's path by another library: rows of `h` runs."""
    width = int(re.search(r'viewBox="0 0 (\d+) ', svg)[1])
    image = Image.new("L", (width * scale, width * scale), 255)
    draw = ImageDraw.Draw(image)
    x = y = 0.0
    for kind, numbers in re.findall(r"([Mmh])([^Mmh\"]*)", re.findall(r' d="([^"]*)"', svg)[-1]):
        values = [float(n) for n in re.findall(r"-?[\d.]+", numbers)]
        if kind == "h":
            left, top = round(x * scale), round((y - 0.5) * scale)
            draw.rectangle((left, top, left + round(values[0] * scale) - 1, top + scale - 1), fill=0)
            x += values[0]
        else:
            x, y = (values[0], values[1]) if kind == "M" else (x + values[0], y + values[1])
    return numpy.asarray(image)


def read(svg):
    """source: OpenCV's QR detector."""
    return scan(picture(svg))


def long_draft(characters):
    rng = random.Random(7)
    return DRAFT.replace("&end", "&name=" + "".join(rng.choices("abcdefghij", k=characters)) + "&end")


def test_a_drafts_link_is_one_code_that_reads_as_the_link():
    result = run({"do": "qr", "link": DRAFT})
    assert [code["label"] for code in result["codes"]] == ["1 of 1"]
    assert read(result["codes"][0]["svg"]) == DRAFT == result["codes"][0]["link"]


def test_the_longest_text_that_goes_in_one_code_is_the_standards():
    """source: ISO/IEC 18004:2015, table 7: version 20-L holds 858 bytes; 17 + 4 × 20 modules."""
    link = long_draft(LONGEST_TEXT - len(DRAFT) - len("&name="))
    (code,) = codes(link)
    assert code.modules == 17 + 4 * LARGEST_VERSION + 2 * 4
    assert read(code.svg) == link
    assert codes(link + "x")[0].link.startswith(ADDRESS + "#draft=1.1of")


def test_half_a_letter_in_a_link_is_left_out_of_its_code():
    (code,) = run({"do": "qr", "link": f"{DRAFT}\udc00&name=Hil\ud83dd"})["codes"]
    assert read(code["svg"]) == f"{DRAFT}&name=Hild"
    assert not run({"do": "qr", "link": "\udc00"})["ok"]


def test_a_module_is_three_css_pixels_wide_on_a_phone_of_360():
    for code in codes(long_draft(6000)):
        assert 360 / code.modules >= 3


def test_a_long_link_goes_in_parts_that_read_in_any_order():
    link = long_draft(3000)
    result = run({"do": "qr", "link": link})
    count = len(result["codes"])
    assert count > 2
    assert [code["label"] for code in result["codes"]] == [f"{i + 1} of {count}" for i in range(count)]
    scanned = [read(code["svg"]) for code in result["codes"]]
    assert all(one.startswith(ADDRESS + "#draft=1.") for one in scanned)
    fragments = [one.partition("#")[2] for one in scanned]
    random.Random(3).shuffle(fragments)
    for i in range(1, count):
        found = run({"do": "open-link", "fragments": fragments[:i]})
        assert (found["kind"], found["have"], found["wanted"]) == ("parts", i, count)
    found = run({"do": "open-link", "fragments": [*fragments, fragments[0]]})
    assert found["kind"] == "draft" and ADDRESS + "#" + found["fragment"] == link


def test_parts_of_another_link_scanned_before_do_no_harm():
    first = [c.link.partition("#")[2] for c in codes(long_draft(2000))]
    second = [c.link.partition("#")[2] for c in codes(long_draft(2500))]
    found = run({"do": "open-link", "fragments": [first[0], *second]})
    assert found["kind"] == "draft" and found["fragment"] == long_draft(2500).partition("#")[2]


def test_a_link_that_would_take_too_many_codes_offers_the_file():
    result = run({"do": "qr", "link": long_draft(30_000)})
    assert not result["ok"] and "file instead" in result["problems"][0]["message"]


def test_an_address_that_leaves_no_room_says_so():
    result = run({"do": "qr", "link": "https://group.example/" + "x" * 800 + "#apron-dress"})
    assert not result["ok"] and "copy the link" in result["problems"][0]["message"]


def test_a_kits_link_says_what_it_holds_and_opens_as_the_kit():
    from drafting.kit import write_kit

    shared = run({"do": "share-kit", "kit": write_kit(demo_kit()), "names": True})
    assert shared["said"] == "A kit of 3 wearers, 6 garments: Marram Farm, clothes for the season"
    assert not shared["too_long"]
    found = run({"do": "open-link", "fragments": ["#" + shared["fragment"]]})
    assert found["kind"] == "kit" and read_kit(found["kit"]) == demo_kit()
    assert found["said"] == shared["said"]


def test_a_kits_link_holds_no_name_unless_asked():
    from drafting.kit import write_kit

    shared = run({"do": "share-kit", "kit": write_kit(demo_kit())})
    found = run({"do": "open-link", "fragments": [shared["fragment"]]})
    assert "Hild" not in found["kit"] and "wearer 1" in found["kit"]


def test_a_code_is_black_on_white_with_a_quiet_zone():
    """source: ISO/IEC 18004:2015, 6.3.8: four modules all round."""
    svg = codes(DRAFT)[0].svg
    pixels = picture(svg, 2)
    assert pixels[:8].min() == pixels[:, :8].min() == pixels[-8:].min() == pixels[:, -8:].min() == 255
    assert "#000" in svg and "#fff" in svg


@pytest.mark.parametrize(
    "request_",
    [
        {"do": "qr"}, {"do": "qr", "link": 3}, {"do": "share-kit", "kit": "{}"}, {"do": "share-kit"},
        {"do": "open-link"}, {"do": "open-link", "fragments": "kit=1.x"},
        {"do": "open-link", "fragments": ["draft=1.x"]}, {"do": "open-link", "fragments": ["draft=9.x"]},
        {"do": "open-link", "fragments": ["kit=1.1of2.00000000.AA", "kit=1.2of2.00000000.AA"]},
    ],
)
def test_what_cannot_be_handed_over_gets_one_clear_sentence(request_):
    result = run(request_)
    assert not result["ok"] and len(result["problems"]) == 1
    assert "Ellwand itself" not in result["problems"][0]["message"]




# --- The shopping list ----------------------------------------------------------------------------


@pytest.fixture(scope="module")
def marram_farm():
    return shop(demo_kit(), seconds=0.2)


def amount_of(text):
    """The number; of a length the centimetres."""
    number, *unit = text.split()
    return float(number) * (100 if unit == ["m"] and "." in number else 1)


def part(made, title):
    return next(p for p in made.parts if p.title == title)


def test_everyones_parts_add_up_to_the_cloth_to_buy(marram_farm):
    made = listing(marram_farm, "cm")
    for bolt in marram_farm.bolts:
        (row,) = [row for row in part(made, "Cloth").rows if row.what.startswith(bolt.name)]
        shares = [
            amount_of(row.amount) for who in ("Hild", "Wulf", "Ebba")
            for row in part(made, f"For {who}").rows if row.what == bolt.name
        ]
        assert sum(shares) == pytest.approx(amount_of(row.amount), abs=0.3)


def priced(remark):
    """Kilograms and price as a cloth's remark tells them."""
    return [float(n) for n in re.search(r"([\d.]+) kg, price ([\d.]+)", remark).groups()]


def test_weight_and_price_are_those_of_the_cloth_bought(marram_farm):
    """source: arithmetic. 320 g/m² of cloth 150 cm wide weighs 480 g a metre, and costs 24 a metre."""
    made = listing(marram_farm, "cm")
    wool, linen = part(made, "Cloth").rows
    metres = amount_of(wool.amount) / 100
    kilograms, price = priced(wool.remark)
    assert kilograms == pytest.approx(metres * 0.48, abs=0.01)
    assert price == pytest.approx(metres * 24, abs=0.1)
    sums = {row.what: amount_of(row.amount) for row in part(made, "Cloth in all").rows}
    linen_price = priced(linen.remark)[1]
    assert sums["Price"] == pytest.approx(price + linen_price, abs=0.02)
    everyones = [
        amount_of(row.amount) for who in ("Hild", "Wulf", "Ebba")
        for row in part(made, f"For {who}").rows if row.what == "Price of the cloth"
    ]
    assert sum(everyones) == pytest.approx(sums["Price"], abs=0.03)


def test_thread_in_all_is_everyones_thread(marram_farm):
    made = listing(marram_farm, "cm")
    for row in part(made, "Thread and notions").rows[:2]:
        everyones = [
            amount_of(r.amount) for who in ("Hild", "Wulf", "Ebba")
            for r in part(made, f"For {who}").rows if r.what == row.what
        ]
        assert 0 <= sum(everyones) - amount_of(row.amount) <= 2, "each is rounded up to a metre"


def test_the_list_comes_back_from_plain_values_and_reads_as_text(marram_farm):
    made = listing(marram_farm, "in")
    assert read_listing(json.loads(json.dumps(listing_values(made)))) == made
    text = listing_text(made)
    assert text.startswith("Marram Farm") and "Hild" in text
    assert all(row.what in text for p in made.parts for row in p.rows)


def test_a_kit_is_listed_without_what_cannot_be_drafted_and_says_so():
    kit = demo_kit()
    broken = replace(kit.garments[0], options={"length": "soon"})
    made = listing(shop(replace(kit, garments=(broken, *kit.garments[1:])), seconds=0.05), "cm")
    (note,) = part(made, "Not in this list").notes
    assert "Hild" in note and "soon" in note


def test_one_draft_is_a_kit_of_one():
    result = run({
        "do": "shop", "garment": "hood", "seconds": 0.05, "name": "Osgar", "unit": "cm",
        "measurements": {"head_girth": "57", "shoulder_girth": "118", "stature": "176"},
        "cloth": {"width": "140", "price": "20"},
    })
    assert result["ok"], result
    assert result["listing"]["title"] == "Hood"
    assert [p["title"] for p in result["listing"]["parts"]] == [
        "Cloth", "Thread and notions", "If the edges are trimmed, a band 2 cm wide"]
    ((whose, length, edges),) = result["listing"]["parts"][2]["rows"]
    assert whose == "Osgar's hood" and length.endswith(" m") and "hem" in edges and "a warp of" in edges


@pytest.mark.parametrize(("typed", "field"), [
    ({"age_months": "³"}, "age_months"), ({"born": "2020-13-01"}, "born"),
    ({"born": "2026-01-01", "measured": "2025-01-01"}, "born"), ({"today": "soon"}, "today"),
])
def test_one_drafts_list_refuses_a_bad_age_as_drafting_it_does(typed, field):
    hood = {"garment": "hood", "seconds": 0.05,
            "measurements": {"head_girth": "57", "shoulder_girth": "118", "stature": "176"}}
    listed, drafted = (run({"do": do, **hood, **typed}) for do in ("shop", "draft"))
    assert not listed["ok"] and listed == drafted
    assert listed["problems"][0]["field"] == field


def test_dates_beside_an_age_that_does_not_read_make_the_same_list():
    dates = {"born": "2018-05-31", "measured": "2026-11-25", "age_months": "³"}
    result = run({"do": "shop", "garment": "hood", "seconds": 0.05, **dates,
                  "measurements": {"head_girth": "52", "shoulder_girth": "77", "stature": "128"}})
    assert result["ok"], result


def test_the_list_says_how_far_it_is_and_can_be_told_to_come_to_an_end():
    from drafting.kit import write_kit

    request = {"do": "shop", "kit": write_kit(demo_kit()), "seconds": 60}
    steps = shop_in_steps(request)
    said = [next(steps)]
    while not said[-1]["doing"].endswith(" cm"):  # a bolt's first lay
        said.append(next(steps))
        assert "going_on" in said[-1], [s.get("doing") for s in said]
    assert [s["done"] for s in said] == sorted(s["done"] for s in said)
    assert said[0]["doing"] == "Drafting 1 of 6"
    began = time.process_time()
    last = steps.send(True)
    while "listing" not in last:  # each bolt has its first lay, however soon one has enough
        last = next(steps)
    assert last["ok"] and "listing" in last
    assert time.process_time() - began < 30
    assert len(last["listing"]["parts"][0]["rows"]) == 2


def test_the_sheet_prints_every_line_of_the_list(marram_farm):
    """source: the PDF read back with pdfplumber."""
    import io

    import pdfplumber

    made = listing(marram_farm, "cm")
    result = run({"do": "shopping-sheet", "listing": listing_values(made), "paper": "Letter"})
    with pdfplumber.open(io.BytesIO(result["bytes"])) as pdf:
        words = " ".join(page.extract_text() for page in pdf.pages).split()
        assert float(pdf.pages[0].width) == pytest.approx(612)  # source: ANSI/ASME Y14.1, 8.5 in
    for p in made.parts:
        for row in p.rows:
            assert set(f"{row.what} {row.amount} {row.remark}".split()) <= set(words), row


def test_a_bolt_of_the_list_is_told_and_taken_away_as_it_was_listed():
    from drafting.kit import write_kit

    asked = {"kit": write_kit(demo_kit()), "seconds": 0.05}
    made = run({"do": "shop", **asked})
    for bolt in made["bolts"]:
        lay = run({"do": "bolt", **asked, "bolt": bolt["name"]})
        listed = next(r for r in made["listing"]["parts"][0]["rows"] if r[0].startswith(bolt["name"]))
        assert lay["ok"] and lay["shop_length"] == listed[1]
        assert listed[2].startswith(f"exactly {lay['buy_length']}")
        assert lay["picture"].startswith("<svg") and lay["chalk"]["pieces"]
        file = run({"do": "bolt-file", **asked, "bolt": bolt["name"], "kind": "lay.json"})
        assert sum(1 for _ in json.loads(file["bytes"])["placements"]) == len(lay["chalk"]["pieces"])
    refused = run({"do": "bolt", **asked, "bolt": "sailcloth"})
    assert not refused["ok"] and made["bolts"][0]["name"] in refused["problems"][0]["message"]
    refused = run({"do": "bolt-file", **asked, "bolt": made["bolts"][0]["name"], "kind": "tiled.pdf"})
    assert "chalk-plan.pdf" in refused["problems"][0]["message"]


@pytest.mark.parametrize(
    "request_",
    [
        {"do": "shopping-sheet"}, {"do": "shopping-sheet", "listing": {"parts": [{"rows": [["a"]]}]}},
        {"do": "shopping-sheet", "listing": {"title": 3, "parts": []}},
        {"do": "shopping-sheet", "listing": {"title": "", "parts": [{"title": "", "rows": [], "notes": 1}]}},
        {"do": "shop", "kit": "{"}, {"do": "shop", "garment": "ball-gown"}, {"do": "shop"},
        {"do": "shop", "garment": "hood", "measurements": [1]},
    ],
)
def test_a_list_that_cannot_be_made_gets_sentences(request_):
    result = run(request_)
    assert not result["ok"] and result["problems"][0]["message"].endswith(".")
    assert "Ellwand itself" not in result["problems"][0]["message"], result
