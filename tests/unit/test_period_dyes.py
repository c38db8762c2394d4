"""Dyes: tones that read, patterns that tell them apart without colour."""

import re

import pytest

from drafting.period.dyes import COSTS, DEPTHS, DYES, PATTERNS, chalked, contrast, read_colour, tone
from drafting.words.problems import BadInput

TONES = sorted({
    (dye.name, fibre, depth)
    for dye in DYES.values() for fibre in ("wool", "linen") for depth in DEPTHS
    if dye.tones(fibre) is not None
})


def wcag_contrast(one, other):
    """source: W3C, Web Content Accessibility Guidelines 2.1, definitions of “contrast ratio” and
    “relative luminance”, with the threshold 0.04045 of sRGB (IEC 61966-2-1) that the W3C's errata give.
    """
    lights = []
    for colour in (one, other):
        channels = [int(colour[1 + 2 * i : 3 + 2 * i], 16) / 255 for i in range(3)]
        linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
        lights.append(sum(w * c for w, c in zip((0.2126, 0.7152, 0.0722), linear, strict=True)) + 0.05)
    return max(lights) / min(lights)


def test_contrast_is_that_of_the_guidelines():
    # source: WCAG 2.1: contrast ratios run from 1 to 21; SC 1.4.3 asks 4.5 of text.
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#7d5f45", "#7d5f45") == 1
    # from memory: WebAIM, Contrast and Color Accessibility: #767676 is the lightest grey that passes
    # on white, with 4.54.
    assert contrast("#767676", "#ffffff") == pytest.approx(4.54, abs=0.005)
    assert contrast("#777777", "#ffffff") < 4.5


@pytest.mark.parametrize(("dye", "fibre", "depth"), TONES)
def test_chalk_reads_on_every_tone(dye, fibre, depth):
    found = tone(dye, fibre, depth)
    assert re.fullmatch("#[0-9a-f]{6}", found.cloth) and re.fullmatch("#[0-9a-f]{6}", found.chalk)
    assert wcag_contrast(found.cloth, found.chalk) >= 4.5
    assert found.contrast == pytest.approx(wcag_contrast(found.cloth, found.chalk), rel=1e-6)
    white = wcag_contrast(found.chalk, "#000000") > 10
    assert found.chalk_name == ("white chalk" if white else "charcoal")


def test_chalk_reads_on_any_colour_at_all():
    for grey in range(256):
        assert chalked(f"#{grey:02x}{grey:02x}{grey:02x}").contrast >= 4.5


@pytest.mark.parametrize("dye", DYES.values(), ids=lambda dye: dye.name)
def test_a_dye_has_a_name_tones_a_cost_and_a_colour_word(dye):
    assert dye.title and dye.made_of and dye.words and dye.cost in range(len(COSTS))
    assert dye.wool or dye.linen
    for tones in (dye.wool, dye.linen):
        if tones and dye.cost < 5:
            lights = [wcag_contrast(t, "#000000") for t in tones]
            assert lights == sorted(lights, reverse=True), "light, middling, deep"


def test_a_fibre_that_does_not_grow_a_colour_has_no_tone_of_it():
    assert tone("undyed-grey", "linen") is None and tone("bleached-linen", "wool") is None
    assert tone("woad", "hemp") == tone("woad", "linen") != tone("woad", "wool")


def test_dyes_are_told_apart_by_their_patterns_alone():
    used = [dye.pattern for dye in DYES.values()]
    assert len(set(used)) == len(used) and set(used) == set(PATTERNS)
    assert len(set(PATTERNS.values())) == len(PATTERNS)


@pytest.mark.parametrize("path", PATTERNS.values(), ids=PATTERNS)
def test_a_pattern_is_path_data_that_stays_in_its_tile(path):
    assert re.fullmatch(r"([MLHVQhvl][\d. -]*)*", path)
    for number in re.findall(r"-?\d+(?:\.\d+)?", path):
        assert -4 <= float(number) <= 12


def test_colour_words_find_their_dyes_and_others_are_asked_again():
    assert "lichen-purple" in read_colour("Purple") and read_colour("the weld") == ("weld",)
    assert read_colour("woad blue") == ("woad",)
    with pytest.raises(BadInput) as caught:
        read_colour("purpel")
    assert "purple" in str(caught.value)
    with pytest.raises(BadInput):
        read_colour("")
