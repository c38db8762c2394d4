"""Options are read by names that are checked: a typing error is found at once."""

from dataclasses import replace
from itertools import product

import pytest

from drafting.garments import GARMENTS, ChoiceOption, CountOption, Garment, LengthOption, read_options
from drafting.garments.options import Chosen, Given, NoSuchOption, Options
from drafting.words.problems import BadInput
from tests.wardrobe import ASTA, TAM, body_for

DECLARED = (
    LengthOption("length", "Length", "", 400.0, 100, 1500),
    ChoiceOption("style", "Style", "", "plain", {"plain": "plain", "wrapped": "wrapped"}),
    CountOption("pleats", "Pleats", "", 6, 1, 40),
)


@pytest.fixture
def options() -> Options:
    return Options({o.name: o for o in DECLARED}, {"length": 400.0, "style": "plain", "pleats": 6})


def test_what_was_chosen_is_read_by_its_kind(options):
    assert options["length"] == 400 and options.count("pleats") == 6 and options.chosen("style") == "plain"
    assert options.is_("style", "plain") and not options.is_("style", "wrapped")
    assert options.pick("style", {"plain": 1, "wrapped": 2}) == 1
    wrapped = options.changed("style", "wrapped")
    assert wrapped.is_("style", "wrapped") and options.is_("style", "plain")


@pytest.mark.parametrize("slip, says", [
    (lambda o: o["lenght"], "There is no option “lenght”: there is length, style, pleats."),
    (lambda o: o.count("pleat"), "There is no option “pleat”"),
    (lambda o: o.is_("stile", "plain"), "There is no option “stile”"),
    (lambda o: o["style"], "style is a ChoiceOption, not a LengthOption."),
    (lambda o: o["pleats"], "pleats is a CountOption"),
    (lambda o: o.chosen("length"), "length is a LengthOption"),
    (lambda o: o.is_("style", "wraped"), "style has no choice “wraped”: there is plain, wrapped."),
    (lambda o: o.is_("style", "plain", "wraped"), "style has no choice “wraped”"),
    (lambda o: o.pick("style", {"plain": 1, "wraped": 2}), "style has no choice “wraped”"),
    (lambda o: o.pick("style", {"wrapped": 2}), "Nothing goes with style “plain”."),
    (lambda o: o.changed("lenght", 1.0), "There is no option “lenght”"),
    (lambda o: o.changed("style", "wraped"), "style has no choice “wraped”"),
])
def test_a_slip_is_told_at_once_whatever_was_chosen(options, slip, says):
    with pytest.raises(NoSuchOption) as found:
        slip(options)
    assert str(found.value).startswith(says)


def every_choice(garment: Garment):
    for option in garment.options:
        if isinstance(option, ChoiceOption):
            yield from ({option.name: choice} for choice in option.choices)


@pytest.mark.parametrize("name", GARMENTS)
def test_every_choice_is_drafted_or_refused_in_sentences(name):
    for values in (ASTA, TAM):
        body = body_for(GARMENTS[name], values)
        for texts in every_choice(GARMENTS[name]):
            try:
                made = GARMENTS[name].draft(body, read_options(GARMENTS[name], texts, body))
            except BadInput:
                continue
            assert texts.items() <= made.options.items()


# --- What does not matter ------------------------------------------------------------------------


def conditional():
    return [(name, option.name)
            for name, garment in GARMENTS.items() for option in garment.options if option.when]


def others(option, body):
    """Other texts than the option's own default."""
    if isinstance(option, ChoiceOption):
        return [choice for choice in option.choices if choice != option.default]
    if isinstance(option, CountOption):
        return [str(option.default + 1)]
    usual = option.default_for(body)
    lengths = (1.06 * usual + 13, 0.94 * usual, 70, 200, 700, 1500)
    return [f"{mm:.0f} mm" for mm in lengths if option.least <= mm <= option.most]


def states(garment, option):
    """Every way in which what it depends on can be chosen."""
    texts = [
        garment.option(when.option).choices if isinstance(when, Chosen) else ["0 mm", "100 mm"]
        for when in option.when
    ]
    for chosen in product(*texts):
        yield dict(zip([when.option for when in option.when], chosen, strict=True))


def drawn(garment, body, texts):
    """All that is drafted but the options themselves; None where they contradict each other."""
    try:
        return repr(replace(garment.draft(body, read_options(garment, texts, body)), options={}))
    except BadInput:
        return None


@pytest.mark.parametrize(("name", "option_name"), conditional())
def test_an_option_that_is_not_offered_changes_nothing_and_one_that_is_does(name, option_name):
    """source: the drafts themselves, each made with and without the option."""
    garment = GARMENTS[name]
    option, body = garment.option(option_name), body_for(garment, ASTA)
    changed, kinds = False, set()
    for texts in states(garment, option):
        without = drawn(garment, body, texts)
        matters = read_options(garment, texts, body).matters(option_name)
        kinds.add(matters)
        for text in others(option, body):
            made = drawn(garment, body, {**texts, option_name: text})
            if matters:
                changed |= without is not None and made not in (None, without)
            else:
                assert made in (None, without), (texts, text)
    assert changed, "where it is offered it changes something"
    assert kinds == {True, False}


def test_a_condition_names_what_there_is():
    garment = GARMENTS["cap"]
    tie = garment.option("tie_length")
    for when in (Chosen("ties", ("ribbons",)), Chosen("bows", ("yes",)), Given("ties"), Given("bows")):
        with pytest.raises(ValueError, match="Cap"):
            replace(garment, options=(*garment.options, replace(tie, name="more", when=(when,))))
