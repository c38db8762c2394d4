"""The page's parts that need no browser: the table at work, news, the catalogue, changes with a way back."""

import re
from pathlib import Path
from types import SimpleNamespace

import pytest

import changes
import example
import form
import kitbefore
import table
from catalogue import Catalogue
from draft import FormDraft
from drafting.garments import GARMENTS as GARMENTS_BY_NAME
from drafting.garments import read_options
from drafting.requests import workbench
from news import News
from tests.unit.test_kit_on_the_page import FIRST_RECORD, GARMENTS, LENGTHS
from tests.unit.test_options import states
from tests.wardrobe import body_for

SECTIONS = Path(__file__).parents[2] / "site" / "sections"


@pytest.fixture(scope="module")
def described():
    """As the build writes it, less what only the form draws."""
    told = workbench.run({"do": "describe"})
    return {**told, "measures": [{"name": name, **rest} for name, rest in told["measures"].items()]}


@pytest.fixture(scope="module")
def catalogue(described):
    return Catalogue(described)


# --- The form --------------------------------------------------------------------------------------


def test_every_option_says_beside_its_field_what_it_is_and_is_no_longer_than_is_read(described):
    """common practice, no source: one line or two of a phone's, which hold some 45 letters each."""
    for garment in described["garments"]:
        options = [{**option, "choices": list(option.get("choices", {}).items())}
                   for option in garment["options"]]
        shown = form.options_html({**garment, "options": options})
        for option in options:
            said = shown.split(f'id="{option["name"]}-how">')[1].split("</p>")[0]
            said = re.sub("<[^>]*>", "", said)
            assert said.endswith(".") and 10 <= len(said) <= 90, (garment["name"], option["name"], said)


def test_a_name_that_is_too_long_to_be_kept_cannot_be_typed():
    """source: WCAG 2.2, 3.3.1: what is wrong is told where it is typed; here it cannot be."""
    wearer = (SECTIONS / "wearer.html").read_text(encoding="utf-8")
    longest = int(re.search(r'<input id="name"[^>]*maxlength="(\d+)"', wearer).group(1))
    kept = {"name": "a" * longest, "unit": "cm", "measured": "", "sex": "", "born": "", "measurements": {}}
    assert workbench.run({"do": "write-wearer", "wearer": kept})["ok"]
    assert not workbench.run({"do": "write-wearer", "wearer": {**kept, "name": "a" * (longest + 1)}})["ok"]


# --- News ----------------------------------------------------------------------------------------


def test_those_who_listen_hear_in_turn_and_nobody_else():
    news, heard = News(), []
    news.hear("drawn", lambda result: heard.append(("first", result)))
    news.hear("drawn", lambda result: heard.append(("second", result)))
    news.hear("saved", lambda: heard.append("saved"))
    news.tell("drawn", 3)
    news.tell("nobody listens to this")
    assert heard == [("first", 3), ("second", 3)]


# --- The table -----------------------------------------------------------------------------------


class Element:
    """A button or field, as far as the table looks at one."""

    def __init__(self, *selectors, do=None):
        self._selectors, self._do = selectors, do

    def matches(self, selector):
        return selector in self._selectors

    def closest(self, selector):
        assert selector == "[data-do]"
        return self if self._do is not None else None

    def getAttribute(self, name):
        assert name == "data-do"
        return self._do


class Section:
    def __init__(self):
        self.done = []

    def answers(self):
        return {"zoom": lambda how, button: self.done.append((how, button)), "wait": lambda *_: self.wait()}

    def on_change(self):
        return (("#size", self.done.append), ("[name]", self.done.append))

    async def wait(self):
        self.done.append("waited")


def event(kind, element):
    made = SimpleNamespace(type=kind, target=element, prevented=False)
    made.preventDefault = lambda: setattr(made, "prevented", True)
    return made


