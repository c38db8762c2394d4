"""The draft on the page: what was typed, what is asked for it, and what earlier visits and links hold."""

import pytest

import cloths
import draft as drafts
from draft import FormDraft
from drafting.both.link import read_link, write_link
from drafting.cloth.cloth import read_cloth
from drafting.requests import workbench
from drafting.words.units import format_length
from example import EXAMPLE_MEASUREMENTS

LENGTHS = {"hood": ["tail_length"], "tunic": ["length"]}
ASKED, NEEDED = ["head_girth", "stature"], ["head_girth"]
FIELDS = {
    "cloth_width": "75", "cloth_name": "brown wool", "cloth_fibre": "wool", "cloth_colour": "madder",
    "cloth_nap": "yes", "cloth_price": "20", "cloth_selvedge": "1", "cloth_lining_width": "60",
    "cloth_lining_on_hand": "3 m", "cloth_lining_name": "linen", "cloth_lining_piecing": "half",
}
CLOTHS = {
    "main": {"width": "75", "name": "brown wool", "fibre": "wool", "colour": "madder", "nap": "yes",
             "price": "20", "selvedge": "1"},
    "lining": {"width": "60", "on_hand": "3 m", "name": "linen", "piecing": "half"},
}
LINK = (
    "hood&v=3&unit=cm&name=Hild&sex=woman&year=980&stature=5%276%22&head_girth=56cm&tail_length=60cm"
    "&lining=full&gores=all-round&cloth_width=75cm&cloth_name=brown+wool&cloth_fibre=wool&cloth_colour=madder"
    "&cloth_nap=yes&cloth_price=20&cloth_selvedge=1cm&cloth_lining_width=60cm&cloth_lining_on_hand=3+m"
    "&cloth_lining_name=linen&cloth_lining_piecing=half&end"
)
"""As the page wrote it while a draft held the fields of both cloths in one."""
KEPT = {
    "garment": "hood", "unit": "cm", "name": "Hild", "paper": "", "sex": "woman", "age_months": "",
    "measured": "", "born": "", "start": {}, "measurements": {"head_girth": "56", "stature": "5'6\""},
    "cloth": FIELDS, "impression": {"year": "980"},
    "wardrobe": {"hood": {"lining": "full", "tail_length": "60", "gores": "all-round"}},
}
"""As the page of that time kept the draft between two saves of its kit."""


def typed() -> FormDraft:
    draft = FormDraft("hood")
    for holder, texts in (("measurements", KEPT["measurements"]), ("options", KEPT["wardrobe"]["hood"]),
                          ("cloth", FIELDS), ("impression", KEPT["impression"])):
        for name, text in texts.items():
            draft.put(holder, name, text)
    draft.name, draft.sex = "Hild", "woman"
    return draft


def from_link(fragment: str) -> FormDraft:
    read, said = read_link(fragment, ASKED, list(LENGTHS))
    draft, more = drafts.from_link(read, LENGTHS)
    assert not said + more
    return draft


def as_link(draft: FormDraft) -> str:
    order = ["stature", "head_girth", "tail_length"]
    return write_link(drafts.to_link(draft, ASKED, NEEDED, LENGTHS, order, True))


def test_what_the_form_s_fields_say_goes_to_the_cloth_of_its_part():
    assert typed().cloths == CLOTHS
    assert cloths.as_fields(CLOTHS) == FIELDS and cloths.from_fields(FIELDS) == CLOTHS
    assert all(typed().get("cloth", name) == text for name, text in FIELDS.items())


def test_no_field_but_a_cloth_s_is_a_cloth_s():
    draft = typed()
    draft.put("cloth", "bust_girth", "92")
    assert draft.cloths == CLOTHS and draft.get("cloth", "bust_girth") == ""
    assert cloths.from_fields({"bust_girth": "92"}) == cloths.none()


def test_an_emptied_field_is_no_text():
    draft = typed()
    for name in FIELDS:
        draft.put("cloth", name, " ")
    assert draft.cloths == cloths.none()


@pytest.mark.parametrize("holder, name", [
    ("measurements", "head_girth"), ("options", "tail_length"), ("cloth", "cloth_lining_width"),
    ("impression", "year"),
])
def test_a_draft_with_anything_typed_is_not_empty(holder, name):
    draft = FormDraft("hood")
    assert draft.is_empty()
    draft.put(holder, name, "60")
    assert not draft.is_empty()


def test_a_link_from_before_cloths_were_apart_means_what_it_meant():
    draft = from_link(LINK)
    assert draft.cloths["main"] == {**CLOTHS["main"], "width": "75", "selvedge": "1"}
    assert draft.cloths["lining"] == CLOTHS["lining"]
    assert drafts.request_of(draft, ASKED, NEEDED) == drafts.request_of(typed(), ASKED, NEEDED)


def test_a_link_says_the_same_as_before_and_comes_back():
    assert sorted(as_link(typed()).split("&")) == sorted(LINK.split("&"))
    assert as_link(from_link(as_link(typed()))) == as_link(typed())


