"""Options are read by names that are checked: a typing error is found at once."""

import pytest

from drafting.garments import GARMENTS, ChoiceOption, CountOption, Garment, LengthOption, read_options
from drafting.garments.options import NoSuchOption, Options
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
