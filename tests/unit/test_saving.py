"""What would save cloth: every way is taken, and laid again, before it is believed."""

import re

import pytest

from drafting.desk.cutters_ways import WORTH_PIECING, WORTH_SAYING, Setting, changed_by
from drafting.desk.drafts import draft
from drafting.desk.lay_search import read_lay_search
from drafting.desk.lays import lay as lay_draft
from drafting.desk.less_cloth import LEAST_ROUNDS, ways_in_steps, ways_to_save
from drafting.desk.order import read_order
from drafting.kit.marram_farm import WULF
from drafting.requests import workbench
from tests.drafts import draft_of, drafted, request


def asked(cloth, **more):
    """Searched through to the last round that each trial gets, however slow the machine is."""
    return request(cloth=cloth, seconds=600, max_rounds=LEAST_ROUNDS, **more)


def search_of(asked):
    return read_lay_search(asked, ("main", "lining"))


def lay(asked, change=()):
    """The lays of a request, with a change made."""
    return lay_draft(draft(changed_by(read_order(asked), change)), search_of(asked))


def length(asked, change=()):
    return sum(bolt.cut_length for bolt in lay(asked, change))


def ways_of(asked):
    return ways_to_save(draft_of(asked), search_of(asked))


def fields(way):
    return {setting.field: setting.text("cm") for setting in way.change}


DRESS = asked({"width": "90cm"})
COAT = {
    "garment": "wrap-coat", "options": {"lining": "full"},
    "measurements": {"bust_girth": "96cm", "waist_girth": "80cm", "hip_girth": "104cm",
                     "arm_length": "56cm", "stature": "168cm"},
    "cloth": {"width": "70cm"}, "cloths": {"lining": {"width": "60cm"}},
    "seconds": 600, "max_rounds": LEAST_ROUNDS,
}


@pytest.fixture(scope="module")
def ways():
    return ways_of(DRESS)


@pytest.fixture(scope="module")
def before():
    return length(DRESS)


def test_every_way_can_be_taken_and_then_saves_what_it_says(ways, before):
    assert len(ways) >= 4
    for way in ways:
        after = length(DRESS, way.change)
        assert after == pytest.approx(way.length)
        assert after < (1 - WORTH_SAYING) * before
        assert f"⟨{after:.1f}⟩ instead of ⟨{before:.1f}⟩" in way.sentence
        assert way.change


def test_what_saves_on_a_lay_to_be_torn_is_compared_with_one_to_be_cut(monkeypatch):
    torn = {**asked({"width": "60cm"}), "tearable": True, "max_rounds": {"main": 1}}
    to_be_torn = length(torn)
    monkeypatch.setattr("drafting.desk.less_cloth.USUAL_SECONDS", 0.1)
    found = ways_of(torn)
    assert found
    for way in found:
        before = float(re.search(r"instead of ⟨([\d.]+)⟩", way.sentence)[1])
        assert before != pytest.approx(to_be_torn) and way.length < (1 - WORTH_SAYING) * before


def test_the_most_saving_way_comes_first(ways):
    assert [way.length for way in ways] == sorted(way.length for way in ways)


def test_a_seam_nobody_needs_is_offered_only_when_it_saves_a_tenth(ways, before):
    pieced = [way for way in ways if "cloth_piecing" in fields(way)]
    assert pieced
    for way in pieced:
        assert way.length < (1 - WORTH_PIECING) * before
        changed = draft(changed_by(read_order(DRESS), way.change))
        more = len(changed.pattern.seams) - len(draft_of(DRESS).pattern.seams)
        assert f"with {more} seams more" in way.sentence


def test_changes_are_offered_together_and_only_where_that_does_more(ways):
    together = [way for way in ways if len(way.change) > 1]
    assert together
    for way in together:
        for other in ways:
            if set(other.change) < set(way.change):
                assert way.length < other.length


def test_no_way_fails_a_check_that_passed():
    tight = asked({"width": "65cm"}, options={"hem_girth": "235cm"})
    assert draft_of(tight).passed
    found = ways_of(tight)
    assert any("hem_girth" in fields(way) for way in found)
    for way in found:
        assert draft(changed_by(read_order(tight), way.change)).passed
    # source: the draft's own check, room to stride: a fifth off that hem is too little
    narrower = changed_by(read_order(tight), (Setting("hem_girth", 1880.0),))
    assert not draft(narrower).passed


