"""The words of the trade: each explained once, found as words, and safe to stand in a page."""

import re

from words import WORDS, explained, marked


def names_in(html):
    return re.findall(r'data-do="word:([^"]*)"', html)


def test_every_word_is_explained_in_a_sentence_or_two():
    for name, forms, explanation in WORDS:
        assert explained(name) == explanation
        assert explanation.endswith(".") and 20 < len(explanation) < 220, name
        assert all(form == form.lower() for form in forms), name
    assert len({name for name, _, _ in WORDS}) == len(WORDS)


def test_the_first_of_a_word_is_marked_and_no_other():
    seen = []
    html = marked("A gore here, two gores there.", seen)
    assert names_in(html) == ["gore"] and html.count("<button") == 1
    assert names_in(marked("Another gore and a gusset.", seen)) == ["gusset"]


def test_a_form_that_is_a_verb_is_not_explained_as_the_noun():
    verbs = ("Turn its edge under, lay both flat and fell.", "Ease the turned cloth in with a thread.",
             "Lay 2 cm of each end inside.", "Tuck the end in.")
    assert not {"lay", "ease", "tuck"} & {name for verb in verbs for name in names_in(marked(verb, []))}
    nouns = ("Print the lay.", "More ease at the top.", "Sew the growth tuck.", "The tuck the child needs.")
    assert [names_in(marked(noun, [])) for noun in nouns] == [["lay"], ["ease"], ["tuck"], ["tuck"]]


def test_a_word_within_a_word_is_left_alone():
    assert names_in(marked("Napkins, easel, gored, a layer, play, delay, kidnap.", [])) == []


def test_the_longer_word_is_the_one_that_is_marked():
    assert names_in(marked("Sewn run-and-felled, then pinned.", [])) == ["run-and-fell"]


def test_what_is_marked_reads_as_before_and_is_safe():
    text = 'The <b>"Selvedge"</b> & a godet.'
    html = marked(text, [])
    assert names_in(html) == ["selvedge", "godet"]
    plain = re.sub(r"</?button[^>]*>", "", html)
    assert plain == "The &lt;b&gt;&quot;Selvedge&quot;&lt;/b&gt; &amp; a godet."