def test_a_tap_is_answered_with_what_it_says_and_where_it_was():
    section, button = Section(), Element(do="zoom:in")
    tap = event("click", button)
    table.Answers([section]).tapped(tap)
    assert section.done == [("in", button)] and tap.prevented


def test_a_tap_on_nothing_does_nothing():
    section, tap = Section(), event("click", Element())
    table.Answers([section]).tapped(tap)
    assert section.done == [] and not tap.prevented


def test_a_tap_that_nothing_answers_is_a_fault_once_all_sections_are_here():
    answers = table.Answers([Section()])
    answers.take_in([], [])
    with pytest.raises(KeyError):
        answers.tapped(event("click", Element(do="embroider")))


def test_what_takes_time_is_set_going(monkeypatch):
    going = []
    monkeypatch.setattr(table.asyncio, "create_task", going.append)
    section = Section()
    table.Answers([section]).tapped(event("click", Element(do="wait")))
    assert section.done == []
    with pytest.raises(StopIteration):
        going[0].send(None)
    assert section.done == ["waited"]


def test_all_that_an_element_is_react_to_it():
    section = Section()
    box = Element("#size", "[name]")
    table.Answers([section]).happened(event("change", box))
    table.Answers([section]).happened(event("input", box))
    assert section.done == [box, box]


# --- The catalogue -------------------------------------------------------------------------------


def test_the_catalogue_knows_what_a_garment_asks_for(catalogue, described):
    hood = next(g for g in described["garments"] if g["name"] == "hood")
    asked, needed = catalogue.wanted("hood")
    assert sorted(needed) == sorted(hood["needs"]) and sorted(asked) == sorted(hood["needs"] + hood["uses"])
    assert catalogue.garments[0] == described["garments"][0]["name"]
    assert "tail_length" in catalogue.lengths["hood"] and "gores" not in catalogue.lengths["hood"]


def test_what_the_catalogue_does_not_know_keeps_its_name(catalogue):
    assert catalogue.title("hood") == "Hood" and catalogue.title("ball gown") == "ball gown"
    assert catalogue.label("bust_girth", "hood") and catalogue.label("gores", "hood")
    assert catalogue.label("cloth_width", "hood") == ""
    assert catalogue.size("no such size") is None


def test_a_size_gives_start_values_in_both_units(catalogue, described):
    values = catalogue.size(described["sizes"][0]["name"])
    assert set(values) == {"cm", "in"} and values["cm"].keys() == values["in"].keys()


# --- The example ---------------------------------------------------------------------------------


def test_the_example_s_tape_reads_the_same_on_both_sides():
    """source: 1 in = 25.4 mm; a tape is read to a quarter of an inch"""
    cm, inches = example.EXAMPLE_MEASUREMENTS["cm"], example.EXAMPLE_MEASUREMENTS["in"]
    assert cm.keys() == inches.keys()
    for name, text in cm.items():
        whole, _, part = inches[name].partition(" ")
        over, _, under = part.partition("/")
        read = int(whole) + (int(over) / int(under) if part else 0)
        assert abs(read - float(text) / 2.54) <= 0.13, name


def test_the_example_is_measured_for_every_garment(catalogue):
    for garment in catalogue.garments:
        needed = catalogue.wanted(garment)[1]
        assert set(needed) <= example.EXAMPLE_MEASUREMENTS["cm"].keys(), garment


# --- Changes -------------------------------------------------------------------------------------


class Session:
    """As far as changes go: the draft, and what is offered to undo."""

    def __init__(self):
        self.draft, self.own, self.touched = FormDraft("hood"), None, {"length"}
        self.offered, self.drawn = [], 0
        self.undo = SimpleNamespace(offer=lambda text, undo: self.offered.append((text, undo)))

    def changed(self):
        self.drawn += 1

    refill = changed

    def show(self, draft, own=None):
        self.draft, self.own = draft, own
        self.changed()

    def pick_kind(self, kind):
        self.draft.garment = kind
        self.changed()


