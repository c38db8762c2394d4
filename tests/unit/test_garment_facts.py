"""What others know of a garment they read from what it declares: no list of garments stands elsewhere."""

import ast
import contextlib
import re
from dataclasses import fields, replace
from pathlib import Path

import pytest

import drafting
from drafting.garments import GARMENTS, wardrobe
from drafting.garments.garment import Chosen, Garment
from drafting.garments.options import ChoiceOption
from drafting.garments.wearing import Wearing
from drafting.period.cautions_due import cautions_for
from drafting.period.choice import read_choice
from drafting.period.impression import Impression
from drafting.sewing.cloths import usual_cloths
from drafting.words import cautions as words
from drafting.words.problems import BadInput
from tests.wardrobe import draft

PACKAGE = Path(drafting.__file__).parent
SCARF = replace(
    GARMENTS["leg-wraps"], name="scarf", title="Scarf", worn_at="neck", usual_fibre="linen",
    usual_wearer="woman", held_by={}, instead=("cloak",),
)


def told(age, **more):
    choice = read_choice(Impression(garment="scarf", year="900", region="Norway", **more))
    return {caution.sentence for caution in cautions_for(choice, age_years=age)}


def test_a_new_garment_at_the_neck_of_a_small_child_gets_its_caution_with_nothing_else_edited(monkeypatch):
    monkeypatch.setitem(GARMENTS, "scarf", SCARF)
    assert words.CORDS in told(5) and words.CORDS_OLDER in told(9)
    assert not {words.CORDS, words.CORDS_OLDER} & told(30)
    assert words.CLOAK_CATCHES not in told(5)
    monkeypatch.setitem(GARMENTS, "scarf", replace(SCARF, worn_at="trunk"))
    assert words.CORDS not in told(5)


def test_what_it_is_held_by_how_long_it_is_and_of_what_cloth_are_cautioned_of(monkeypatch):
    shape = Chosen("shape", ("tapered",))
    facts = {"long": True, "held_by": {"pins": shape, "toggles": True, "winding": True}}
    monkeypatch.setitem(GARMENTS, "scarf", replace(SCARF, **facts))
    due = {words.LONG_HEM, words.PLANT_FIBRE_BURNS, words.WRAPS_TOO_TIGHT, words.TOGGLES, words.CLOAK_CATCHES}
    assert due <= told(5) and words.PINS not in told(5)
    assert words.PINS in told(5, options={"shape": "tapered"})


def test_its_usual_fibre_is_what_is_sewn(monkeypatch):
    monkeypatch.setitem(GARMENTS, "scarf", SCARF)
    pattern = replace(draft("leg-wraps"), garment="scarf")
    assert {cloth.fibre for cloth in usual_cloths(pattern).values()} == {"linen"}
    assert {cloth.fibre for cloth in usual_cloths(draft("leg-wraps")).values()} == {"wool"}


def test_a_fact_left_out_of_the_options_counts_as_their_default():
    assert GARMENTS["cloak"].is_held_by("pins", {})
    assert not GARMENTS["cloak"].is_held_by("pins", {"closure": "toggle"})
    assert GARMENTS["cloak"].is_held_by("toggles", {"closure": "toggle"})
    assert not GARMENTS["hood"].is_held_by("pins", {})


@pytest.mark.parametrize("fact", ["worn_at", "usual_fibre", "usual_wearer", "long", "held_by", "instead"])
def test_a_garment_cannot_be_made_without_its_facts(fact):
    said = {f.name: getattr(SCARF, f.name) for f in fields(Garment)}
    assert Garment(**said) == SCARF
    del said[fact]
    with pytest.raises(TypeError, match=fact):
        Garment(**said)


