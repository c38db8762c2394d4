"""Whatever is typed: a sentence beside its field, the text kept, the last good pattern not current."""

import pytest
from visitor import MEASURED, Visitor

pytestmark = pytest.mark.browser

WATCH_THE_KEYS = """() => {
    window.at = [];
    document.getElementById("bust_girth").addEventListener("input", () => at.push(performance.now()));
}"""
PAUSE = 600
"""Milliseconds without typing that the page does not yet take for the end of it."""


@pytest.fixture(scope="module")
def drafted(profiles):
    """One visitor for all of these: each test types into the same good draft and puts it back."""
    someone = Visitor(profiles, profiles.site)
    someone.open()
    someone.type(**MEASURED, length="115", hem_girth="240")
    yield someone
    assert someone.errors == []
    someone.close()


@pytest.fixture
def visitor(drafted):
    yield drafted
    drafted.page.check('input[name="unit"][value="cm"]', force=True)
    drafted.type(**MEASURED, length="115", hem_girth="240")
    assert drafted.text("not-current") == ""
    assert "pass" in drafted.text("verdict")


def is_refused(visitor, name, text):
    """What was typed stands; a sentence is beside it; the last good drawing stays, marked."""
    assert visitor.typed(name) == text
    assert visitor.problem(name).endswith((".", "?"))
    assert "Traceback" not in visitor.problem(name)
    assert visitor.page.get_attribute(f"#{name}", "aria-invalid") == "true"
    described = visitor.page.get_attribute(f"#{name}", "aria-describedby").split()
    assert f"{name}-problem" in described
    assert visitor.text("not-current").startswith("Not current: ")
    assert len(visitor.drawing()) == 6
    return visitor.problem(name)


@pytest.mark.parametrize(
    "text",
    [
        "", "0", "-92", "nine", "1e9", "92..5", "9 2", "92 bananas", "85-95", "1,120,5", "1'0000",
        "92,500", "\N{SPOOL OF THREAD} 92", "<b>92</b>", "92; 78; 38", "92" * 200,
        "Bust 92\tWaist 78\tHip 99", "36/1/4", "NaN", "∞",
    ],
    ids=lambda text: text[:12] or "empty",
)  # fmt: skip
def test_what_is_no_length_is_explained_beside_its_field(visitor, text):
    before = visitor.drawing()
    visitor.type(waist_girth=text)
    is_refused(visitor, "waist_girth", text)
    assert visitor.drawing() == before
    assert not visitor.scrolls_sideways()


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("78,5", 785), ("78.5 cm", 785), ("785 mm", 785), ("36¼\"", 920.75), ("30 3/4 in", 781.05),
        (" 78\n", 780), ("0,78 m", 780), ("2 ft 7", 787.4), ("７８", 780),
    ],
)  # fmt: skip
def test_lengths_as_people_type_them_are_drafted_and_left_as_typed(visitor, text, mm):
    visitor.type(waist_girth=text)
    shown = text.replace("\n", "")  # a text field holds one line
    assert visitor.typed("waist_girth") == shown
    assert visitor.text("not-current") == ""
    assert visitor.page.get_attribute("#waist_girth", "aria-invalid") is None
    assert visitor.pattern()["measurements"]["waist_girth"] == pytest.approx(mm, abs=0.01)


def test_an_unlikely_measurement_is_drafted_with_a_word_beside_it(visitor):
    visitor.type(waist_girth="96")
    assert "more than bust girth" in visitor.problem("waist_girth")
    assert visitor.text("not-current") == ""
    assert visitor.page.get_attribute("#waist_girth", "aria-invalid") is None


def test_a_waist_far_larger_than_the_bust_is_questioned(visitor):
    visitor.type(waist_girth="150")
    said = is_refused(visitor, "waist_girth", "150")
    assert "150 cm" in said


def test_a_torso_longer_than_the_dress_names_both_fields(visitor):
    visitor.type(length="35")
    said = is_refused(visitor, "length", "35")
    assert "35 cm" in said and "38 cm" in said
    assert visitor.page.get_attribute("#torso_length", "aria-invalid") == "true"
    assert visitor.problem("torso_length") == ""


