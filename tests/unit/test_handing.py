"""Handing over: QR codes, links to kits, and what an opened link comes to."""

import random
import re

import numpy
import pytest
from PIL import Image, ImageDraw

from drafting.demo import demo_kit
from drafting.kit import read_kit
from drafting.kit.codes import LARGEST_VERSION, LONGEST_TEXT, codes
from drafting.workbench import run
from tests.scanning import scan

ADDRESS = "https://group.example/ellwand/"
DRAFT = ADDRESS + "#apron-dress&v=1&unit=cm&bust_girth=92cm&waist_girth=78cm&torso_length=38cm&end"


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