def test_a_draft_kept_before_cloths_were_apart_loses_nothing():
    assert drafts.from_plain(KEPT, ["hood"]).to_plain() == typed().to_plain()
    assert drafts.from_plain(typed().to_plain(), ["hood"]).to_plain() == typed().to_plain()


@pytest.mark.parametrize("damage", [
    {"garment": "ball gown"}, {"cloths": []}, {"cloths": {"main": "wool"}}, {"cloth": {"cloth_width": 3}},
    {"wardrobe": []}, {"measurements": {"head_girth": 56}}, {"name": 3},
])
def test_what_is_no_draft_of_ours_is_refused(damage):
    with pytest.raises(ValueError):
        drafts.from_plain({**KEPT, **damage}, ["hood"])


def test_the_request_holds_what_counts_in_a_draft():
    draft = typed()
    draft.put("measurements", "shoulder_girth", "103")
    request = drafts.request_of(draft, [*ASKED, "shoulder_girth"], NEEDED, "2026-11-25")
    assert request["cloths"] == {
        "main": {"width": "75", "nap": "yes", "price": "20", "selvedge": "1"},
        "lining": {"width": "60", "on_hand": "3 m", "piecing": "half"},
    }
    assert workbench.run(request)["ok"]


def test_what_the_cloths_are_called_and_look_like_goes_along_where_it_is_asked_for():
    request = drafts.with_names(drafts.request_of(typed(), ASKED, NEEDED), typed())
    assert {part: texts["name"] for part, texts in request["cloths"].items()} == {
        "main": "brown wool", "lining": "linen"}
    assert drafts.looks_of(typed()) == {"fibre": "wool", "weave": "", "colour": "madder"}
    assert drafts.period_of(typed())["year"] == "980"


@pytest.mark.parametrize("said, cloths_of_it", [
    ({}, {}),
    ({"cloth_colour": "madder", "cloth_lining_name": "linen"}, {}),
    ({"cloth_lining_width": "60"}, {"lining": {"width": "60"}}),
])
def test_a_cloth_of_which_nothing_counts_is_not_asked_about(said, cloths_of_it):
    draft = FormDraft("hood")
    for field, text in said.items():
        draft.put("cloth", field, text)
    assert drafts.request_of(draft, ASKED, NEEDED)["cloths"] == cloths_of_it


def test_the_main_cloth_has_a_name_even_when_nothing_else_is_said_of_it():
    draft = FormDraft("hood")
    draft.put("cloth", "cloth_name", "brown wool")
    request = drafts.with_names(drafts.request_of(draft, ASKED, NEEDED), draft)
    assert request["cloths"] == {"main": {"name": "brown wool"}}


def test_without_measurements_the_example_is_drawn():
    draft = FormDraft("hood", "in")
    assert draft.is_example(ASKED)
    request = drafts.request_of(draft, ASKED, NEEDED)
    assert request["measurements"] == {"head_girth": EXAMPLE_MEASUREMENTS["in"]["head_girth"]}


def test_what_the_form_does_not_show_waits():
    draft = typed()
    draft.put("measurements", "bust_girth", "92")
    assert draft.typed(ASKED) == KEPT["measurements"]


def test_another_unit_keeps_the_meaning_of_every_bare_length():
    draft = typed()
    draft.put("cloth", "cloth_lining_selvedge", "1")
    draft.switch_unit("in", LENGTHS)
    assert draft.measurements == {"head_girth": "56 cm", "stature": "5'6\""}
    assert draft.options["tail_length"] == "60 cm"
    assert draft.cloths["main"] == {**CLOTHS["main"], "width": "75 cm", "selvedge": "1 cm"}
    assert draft.cloths["lining"] == {**CLOTHS["lining"], "width": "60 cm", "selvedge": "1 cm"}
    draft.switch_unit("cm", LENGTHS)
    assert draft.cloths == {**CLOTHS, "lining": {**CLOTHS["lining"], "selvedge": "1"}}


def test_a_link_in_a_unit_that_is_not_known_says_so():
    read, _ = read_link("hood&v=2&unit=ell&head_girth=56&end", ASKED, list(LENGTHS))
    draft, said = drafts.from_link(read, LENGTHS)
    assert draft.unit == "cm" and "“ell”" in said[0]


def test_a_size_s_start_value_counts_as_one_until_it_is_typed_over():
    draft = typed()
    draft.start = {"head_girth": "56"}
    assert drafts.request_of(draft, ASKED, NEEDED)["start"] == ["head_girth"]
    draft.put("measurements", "head_girth", "57")
    assert drafts.request_of(draft, ASKED, NEEDED)["start"] == []


def test_what_stands_grey_in_a_cloths_fields_is_what_counts_there_in_the_unit_of_the_tape():
    """source: the cloth that is read where nothing is typed."""
    for field, by_unit in cloths.GREY.items():
        part, name = cloths.part_and_name(field)
        mm = getattr(read_cloth({}, "cm", part), name)
        for unit, text in by_unit.items():
            assert text == format_length(mm, unit).removesuffix(" " + unit), field
