"""The kit file, its merging and its links."""

import json
import random
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drafting.body import MEASURES
from drafting.body.wearer import Wearer
from drafting.kit import (
    Kit,
    KitCloth,
    KitGarment,
    KitWearer,
    is_kit,
    merge,
    pack,
    parts,
    read_kit,
    together,
    too_long,
    unpack,
    write_kit,
)
from drafting.kit.marram_farm import demo_kit
from drafting.kit.model import VERSION
from drafting.words.problems import BadInput

line = st.text(st.characters(categories=("L", "N", "P", "S", "Zs")), max_size=20).filter(str.isprintable)
name = line.map(str.strip).filter(bool)
wearers = st.builds(
    Wearer, name=name,
    measurements=st.dictionaries(st.sampled_from(sorted(MEASURES)), name, max_size=4),
    sex=st.sampled_from([None, "woman", "man"]),
)


@st.composite
def kits(draw) -> Kit:
    people = draw(st.lists(wearers, max_size=4))
    cloths = draw(st.lists(st.dictionaries(st.sampled_from(["name", "width", "price"]), line), max_size=3))
    chosen = draw(st.lists(st.tuples(
        st.integers(0, 99), st.integers(0, 99), st.sampled_from(["tunic", "hood"]),
        st.dictionaries(st.sampled_from(["length", "hem_girth"]), line, max_size=2),
        st.lists(line, max_size=3, unique=True), st.sampled_from([(), ("main",), ("main", "lining")]),
    ), max_size=5 if people else 0))
    return Kit(
        title=draw(line),
        wearers=tuple(KitWearer(f"w{i}", w) for i, w in enumerate(people)),
        cloths=tuple(KitCloth(f"c{i}", c) for i, c in enumerate(cloths)),
        garments=tuple(
            KitGarment(f"g{i}", f"w{who % len(people)}", garment, options,
                       {part: f"c{(cloth + n) % len(cloths)}" for n, part in enumerate(parts)}
                       if cloths else {}, tuple(done))
            for i, (who, cloth, garment, options, done, parts) in enumerate(chosen)
        ),
    )


@settings(max_examples=40, deadline=None)
@given(kits())
def test_a_kit_comes_back_from_its_file_and_its_link(kit):
    assert read_kit(write_kit(kit)) == kit
    assert unpack("#" + pack(kit, names=True)) == kit


@settings(max_examples=40, deadline=None)
@given(kits(), st.randoms(use_true_random=False))
def test_the_parts_of_a_kit_fit_together_in_any_order(kit, rng):
    pieces = parts(pack(kit, names=True))
    shuffled = [*pieces, pieces[0]]
    rng.shuffle(shuffled)
    assert together(shuffled) == kit


def test_a_kit_too_long_for_one_code_says_how_many_parts_are_there():
    kit = demo_kit()
    rng = random.Random(1)
    for i in range(40):
        kit = kit.with_wearer(Wearer(name="".join(rng.choices("abcdefghij", k=60)) + str(i)))
    pieces = parts(pack(kit, names=True))
    assert len(pieces) > 2 and all(is_kit(piece) and len(piece) < 1000 for piece in pieces)
    assert together(pieces[1:]) == (len(pieces) - 1, len(pieces))
    with pytest.raises(BadInput, match="different kits"):
        together([pieces[0], parts(pack(demo_kit(), names=True) + "A" * 900)[0]])


def test_names_stay_out_of_a_link_unless_they_are_chosen():
    shared = unpack(pack(demo_kit()))
    assert {w.wearer.name for w in shared.wearers} == {"wearer 1", "wearer 2", "wearer 3"}
    assert not too_long(pack(demo_kit()))


@settings(max_examples=40, deadline=None)
@given(kits(), kits())
def test_merging_drops_nothing(mine, theirs):
    merged = merge(mine, theirs).kit
    for kit in (mine, theirs):
        people = {w.id: w.wearer for w in kit.wearers}
        assert all(any(w.wearer == one for w in merged.wearers) for one in people.values())
        assert all(any(dict(m.texts) == dict(c.texts) for m in merged.cloths) for c in kit.cloths)
        for garment in kit.garments:
            assert any(
                merged.wearer(g.wearer) == people[garment.wearer]
                and (g.garment, dict(g.options)) == (garment.garment, dict(garment.options))
                and set(garment.done) <= set(g.done)
                for g in merged.garments
            )


