"""Links that nobody's page wrote: what they hold goes through the same door as what is typed."""

import itertools
import json

import pytest

import cloths
import handed
import kittexts
import kitvalues
from draft import from_link, months
from drafting.body import MEASURES
from drafting.both.link import read_link
from drafting.cloth.cloth import TYPED
from drafting.garments import GARMENTS
from drafting.kit import pack
from drafting.kit.marram_farm import demo_kit
from drafting.requests import workbench

LENGTHS = {name: ["length"] for name in GARMENTS}
ODD = {
    "age_months": ("abc", "12.5", "1e5", "0x10", "-3", "9999999", "٣", "%00"),
    "sex": ("both", "x" * 300, "%0A"), "unit": ("ell", "__proto__"), "paper": ("B9", "%F0%9F%91%A9"),
    "name": ("%00", "%E2%80%8D", "%ED%A0%80", "a" * 500, "%0Ab"), "year": ("%09", "1" * 300),
    "rules": ("%7B%7D", "x" * 300), "cloth_id": ("c9", "", "%00", "w1"), "cloth_lining_id": ("c1",),
    "cloth_wearer": ("x",), "cloth_lining_": ("1",), "cloth_": ("1",),
    "cloth_width": ("1e5", "%00", "x" * 300),
    "bust_girth": ("%00", "9" * 300, "%E2%80%8D", "115%C2%A0cm"), "id": ("g1",), "wearer": ("w2",),
    "length": ("%00", "9" * 300), "format": ("x",), "__proto__": ("x",), "%00": ("x",), "constructor": ("1",),
    "hem_girth": ("%F0%9F%91%A9%E2%80%8D%F0%9F%8C%BE",), "v": ("3", "abc"), "start": ("x",), "born": ("x",),
}
LINKS = [f"{kind}&v=2&{key}={text}&end"
         for kind, (key, texts) in itertools.product(("apron-dress", "hood"), ODD.items()) for text in texts]


def kit_with(fragment):
    """The link's draft taken into a kit, as the page does it."""
    read, said = read_link(fragment, set(MEASURES), list(GARMENTS))
    draft, more = from_link(read, LENGTHS)
    kit = kitvalues.fresh("hood")
    kit["title"] = "mine"
    kitvalues.add_draft(kit, draft)
    return kit, said + more


def test_there_are_more_than_64_odd_links():
    assert len(LINKS) > 64


@pytest.mark.parametrize("fragment", LINKS)
def test_what_an_odd_link_brings_can_be_saved_linked_and_kept(fragment):
    kit, said = kit_with(fragment)
    values = kittexts.to_file(kit)
    saved = workbench.run({"do": "write-kit", "kit": values})
    assert saved["ok"] and saved["set_aside"] == [], saved
    shared = workbench.run({"do": "share-kit", "kit": json.dumps(values)})
    assert shared["ok"] and shared["set_aside"] == []
    assert kittexts.from_kept(kittexts.to_keep(kit), list(GARMENTS), LENGTHS)["wearers"] == kit["wearers"]
    assert {cloth["id"] for cloth in kit["cloths"]} <= {"c1", "c2"}
    assert all(sentence.endswith((".", "filled in.")) and len(sentence) < 300 for sentence in said)


@pytest.mark.parametrize("key, text", [
    ("age_months", "12.5"), ("sex", "both"), ("cloth_id", "c9"), ("unit", "ell")])
def test_what_does_not_read_is_named_and_left_out(key, text):
    kit, said = kit_with(f"apron-dress&v=2&{key}={text}&bust_girth=92cm&end")
    assert any(text in sentence or key in sentence for sentence in said)
    assert kit["wearers"][-1]["measurements"] == {"bust_girth": "92"}


def test_a_link_of_a_thousand_fields_fills_a_hundred():
    kit, said = kit_with("hood&v=2&" + "&".join(f"o{i}=1" for i in range(1000)) + "&end")
    assert len(kit["garments"][-1]["options"]) == 100 and "was left out" in said[0]


def test_the_fields_of_a_cloth_are_those_that_it_has():
    assert set(cloths.FIELDS) == set(TYPED)


@pytest.mark.parametrize("text, age", [
    ("", ""), ("0", 0), ("102", 102), ("1500", 1500), ("1501", "1501"), ("a", "a")])
def test_an_age_that_is_none_goes_on_as_it_was_typed(text, age):
    assert months(text) == age
    kit = kitvalues.fresh("hood")
    kit["wearers"][0]["age_months"] = text
    saved = workbench.run({"do": "write-kit", "kit": kittexts.to_file(kit)})
    assert saved["ok"] and bool(saved["set_aside"]) == (isinstance(age, str) and text != "")


def test_parts_of_links_are_kept_up_to_a_limit_of_length_and_of_number():
    part = "kit=1.1of9.x." + "A" * 800
    assert handed.bounded([part] * 200) == [part] * handed.MOST
    assert handed.bounded([part, "kit=1." + "A" * 1_700_000]) == []
    assert sum(map(len, handed.bounded(["kit=" + "A" * 90_000] * 9))) <= handed.MOST_KEPT
    assert len(pack(demo_kit(), names=True)) * 100 < handed.LONGEST * 10, "a real kit is far below it"
