"""Several wearers on one device, their files, how a child grows, and start values."""

import json
from pathlib import Path

import pytest
from visitor import DESKTOP, MEASURED, PHONE, Visitor

pytestmark = pytest.mark.browser

EBBA = {"bust_girth": "63", "waist_girth": "57", "torso_length": "26"}
"""An invented child of Marram Farm."""


class Host(Visitor):
    """A visitor who measures more than one volunteer."""

    def wearer(self, what):
        self.page.evaluate("document.getElementById('more-wearers').open = true")
        self.page.click(f'[data-do="wearer:{what}"]')
        self.settle()

    def names(self):
        return [option.inner_text() for option in self.page.locator("#wearer-list option").all()]

    def switch(self, name):
        self.page.select_option("#wearer-list", label=name)
        self.settle()

    def saved(self) -> str:
        with self.page.expect_download() as caught:
            self.wearer("save")
        return Path(caught.value.path()).read_text(encoding="utf-8")

    def open_wearer(self, text):
        self.page.evaluate("document.getElementById('more-wearers').open = true")
        self.choose_file("#wearer-file", "wearer-said", text)
        self.settle()

    def measured(self):
        return {name: self.typed(name) for name in MEASURED}

    def said(self):
        return self.text("wearer-said")

    def pick_size(self, label):
        self.page.select_option("#size", label=label)
        self.settle()

    def be_a_child(self, months="96"):
        self.show("age_months")
        self.page.select_option("#age_months", months)
        self.type(stature="128", **EBBA)


@pytest.fixture
def phone(profiles):
    someone = Host(profiles, profiles.site, PHONE)
    yield someone
    assert someone.errors == []
    assert not someone.scrolls_sideways()
    someone.close()


@pytest.fixture
def another(profiles):
    someone = Host(profiles, profiles.site, DESKTOP)
    yield someone
    assert someone.errors == []
    someone.close()


def two(phone):
    phone.open()
    phone.type(name="Hild", **MEASURED, length="115")
    phone.wearer("another")
    phone.type(name="Ebba", **EBBA)


def test_a_new_visitor_sees_no_list_of_wearers(phone):
    phone.open()
    assert not phone.page.is_visible("#wearer-switch")
    assert not phone.page.is_visible("#wearer-delete")
    assert not phone.page.is_visible("[data-do='wearer:another']")


def test_each_wearer_has_measurements_and_all_share_the_garment(phone):
    two(phone)
    assert phone.typed("length") == "115"
    assert phone.measured() == EBBA
    phone.switch("Hild")
    assert phone.measured() == MEASURED and phone.typed("name") == "Hild"
    assert phone.typed("length") == "115"
    assert phone.pattern()["measurements"]["bust_girth"] == 920
    phone.switch("Ebba")
    assert phone.pattern()["measurements"]["bust_girth"] == 630


def test_wearers_survive_a_reload(phone):
    two(phone)
    phone.reload()
    assert phone.names() == ["Ebba", "Hild"]
    assert phone.measured() == EBBA
    phone.switch("Hild")
    phone.reload()
    assert phone.measured() == MEASURED
    assert phone.names() == ["Ebba", "Hild"]


def test_a_wearer_keeps_the_unit_of_their_tape_and_the_garments_lengths_their_meaning(phone):
    two(phone)
    phone.pick("unit", "in")
    phone.type(bust_girth="25")
    assert phone.typed("length") == "115 cm"
    phone.switch("Hild")
    assert phone.page.is_checked("input[name=unit][value=cm]")
    assert phone.measured() == MEASURED and phone.typed("length") == "115"
    phone.switch("Ebba")
    assert phone.typed("bust_girth") == "25" and phone.page.is_checked("input[name=unit][value=in]")
    assert phone.pattern()["measurements"]["bust_girth"] == 635


def test_a_deleted_wearer_can_be_brought_back(phone):
    two(phone)
    phone.wearer("delete")
    assert phone.measured() == MEASURED
    assert not phone.page.is_visible("#wearer-switch")
    phone.page.click("[data-do=undo]")
    phone.settle()
    assert phone.measured() == EBBA
    assert phone.names() == ["Ebba", "Hild"]


def test_the_day_of_measuring_is_today_when_nothing_else_is_said(phone):
    phone.open()
    phone.type(**MEASURED)
    today = phone.page.evaluate("new Date().toLocaleDateString('sv')")
    assert phone.typed("measured") == today


def test_a_wearers_file_brings_the_same_measurements_to_a_fresh_profile(phone, another):
    phone.open()
    phone.type(name="Þóra Ása", bust_girth="36 1/4 in", waist_girth="78,5", torso_length="38")
    phone.pick("sex", "woman")
    text = phone.saved()
    assert json.loads(text)["measurements"]["bust_girth"] == "36 1/4 in"
    another.open()
    another.open_wearer(text)
    assert another.said() == "The file is read: Þóra Ása is filled in."
    assert another.typed("name") == "Þóra Ása"
    assert another.measured() == phone.measured()
    assert another.page.is_checked("input[name=sex][value=woman]")
    assert another.typed("measured") == phone.typed("measured")
    assert another.pattern()["measurements"] == phone.pattern()["measurements"]
    assert another.saved() == text


def test_an_age_travels_in_the_file(phone, another):
    phone.open()
    phone.type(name="Ebba")
    phone.be_a_child()
    text = phone.saved()
    another.open()
    another.open_wearer(text)
    assert another.typed("age_months") == "96"