@settings(max_examples=40, deadline=None)
@given(kits())
def test_merging_a_kit_with_itself_changes_nothing_but_doubles(kit):
    once = merge(kit, kit)
    assert once.conflicts == ()
    assert len(once.kit.wearers) <= len(kit.wearers) and len(once.kit.garments) <= len(kit.garments)


def test_the_same_name_measured_differently_is_shown_and_both_are_kept():
    mine = Kit(wearers=(KitWearer("w1", Wearer(name="Hild", measurements={"bust_girth": "92"})),))
    theirs = Kit(wearers=(KitWearer("w1", Wearer(name="Hild", measurements={"bust_girth": "96"})),))
    merged = merge(mine, theirs)
    assert len(merged.kit.wearers) == 2
    assert "Hild" in merged.conflicts[0]


def test_the_same_garment_made_differently_is_shown_and_both_are_kept():
    mine = demo_kit()
    longer = replace(mine.garments[2], options={"length": "110 cm"})
    merged = merge(mine, replace(mine, garments=(*mine.garments[:2], longer, *mine.garments[3:])))
    assert len(merged.kit.garments) == len(mine.garments) + 1
    (said,) = merged.conflicts
    assert "tunic" in said and mine.wearer("w2").name in said


FIRST_VERSION = {
    "format": "ellwand-kit", "version": 1, "title": "Marram Farm", "unit": "cm", "impression": {},
    "wearers": [{"id": "w1", "name": "Hild", "measurements": {"bust_girth": "92"}}],
    "cloths": [
        {"id": "c1", "name": "madder-red wool", "width": "150"},
        {"id": "c2", "width": "140", "lining_width": "90", "lining_on_hand": "3 m"},
    ],
    "garments": [
        {"id": "g1", "wearer": "w1", "garment": "hood", "cloth": "c1", "options": {}, "done": []},
        {"id": "g2", "wearer": "w1", "garment": "hood", "cloth": "c2", "options": {}, "done": ["a"]},
        {"id": "g3", "wearer": "w1", "garment": "cap", "cloth": None, "options": {}, "done": []},
        {"id": "g4", "wearer": "w1", "garment": "cap"},
    ],
    "house_rules": None,
}
"""As the first version wrote it: one cloth a garment, the lining's fields among those of that cloth."""


def test_a_kit_of_the_first_version_names_a_cloth_for_each_part():
    kit = read_kit(json.dumps(FIRST_VERSION))
    assert [dict(g.cloths) for g in kit.garments] == [
        {"main": "c1"}, {"main": "c2", "lining": "c3"}, {}, {}]
    assert [dict(c.texts) for c in kit.cloths] == [
        {"name": "madder-red wool", "width": "150"}, {"width": "140"},
        {"name": "lining", "width": "90", "on_hand": "3 m"},
    ]
    assert kit.garments[1].done == ("a",) and kit.garments[1].garment == "hood"
    assert read_kit(write_kit(kit)) == kit


@pytest.mark.parametrize("change", [
    {"cloths": 3}, {"cloths": [3]}, {"garments": "x"}, {"garments": [{"id": "g1", "cloth": 3}]},
    {"cloths": [{"id": [], "lining_width": "90"}]}, {"cloths": [{"lining_width": "90"}]},
    {"garments": [{"id": "g1", "wearer": "w1", "garment": "cap", "cloth": "c1", "cloths": {}}]},
])
def test_a_bad_kit_of_the_first_version_gets_one_clear_sentence(change):
    with pytest.raises(BadInput) as caught:
        read_kit(json.dumps({**FIRST_VERSION, **change}))
    assert len(caught.value.problems) == 1


SECOND_VERSION = {
    "format": "ellwand-kit", "version": 2, "title": "Marram Farm", "unit": "cm", "impression": {},
    "wearers": [
        {"id": "w1", "name": "Hild", "unit": "cm",
         "measurements": {"stature": "166", "bust_girth": "92", "hip_girth": "100"}},
        {"id": "w2", "name": "Wulf", "unit": "cm", "start": ["bust_girth"],
         "measurements": {"bust_girth": "104"}},
    ],
    "cloths": [], "garments": [
        {"id": "g1", "wearer": "w1", "garment": "tunic", "cloths": {}, "options": {}, "done": []}],
    "house_rules": None,
}
"""As the second version wrote it: the bust girth was taken under the arms."""


def test_a_kit_of_the_second_version_keeps_its_bust_girth_for_the_girth_under_the_arms():
    kit = read_kit(json.dumps(SECOND_VERSION))
    assert list(kit.wearer("w1").measurements.items()) == [
        ("stature", "166"), ("upper_chest_girth", "92"), ("hip_girth", "100")]
    assert dict(kit.wearer("w2").measurements) == {"bust_girth": "104"}, "a size's value was never taken"
    assert read_kit(write_kit(kit)) == kit


