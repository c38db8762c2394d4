"""The mantle that counted as money in Iceland, and ours.

source: Guðjónsson 1962, Forn röggvarvefnaður, Árbók Hins íslenzka fornleifafélags, page 68, on Grágás: four
thumb-ells long and two wide, 204.8 by 102.4 cm.
"""

import pytest

from tests.wardrobe import draft

LENGTH, WIDTH = 2048.0, 1024.0


def test_ours_for_a_man_of_the_time_is_as_large():
    """Within 8 cm for 166 to 172 cm of stature. from memory: Steckel 2004, men of northern Europe before 1100
    measured about 173 cm by their bones, those of Iceland a little less."""
    for stature in (1660.0, 1720.0):
        finished = draft("mantle", values={"stature": stature}).finished
        assert finished["length"] == pytest.approx(LENGTH, abs=80)
        assert finished["height"] == pytest.approx(WIDTH, abs=80)
