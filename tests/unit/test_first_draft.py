"""What the first draft of a visit loads: each module of it is fetched, and read, before anything is drawn."""

import subprocess
import sys

import pytest

from tests.drafts import request

PROGRAM = """
import sys
from drafting.requests.workbench import run
result = run({request!r})
assert result["ok"], result
print(*(name for name in sys.modules if name.partition(".")[0] == "drafting"))
"""
MOST = 138
"""source: none; the modules there are, one and more of them for each garment of the wardrobe, and two more.
What a garment is drafted by may need one; what is asked for later (a list, a file, a lay) is imported where
that is done. A link, to many a first visit, may hold a cloth: piecing stays."""
LATER = (
    "requests.catalogue", "cloth.in_the_shop", "both.migrations", "kit", "lay", "sewing",
    "sheets.svg_file", "life", "worn",
)


@pytest.fixture(scope="module")
def loaded():
    program = PROGRAM.format(request=request())
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True)
    assert done.returncode == 0, done.stderr
    return set(done.stdout.split())


def test_the_first_draft_loads_no_more_modules_than_it_did(loaded):
    assert {"drafting.requests.workbench", "drafting.garments.apron_dress"} <= loaded
    assert len(loaded) <= MOST, sorted(loaded)


@pytest.mark.parametrize("name", LATER)
def test_the_first_draft_does_without(loaded, name):
    assert {module for module in loaded if f"{module}.".startswith(f"drafting.{name}.")} == set()