def test_an_opened_wearer_writes_over_nobody_and_can_be_undone(phone):
    phone.open()
    phone.type(name="Hild", **MEASURED)
    text = phone.saved().replace('"92"', '"104"')
    phone.open_wearer(text)
    assert phone.typed("bust_girth") == "104"
    assert phone.names() == ["Hild (1)", "Hild (2)"]
    phone.page.click("[data-do=undo]")
    phone.settle()
    assert phone.measured() == MEASURED
    assert not phone.page.is_visible("#wearer-switch")


def test_a_wearer_without_a_name_is_asked_for_it_before_saving(phone):
    phone.open()
    phone.type(**MEASURED)
    phone.wearer("save")
    phone.page.wait_for_function("document.getElementById('wearer-said').textContent")
    assert "needs a name" in phone.said()


@pytest.fixture(scope="module")
def hild(profiles):
    """With Hild on the page, whom no file that is none may change."""
    someone = Host(profiles, profiles.site, PHONE)
    someone.open()
    someone.type(name="Hild", **MEASURED)
    yield someone
    assert someone.errors == []
    someone.close()


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ('{"format": "ellwand-wearer", "version": 1, "na', "cut off"),
        ('{"format": "ellwand-wearer", "version": 7, "name": "Ása"}', "later Ellwand"),
        ('{"shopping": ["bread"]}', "not a wearer"),
        (b"\x89PNG\r\n\x1a\n\x00\xff\xfe", "does not read"),
        ("[" * 15_000, "does not read"),
        ("x" * 1_000_001, "too large"),
        ("", "does not read"),
    ],
    ids=["truncated", "later", "not ours", "picture", "nested", "large", "empty"],
)
def test_a_bad_file_gets_a_sentence_and_changes_nothing(hild, text, says):
    hild.open_wearer(text)
    assert says in hild.said()
    assert hild.measured() == MEASURED and hild.typed("name") == "Hild"
    assert not hild.page.is_visible("#wearer-switch")
    assert not hild.scrolls_sideways()


def test_a_script_in_a_name_is_shown_and_never_run(phone):
    name = "<img src=x onerror=\"window.ran='yes'\"><script>window.ran='yes'</script>"
    phone.open()
    phone.type(name="Hild", **MEASURED)
    phone.open_wearer(json.dumps({"format": "ellwand-wearer", "version": 1, "name": name}))
    assert phone.typed("name") == name
    assert phone.names() == [name, "Hild"]
    phone.switch("Hild")
    phone.stands_still()
    assert phone.page.evaluate("window.ran") is None


def test_a_child_is_told_how_long_it_will_fit(phone):
    phone.open()
    phone.type(**MEASURED)
    assert phone.text("growth-part") == ""
    phone.be_a_child()
    told = phone.text("growth")
    assert "CDC 2000" in told and "This garment fits until about 20" not in told
    assert "This garment fits until about" in told
    before = told
    phone.type(growth_tuck="5")
    assert phone.text("growth") != before and "10 cm of the growth tuck" in phone.text("growth")


def test_a_date_of_birth_gives_the_age(phone):
    phone.open()
    phone.type(stature="128", **EBBA)
    phone.page.fill("#measured", "2026-07-10")
    phone.page.fill("#born", "2018-05-02")
    phone.page.locator("#born").dispatch_event("change")
    phone.settle()
    assert "8 years 2 months" in phone.text("age_months-hint")
    assert phone.page.is_disabled("#age_months")
    assert "This garment fits" in phone.text("growth")
    assert "age_months=98" in phone.link() and "2018" not in phone.link()
    phone.reload()
    assert phone.typed("born") == "2018-05-02"
    phone.page.fill("#born", "2027-05-02")
    phone.page.locator("#born").dispatch_event("change")
    phone.settle()
    assert "lies after" in phone.problem("born")


def test_start_values_are_marked_until_they_are_replaced_and_can_be_undone(phone):
    phone.open()
    phone.pick_size("Woman, bust 96 cm")
    assert phone.typed("bust_girth") == "96"
    assert "start value" in phone.text("bust_girth-hint")
    phone.unfold("notes-part")
    assert "start values" in phone.text("notes")
    phone.type(bust_girth="98")
    assert phone.text("bust_girth-hint") == ""
    assert "start value" in phone.text("waist_girth-hint")
    phone.reload()
    assert "start value" in phone.text("waist_girth-hint")
    phone.type(bust_girth="", settled=False)
    for name in ("waist_girth", "torso_length"):
        phone.type(**{name: MEASURED[name]}, settled=False)
    phone.type(bust_girth="92")
    assert "start values" not in phone.text("notes") or "Bust" not in phone.text("notes")


def test_undoing_start_values_keeps_what_was_typed_since(phone):
    phone.open()
    phone.pick_size("Man, chest 100 cm")
    phone.type(waist_girth="91")
    phone.page.click("[data-do=undo]")
    phone.settle()
    assert phone.typed("waist_girth") == "91"
    assert phone.typed("bust_girth") == ""


def test_with_storage_forbidden_wearers_still_work_for_the_visit(profiles):
    someone = Host(profiles, profiles.site, PHONE)
    someone.runs_first(
        "Object.defineProperty(window, 'localStorage', {get() { throw new Error('no'); }})"
    )
    two(someone)
    someone.switch("Hild")
    assert someone.measured() == MEASURED
    someone.switch("Ebba")
    assert someone.measured() == EBBA
    assert someone.errors == []
    someone.close()