THIRD_VERSION = {
    "format": "ellwand-kit", "version": 3, "title": "Marram Farm", "unit": "cm", "impression": {},
    "wearers": [{"id": "w1", "name": "Hild", "unit": "cm", "measurements": {"stature": "166"}}],
    "cloths": [], "garments": [
        {"id": "g1", "wearer": "w1", "garment": "cloak", "cloths": {}, "options": {}, "done": []},
        {"id": "g2", "wearer": "w1", "garment": "cloak", "cloths": {}, "options": {"shape": "rectangle"},
         "done": ["a"]},
        {"id": "g3", "wearer": "w1", "garment": "hood", "options": {"gore_shape": "square", "over": "wool"}},
        {"id": "g4", "wearer": "w1", "garment": "wrap-coat", "options": {"length": "100"}},
        {"id": "g5", "wearer": "w1", "garment": "leg-wraps"},
        {"id": "g6", "wearer": "w1", "garment": "tunic", "options": {}}],
    "house_rules": None,
}
"""As the third version wrote it: a cloak was a half circle, a hood had wedges, a coat lapped by 13 cm."""


def test_a_kit_of_the_third_version_keeps_what_was_proposed_then():
    kit = read_kit(json.dumps(THIRD_VERSION))
    assert [dict(g.options) for g in kit.garments] == [
        {"shape": "half-circle"}, {"shape": "rectangle", "fold_over": "0"},
        {"gore_shape": "square", "over": "wool"}, {"overlap": "130 mm", "length": "100"},
        {"edges": "hemmed", "joins": "one"}, {}]
    assert kit.garments[1].done == ("a",)
    assert read_kit(write_kit(kit)) == kit


GOOD = json.loads(write_kit(demo_kit()))


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "cut off"),
        (write_kit(demo_kit())[:200], "cut off"),
        ("[]", "not a kit"),
        ('{"format": "ellwand-wearer", "version": 1}', "not a kit"),
        (json.dumps({**GOOD, "version": VERSION + 1}), "later Ellwand"),
        (json.dumps({**GOOD, "version": "1"}), "version"),
        (json.dumps({**GOOD, "colour": 1}), "colour"),
        (json.dumps({**GOOD, "wearers": {}}), "not a list"),
        (json.dumps({**GOOD, "wearers": [{"id": "../x", "name": "a"}]}), "letters and digits"),
        (json.dumps({**GOOD, "garments": [{**GOOD["garments"][0], "wearer": "w9"}]}), "not in it"),
        (json.dumps({**GOOD, "garments": [{**GOOD["garments"][0], "options": []}]}), "texts by name"),
        (json.dumps({**GOOD, "garments": [{**GOOD["garments"][0], "cloths": {"main": "c9"}}]}), "not in it"),
        (json.dumps({**GOOD, "garments": [{**GOOD["garments"][0], "cloth": "c1"}]}), "not known"),
        (json.dumps({**GOOD, "title": "x" * 5000}), "short line"),
        (json.dumps({**GOOD, "title": "a\u0000b"}), "short line"),
        ("[" * 100_000, "cut off"),
        ("x" * 5_000_000, "too large"),
    ],
)
def test_a_bad_kit_gets_one_clear_sentence(text, words):
    with pytest.raises(BadInput) as caught:
        read_kit(text)
    assert words in str(caught.value) and len(str(caught.value)) < 400


@pytest.mark.parametrize(
    "fragment",
    ["kit=", "kit=1", "kit=1.", "kit=1.!!!!", "kit=1.AAAA", "kit=x.AAAA", "kit=1.2of1.00.AA",
     pack(demo_kit())[:-20], "kit=1." + "A" * 50_000],
)
def test_a_bad_link_to_a_kit_gets_one_clear_sentence(fragment):
    with pytest.raises(BadInput) as caught:
        unpack(fragment)
    assert len(caught.value.problems) == 1


def test_a_link_of_a_later_version_says_so():
    with pytest.raises(BadInput, match="later Ellwand"):
        unpack("kit=2.AAAA")


def test_a_small_link_cannot_unpack_to_something_huge():
    import base64
    import zlib

    bomb = base64.urlsafe_b64encode(zlib.compress(b" " * 50_000_000, 9)).decode()
    with pytest.raises(BadInput):
        unpack("kit=1." + bomb)