@pytest.mark.parametrize(("facts", "sentence"), [
    ({"worn_at": "nek"}, "Scarf, worn_at: “nek” is not one of head, neck, trunk, legs, hands."),
    ({"usual_fibre": "wol"}, "Scarf, usual_fibre: “wol” is not one of wool, linen."),
    ({"usual_wearer": None}, "Scarf, usual_wearer: “None” is not one of woman, man."),
    ({"long": "no"}, "Scarf, long: “no” is not one of True, False."),
    ({"estimated_as": "girl"}, "Scarf, estimated_as: “girl” is not one of woman, man."),
    ({"held_by": {"pin": True}}, "Scarf, held_by: “pin” is not one of pins, "),
    ({"held_by": {"pins": False}}, "Scarf, held_by pins: “False” is not one of True."),
    ({"held_by": {"pins": Chosen("clsure", ("pin",))}}, "“clsure” is not one of shape, ends"),
    ({"held_by": {"pins": Chosen("shape", ("taperd",))}}, "“taperd” is not one of straight, tapered"),
    ({"cuts_instead": {"shape=round": ("straight",)}}, "Scarf, shape: “round” is not one of straight"),
    ({"cuts_instead": {"shape=straight": ("round",)}}, "Scarf, shape: “round” is not one of straight"),
])
def test_a_fact_that_is_none_is_refused_with_a_sentence(facts, sentence):
    with pytest.raises(ValueError, match=re.escape(sentence)):
        replace(SCARF, **facts)


def test_what_would_do_instead_is_in_the_wardrobe():
    with pytest.raises(ValueError, match="Scarf, instead: there is no garment “cloak”"):
        wardrobe(SCARF)


# --- No list of garments elsewhere ----------------------------------------------------------------


def names_in(source):
    """Texts that are a garment's name or title, alone or before an option, as `cloak.shape=rectangle`."""
    known = {word.casefold() for g in GARMENTS.values() for word in (g.name, g.title)}
    return [
        node.value for node in ast.walk(ast.parse(source))
        if isinstance(node, ast.Constant) and isinstance(node.value, str)
        and re.sub(r"\.\w+=.*", "", node.value).casefold() in known
    ]


def test_garments_are_named_by_garments_data_and_the_demo_alone():
    # What an earlier version proposed for a garment is history, which no garment declares any more.
    may = {PACKAGE / "kit" / "marram_farm.py", PACKAGE / "both" / "migrations.py"}
    elsewhere = [
        path for path in PACKAGE.rglob("*.py") if path.parent != PACKAGE / "garments" and path not in may
    ]
    assert len(elsewhere) > 100
    assert {path.name: found for path in elsewhere if (found := names_in(path.read_text("utf-8")))} == {}


def test_a_list_of_garments_is_found():
    source = 'LONG = {"cloak", "Apron dress"}\nCUTS = {"cloak.shape=rectangle": 1}\nTOLD = "a cloak"'
    assert names_in(source) == ["cloak", "Apron dress", "cloak.shape=rectangle"]


PIECES_OF_LENGTHS = {"hood": {"tail_length": "50cm"}, "cloak": {"loom_width": "70cm"},
                     "leg-wraps": {"width": "50mm"}}
"""Lengths that make pieces of their own."""


@pytest.mark.parametrize("garment", [g for g in GARMENTS.values() if g.worn], ids=lambda g: g.name)
def test_what_is_said_of_how_it_is_worn_names_pieces_that_it_has(garment):
    choices = [{}, PIECES_OF_LENGTHS.get(garment.name, {}),
               *({option.name: choice} for option in garment.options
                 if isinstance(option, ChoiceOption) for choice in option.choices)]
    drawn = set()
    for chosen in choices:
        with contextlib.suppress(BadInput):
            drawn |= {piece.name for piece in draft(garment.name, chosen).pieces}
    assert set(garment.worn.lies) <= drawn
    for choice, shown in garment.worn.shown_as.items():
        name, _, value = choice.partition("=")
        assert {value, shown} <= set(garment.option(name).choices)


def test_where_a_piece_cannot_lie_is_told():
    with pytest.raises(ValueError, match="The piece “sleeve” lies: “nose” is not one of front"):
        Wearing(hangs_from="shoulders", lies={"sleeve": "nose"})