def test_a_fault_in_a_folded_group_unfolds_it(visitor):
    visitor.page.evaluate("document.getElementById('group-allowances').open = true")
    visitor.page.fill("#seam_allowance", "900")
    visitor.page.evaluate("document.getElementById('group-allowances').open = false")
    visitor.settle()
    assert visitor.problem("seam_allowance") != ""
    visitor.page.click("#show-me")
    assert visitor.page.evaluate("document.activeElement.id") == "seam_allowance"
    visitor.type(seam_allowance="")


def test_several_faults_are_all_said_at_once(visitor):
    visitor.type(settled=False, bust_girth="x", waist_girth="y")
    visitor.settle()
    assert "x" in visitor.problem("bust_girth") and "y" in visitor.problem("waist_girth")
    assert "2 to put right" in visitor.text("status")


def test_a_half_typed_number_is_not_called_wrong_while_typing_goes_on(visitor):
    page = visitor.page
    page.evaluate(WATCH_THE_KEYS)
    for _ in range(20):
        page.focus("#bust_girth")
        page.fill("#bust_girth", "")
        page.keyboard.type("92", delay=350)
        seen = page.evaluate("document.getElementById('bust_girth-problem').textContent")
        if page.evaluate("at.at(-1) - at.at(-2)") < PAUSE:
            break
    else:
        pytest.fail("this machine is too slow to type like a hand")
    assert seen == "", "9 cm was on its way to 92"
    visitor.settle()
    assert visitor.text("not-current") == ""


def test_the_keyboard_hides_neither_the_field_nor_what_is_said_beneath_it(visitor):
    """common practice, no source: a phone's keyboard takes some 300 px of its screen."""
    page, screen = visitor.page, visitor.page.viewport_size
    visitor.go("wearer")
    page.evaluate("document.querySelector('#field-waist_girth').scrollIntoView({ block: 'end' })")
    page.focus("#waist_girth")
    page.set_viewport_size({"width": screen["width"], "height": screen["height"] - 300})
    for text in ("78", "a good deal wider than anything that a tape could tell of anyone at all"):
        visitor.type(waist_girth=text)
        page.focus("#waist_girth")
        visitor.stands_still()
        top, bottom, bar = page.evaluate("""[
            document.getElementById("waist_girth").getBoundingClientRect().top,
            document.getElementById("field-waist_girth").getBoundingClientRect().bottom,
            document.getElementById("bar").getBoundingClientRect().top]""")
        assert top >= 0 and bottom <= bar, text
    page.set_viewport_size(screen)


def test_putting_it_right_makes_the_pattern_current_again(visitor):
    visitor.type(waist_girth="nine")
    assert visitor.text("not-current")
    visitor.type(waist_girth="79")
    assert visitor.text("not-current") == "" and visitor.problem("waist_girth") == ""
    assert visitor.page.get_attribute("#waist_girth", "aria-invalid") is None


def test_switching_the_unit_changes_no_length(visitor):
    before = visitor.pattern()["measurements"]
    visitor.pick("unit", "in")
    assert visitor.typed("bust_girth") == "92 cm"
    assert visitor.pattern()["measurements"] == before
    visitor.unfold("finished-part")
    assert " in" in visitor.text("finished") and " cm" not in visitor.text("finished")
    visitor.type(waist_girth="30 3/4")
    assert visitor.pattern()["measurements"]["waist_girth"] == pytest.approx(30.75 * 25.4)
    visitor.pick("unit", "cm")
    assert visitor.typed("bust_girth") == "92", "back as it was typed"
    assert visitor.typed("waist_girth") == "30 3/4 in"


@pytest.mark.parametrize("text", ["9 2", "nine", "1'200", "36¼", "5'4", "92.5 CM", "⅞"])
def test_switching_the_unit_and_back_keeps_every_text(visitor, text):
    visitor.type(waist_girth=text)
    visitor.pick("unit", "in")
    visitor.pick("unit", "cm")
    assert visitor.typed("waist_girth") == text


def test_garments_keep_their_own_options(visitor):
    visitor.pick("garment", "cloak")
    visitor.type(length="90")
    visitor.pick("garment", "apron-dress")
    assert visitor.typed("length") == "115"
    visitor.pick("garment", "cloak")
    assert visitor.typed("length") == "90"
    visitor.type(length="")
    visitor.pick("garment", "apron-dress")
