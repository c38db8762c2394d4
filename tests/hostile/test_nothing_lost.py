"""A slice of what `python -m tests.fuzz_keeping` does at length."""

import random
from dataclasses import replace

from drafting.kit import KitCloth
from tests import fuzz_keeping
from tests.fuzz_keeping import kills, lost_in, made_kit, merges


def test_three_hundred_merges_lose_nothing():
    assert list(merges(20261128, 300)) == []


def test_a_merge_that_reads_inches_as_centimetres_is_seen(monkeypatch):
    def careless(mine, theirs):
        return type("Merged", (), {"kit": replace(theirs, unit=mine.unit)})

    bolt = KitCloth("c1", {"width": "60"})
    kit = replace(made_kit(random.Random(1)), unit="in", garments=(), cloths=(bolt,))
    assert lost_in(replace(kit, unit="cm"), kit) is None
    monkeypatch.setattr(fuzz_keeping, "merge", careless)
    assert lost_in(replace(kit, unit="cm", cloths=()), kit) == "a cloth means something else"


def test_kills_while_writing_leave_one_run_s_files():
    assert list(kills(20261128, 2)) == []