def test_with_too_little_on_hand_every_way_makes_it_fit():
    needed = length(asked({"width": "150cm"}))
    short = asked({"width": "150cm", "on_hand": f"{needed - 60:.0f} mm"})
    assert lay(short)[0].missing == pytest.approx(60, abs=1)
    found = ways_of(short)
    assert found
    for way in found:
        assert lay(short, way.change)[0].missing is None


def test_what_no_lay_could_do_is_not_tried():
    """source: plane arithmetic: the pieces' area over the width is more than the cloth on hand."""
    short = asked({"width": "150cm", "on_hand": "60 cm"})
    steps = list(ways_in_steps(draft_of(short), search_of(short)))
    assert {step.trying for step in steps} <= {""}
    assert ways_of(short) == ()


def test_a_nap_and_a_fold_are_given_up_in_their_own_ways():
    found = ways_of(asked({"width": "90cm", "nap": "yes", "folded": "yes"}))
    changed = {field for way in found for field in fields(way)}
    assert {"cloth_nap", "cloth_folded"} & changed
    for way in found:
        assert all(fields(way).get(field, "no") == "no" for field in ("cloth_nap", "cloth_folded"))


def test_both_cloths_of_a_lined_coat_are_compared():
    found = ways_of(COAT)
    assert found
    before = {bolt.part: bolt.cut_length for bolt in lay(COAT)}
    for way in found:
        after = {bolt.part: bolt.cut_length for bolt in lay(COAT, way.change)}
        assert min(after[part] / before[part] for part in before) < 1 - WORTH_SAYING
        assert max(after[part] / before[part] for part in before) < 1 + WORTH_SAYING
    assert {"cloth_lining_piecing"} in [set(fields(way)) for way in found] or all(
        lay(COAT, (Setting("piecing", part, "lining"),))[1].cut_length
        > (1 - WORTH_PIECING) * before["lining"] for part in ("two-thirds", "half"))


def test_ways_are_told_as_they_are_found_and_whoever_has_seen_enough_keeps_them():
    steps = workbench.save_in_steps({**DRESS, "do": "save"})
    step = next(steps)
    done = []
    while step.get("going_on") and not step["ways"]:
        done.append(step["done"])
        step = next(steps)
    assert step["going_on"] and done == sorted(done)
    end = steps.send(True)
    assert end == {"ok": True, "ways": step["ways"]}
    way = step["ways"][0]
    assert "⟨" not in way["sentence"] and set(way) == {"sentence", "change"}


def test_a_request_that_cannot_be_laid_says_so():
    (result,) = workbench.save_in_steps({**DRESS, "do": "save", "cloth": {"width": "wide"}})
    assert result["problems"][0]["field"] == "cloth_width"


def test_values_are_texts_under_the_readers_unit():
    inches = {**DRESS, "unit": "in"}
    told = [way["change"] for way in workbench.run({**inches, "do": "save"})["ways"]]
    narrower = [change["hem_girth"] for change in told if "hem_girth" in change]
    assert narrower
    for text in narrower:
        hem = drafted(options={"hem_girth": text}, unit="in").options["hem_girth"]
        assert 1900 < hem < 2200


NARROW = {
    "garment": "tunic", "measurements": dict(WULF.measurements), "options": {"hem_girth": "140cm"},
    "cloth": {"width": "60 cm"}, "seconds": 20, "max_rounds": {"main": 2},
}


def test_a_trial_that_cannot_be_drafted_is_no_trial():
    """A narrower hem leaves this tunic no gores: that costs the trial, not the draft nor the others."""
    narrower = {**NARROW, "options": {"hem_girth": "112cm"}}
    assert not workbench.run({"do": "draft", **narrower})["ok"]
    result = workbench.run({"do": "save", **NARROW})
    assert result["ok"] and result["ways"]
    assert "⟨" not in str(result) and "112 cm" not in str(result["ways"])


def test_no_length_is_shown_as_its_mark():
    for hem in ("90cm", "112cm", "120cm", "140cm"):
        for do in ("draft", "save", "lay"):
            asked = {**NARROW, "do": do, "options": {"hem_girth": hem}}
            assert "⟨" not in str(workbench.run(asked)), (do, hem)