class Place:
    def __init__(self, **attributes):
        self._attributes = attributes

    def getAttribute(self, name):
        return self._attributes[name.removeprefix("data-")]

    def focus(self):
        pass


@pytest.fixture
def session(monkeypatch):
    monkeypatch.setattr(changes, "by_id", lambda name: Place())
    return Session()


def tap(session, what, **attributes):
    fields = SimpleNamespace(label=lambda name: "Label", asked=["head_girth"],
                             impression=SimpleNamespace(fill=lambda draft: None))
    changes.Changes(session, fields).answers()[what]("", Place(**attributes))


@pytest.mark.parametrize("what, attributes, holder, name", [
    ("remedy", {"option": "tail_length", "value": "30"}, "options", "tail_length"),
    ("remedy", {"option": "cloth_lining_width", "value": "30"}, "cloth", "cloth_lining_width"),
    ("instead", {"field": "colour", "value": "30"}, "cloth", "cloth_colour"),
    ("instead", {"field": "options.front", "value": "30"}, "options", "front"),
    ("instead", {"field": "rank", "value": "30"}, "impression", "rank"),
])
@pytest.mark.parametrize("before", ["", "20"])
def test_an_offer_that_is_taken_can_be_taken_back(session, what, attributes, holder, name, before):
    session.draft.put(holder, name, before)
    tap(session, what, **attributes)
    assert session.draft.get(holder, name) == "30" and session.drawn == 1
    ((said, undo),) = session.offered
    undo()
    assert said == "Label changed." and session.draft.get(holder, name) == before and session.drawn == 2


def test_another_garment_instead_can_be_taken_back(session):
    tap(session, "instead", field="garment", value="tunic")
    assert session.draft.garment == "tunic"
    session.offered[0][1]()
    assert session.draft.garment == "hood"


@pytest.mark.parametrize("holder, name", [
    ("options", "no_such_option"), ("measurements", "no_such_measure"), ("cloth", "cloth_lining_beads"),
])
def test_what_the_page_has_no_field_for_can_be_left_out(session, holder, name):
    session.draft.put(holder, name, "3")
    tap(session, "leave-out", field=name)
    assert session.draft.get(holder, name) == ""
    session.offered[0][1]()
    assert session.draft.get(holder, name) == "3"


def test_starting_afresh_keeps_what_is_the_whole_kit_s_and_comes_back(session):
    before = session.draft
    for holder, name in (("measurements", "head_girth"), ("cloth", "cloth_width"), ("impression", "year")):
        before.put(holder, name, "56")
    before.paper = "A3"
    tap(session, "afresh")
    fresh = session.draft
    assert not fresh.measurements and not any(fresh.cloths.values())
    assert (fresh.garment, fresh.paper, fresh.impression) == ("hood", "A3", {"year": "56"})
    assert session.touched == set()
    session.offered[0][1]()
    assert session.draft is before


# --- What earlier visits kept --------------------------------------------------------------------


@pytest.mark.parametrize("damage", [
    {"draft": {"garment": "ball gown"}}, {"draft": None}, {"wearers": ["Ebba"]},
])
def test_a_record_of_one_draft_that_is_damaged_is_refused(damage):
    with pytest.raises(ValueError):
        kitbefore.from_version_1({**FIRST_RECORD, **damage}, GARMENTS, LENGTHS)


# --- Options that do not matter ------------------------------------------------------------------


def test_the_page_offers_just_those_options_that_the_draft_says_matter(described):
    """source: Options.matters, over every choice of what an option depends on."""
    for name, garment in GARMENTS_BY_NAME.items():
        body, shown = body_for(garment), form.garment_named(described, name)
        for option in garment.options:
            for texts in [{}, *states(garment, option)] if option.when else [{}]:
                matters = read_options(garment, texts, body).matters(option.name)
                on_page = form.matters(shown, form.option_named(shown, option.name), texts)
                assert on_page == matters, (name, option.name, texts)
