"""Thread per stitch against paths drawn out in space, and against examples reckoned by hand.

source for the lengths: plane and solid geometry. Each path is written here as points the needle leads
the thread through (x along the seam, y across it, z through the cloth) and measured by numpy; nothing
of the package's formulas is used. The worked examples are reckoned by hand in the comments.
"""

import numpy as np
import pytest

from drafting.sewing.stitches import (
    NEEDLEFUL,
    SLACK,
    STITCHES,
    TAIL,
    Stack,
    needlefuls,
    roll_thickness,
    thread_to_cut,
)

COUNT = 40


def measured(points) -> float:
    steps = np.diff(np.asarray(points, dtype=float), axis=0)
    return float(np.sqrt((steps**2).sum(axis=1)).sum())


def per_stitch(path_of) -> float:
    """Length of COUNT stitches one after another, a stitch; `path_of(i)` are points of stitch i, the
    first of the next one closing it."""
    points = [p for i in range(COUNT) for p in path_of(i)]
    points.append(path_of(COUNT)[0])
    return measured(points) / COUNT


@pytest.mark.parametrize("length, thickness", [(6.0, 2.0), (2.5, 0.8), (10.0, 3.0)])
def test_running_stitch_goes_over_and_under_in_equal_parts(length, thickness):
    def path(i):
        x = 2 * length * i
        return [(x, 0, thickness), (x + length, 0, thickness), (x + length, 0, 0), (x + 2 * length, 0, 0)]

    found = STITCHES["running"].path(length, 0.0, Stack(thickness))
    assert found == pytest.approx(per_stitch(path), abs=1e-9)


@pytest.mark.parametrize("length, thickness", [(4.0, 2.0), (2.0, 0.9)])
def test_back_stitch_goes_back_one_and_forward_two(length, thickness):
    def path(i):
        x = length * i  # up one stitch ahead at x + length, back to x, down, under to the next place
        return [(x + length, 0, thickness), (x, 0, thickness), (x, 0, 0), (x + 2 * length, 0, 0)]

    found = STITCHES["back"].path(length, 0.0, Stack(thickness))
    assert found == pytest.approx(per_stitch(path), abs=1e-9)


@pytest.mark.parametrize("length, bite, ground, fold", [(5.0, 1.5, 1.0, 2.0), (4.0, 2.0, 0.4, 0.8)])
def test_fell_stitch_goes_over_the_fold_through_the_cloth_and_slants_on(length, bite, ground, fold):
    top = ground + fold  # the fold lies at y > 0, from z = ground to z = top

    def path(i):
        x = length * i
        return [(x, bite, top), (x, 0, top), (x, 0, ground), (x, 0, 0), (x + length, bite, 0)]

    found = STITCHES["fell"].path(length, bite, Stack(ground, fold))
    assert found == pytest.approx(per_stitch(path), abs=1e-9)


@pytest.mark.parametrize("length, bite, ground, fold", [(5.0, 1.5, 1.0, 2.0), (4.0, 2.0, 0.4, 0.8)])
def test_hem_stitch_catches_half_of_the_cloth(length, bite, ground, fold):
    top, half = ground + fold, ground / 2

    def path(i):
        x = length * i
        return [(x, bite, top), (x, 0, top), (x, 0, ground), (x, 0, half), (x + length, bite, half)]

    found = STITCHES["hem"].path(length, bite, Stack(ground, fold))
    assert found == pytest.approx(per_stitch(path), abs=1e-9)


@pytest.mark.parametrize("length, bite, thickness", [(4.0, 2.0, 2.0), (3.0, 1.0, 0.8)])
def test_whip_stitch_goes_through_and_winds_round_the_edge(length, bite, thickness):
    """The edge is rounded numerically: the three faces it winds over, cut into 1,000 steps."""
    way = 2 * bite + thickness

    def on_the_edge(s, x):
        if s < bite:
            return (x, s - bite, 0.0)
        if s < bite + thickness:
            return (x, 0.0, s - bite)
        return (x, bite + thickness - s, thickness)

    def path(i):
        x = length * i
        winding = [on_the_edge(way * t, x + length * t) for t in np.linspace(0, 1, 1001)]
        return [(x, -bite, thickness), *winding]

    found = STITCHES["whip"].path(length, bite, Stack(thickness))
    assert found == pytest.approx(per_stitch(path), rel=2e-3)


@pytest.mark.parametrize("length, roll", [(4.0, 2.5), (3.0, 4.0)])
def test_a_rolled_edge_is_wound_round_like_a_helix(length, roll):
    turns = np.linspace(0, COUNT, COUNT * 400 + 1)
    angle = 2 * np.pi * turns
    helix = np.column_stack([length * turns, roll / 2 * np.cos(angle), roll / 2 * np.sin(angle)])
    found = STITCHES["roll"].path(length, 0.0, Stack(roll))
    assert found == pytest.approx(measured(helix) / COUNT, rel=1e-4)


def test_a_seam_of_a_metre_reckoned_by_hand():
    """Two layers of 1 mm woollen, running stitch of 6 mm: every 12 mm takes 6 + 2 + 6 + 2 = 16 mm, so
    a metre takes 1333.3 mm. With 5 % slack 1400 mm; a needleful gives 600 − 120 = 480 mm of seam
    thread, so 3 are cut, and 1400 + 3 × 120 = 1760 mm are used up."""
    path = STITCHES["running"].thread(1000.0, Stack(2.0))
    assert path == pytest.approx(4000 / 3)
    assert (SLACK, NEEDLEFUL, TAIL) == (0.05, 600.0, 60.0)
    assert needlefuls(path) == 3
    assert thread_to_cut(path) == pytest.approx(1760.0)


def test_stitches_of_a_metre_counted_by_hand():
    """Running stitch of 6 mm shows 1000 / 12 = 83.3 stitches a metre; fell stitch of 5 mm 200."""
    assert STITCHES["running"].count(1000.0) == 84
    assert STITCHES["fell"].count(1000.0) == 200
    assert STITCHES["back"].count(1000.0, 2.0) == 500


def test_nothing_sewn_takes_no_thread():
    assert thread_to_cut(0.0) == 0.0
    assert STITCHES["running"].count(0.0) == 0


def test_a_roll_keeps_the_cloths_section():
    """8 mm of 0.5 mm cloth have a section of 4 mm²; a circle of 4 mm² is 2.2568 mm across."""
    assert roll_thickness(8.0, 0.5) == pytest.approx(2.2568, abs=1e-4)


def test_numbers_of_iso_4915():
    """from memory: ISO 4915:1991, class 200 (hand stitches): 209 running, 202 back stitch."""
    assert STITCHES["running"].iso_4915 == "209"
    assert STITCHES["back"].iso_4915 == "202"


def test_usual_lengths():
    """common practice, no source: running stitch 6 mm, fell stitches 4 to 6 mm."""
    assert STITCHES["running"].length == 6.0
    assert 4.0 <= STITCHES["fell"].length <= 6.0
