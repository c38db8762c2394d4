"""The share link."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

import drafting.garments
from drafting.both.link import read_link, write_link
from drafting.both.migrations import drafted_before

MEASURES = {"bust_girth", "waist_girth", "torso_length"}
GARMENTS = {"apron-dress"}
DRAFT = {
    "garment": "apron-dress",
    "measurements": {"bust_girth": "92cm", "waist_girth": "78cm", "torso_length": "38cm"},
    "options": {"length": "115cm", "hem_girth": "240cm"},
    "unit": "cm",
}


def test_a_link_can_be_read_by_people():
    assert write_link(DRAFT) == (
        "apron-dress&v=3&unit=cm&bust_girth=92cm&waist_girth=78cm&torso_length=38cm"
        "&length=115cm&hem_girth=240cm&end"
    )


def test_a_link_of_the_first_version_keeps_its_bust_girth_for_the_girth_under_the_arms():
    old = "#apron-dress&v=1&unit=cm&bust_girth=92cm&waist_girth=78cm&end"
    read, sentences = read_link(old, MEASURES | {"upper_chest_girth"}, GARMENTS)
    assert read["measurements"] == {"upper_chest_girth": "92cm", "waist_girth": "78cm"}
    assert sentences == []


@pytest.mark.parametrize(("link", "options", "changed"), [
    ("cloak&v=2&neck_length=56cm&end", {"shape": "half-circle", "neck_length": "56cm"}, True),
    ("cloak&v=1&shape=rectangle&end", {"shape": "rectangle", "fold_over": "0"}, False),
    ("hood&v=2&gore_shape=square&end", {"gore_shape": "square", "over": "skin"}, False),
    ("wrap-coat&v=2&end", {"overlap": "130 mm"}, False),
    ("apron-dress&v=2&style=pleated&end",
     {"style": "pleated", "pleat_count": "6", "pleat_depth": "11 mm"}, False),
    ("apron-dress&v=2&end", {}, False),
    ("cloak&v=3&end", {}, False),
    ("cloak&end", {}, False),
])
def test_a_link_of_an_earlier_version_keeps_what_was_proposed_then(link, options, changed):
    """Or says in a sentence what changed: a circular cloak's neck is scooped now."""
    read, sentences = read_link(link, MEASURES, list(drafting.garments.GARMENTS), drafted_before)
    assert read["options"] == options
    assert any("clasp" in sentence for sentence in sentences) == changed and len(sentences) == changed
    kind = drafting.garments.GARMENTS[read["garment"]]
    assert all(kind.option(name).read(text, "cm") for name, text in options.items() if text != "0")


def test_a_link_typed_by_hand_needs_neither_version_nor_end():
    draft, sentences = read_link("#apron-dress&bust_girth=92cm&length=1,15 m", MEASURES, GARMENTS)
    assert draft["measurements"] == {"bust_girth": "92cm"}
    assert draft["options"] == {"length": "1,15 m"}
    assert sentences == []


texts = st.text(min_size=1, max_size=20).map(str.strip).filter(bool)


@given(st.dictionaries(st.sampled_from(sorted(MEASURES)), texts), texts)
def test_whatever_was_typed_comes_back_from_the_link(measurements, name):
    draft = {"garment": "apron-dress", "measurements": measurements, "options": {}, "name": name}
    read, sentences = read_link("#" + write_link(draft), MEASURES, GARMENTS)
    assert (read, sentences) == (draft, [])


@pytest.mark.parametrize("cut", range(1, len(write_link(DRAFT))))
def test_a_link_cut_anywhere_is_noticed_and_keeps_what_arrived(cut):
    read, sentences = read_link(write_link(DRAFT)[:cut], MEASURES, GARMENTS)
    if read is None:
        assert sentences
    elif "&v=3&" in write_link(DRAFT)[:cut]:
        assert any("cut short" in sentence for sentence in sentences)
        for name, text in read["measurements"].items():
            assert DRAFT["measurements"][name].startswith(text)


def test_a_link_of_a_later_version_says_so_and_keeps_what_it_can():
    read, sentences = read_link("apron-dress&v=7&bust_girth=92cm&seam_map=x&end", MEASURES, GARMENTS)
    assert read["measurements"] == {"bust_girth": "92cm"}
    assert "another version" in sentences[0]


def test_a_link_for_an_unknown_garment_is_told_what_to_do():
    read, sentences = read_link("#space-suit&v=2&end", MEASURES, GARMENTS)
    assert read is None and "space-suit" in sentences[0]


def test_a_link_of_a_hundred_kilobytes_is_refused_in_one_sentence():
    read, sentences = read_link("apron-dress&" + "x" * 100_000, MEASURES, GARMENTS)
    assert read is None and len(sentences) == 1 and len(sentences[0]) < 200


def test_a_cloth_rides_in_the_link_beside_the_options():
    draft = {**DRAFT, "cloth": {"cloth_width": "60cm", "cloth_nap": "yes"}}
    read, sentences = read_link(write_link(draft), MEASURES, GARMENTS)
    assert (read, sentences) == (draft, [])
