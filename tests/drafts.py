"""Drafts for tests: a volunteer of Marram Farm in an apron dress, with whatever is changed."""

from collections.abc import Mapping
from typing import Any

from drafting.checks.truing import Check
from drafting.desk.drafts import Draft, draft
from drafting.desk.order import read_order
from drafting.pattern import Pattern

VOLUNTEER = {"bust_girth": "92cm", "waist_girth": "78cm", "torso_length": "38cm"}
"""An invented body, for demo drafts."""
OPTIONS = {"length": "115cm", "hem_girth": "240cm"}


def request(do="draft", garment="apron-dress", measurements=None, options=None, **more):
    """A workbench request for the volunteer, with measurements and options added or changed."""
    return {
        "do": do,
        "garment": garment,
        "measurements": {**VOLUNTEER, **(measurements or {})},
        "options": {**OPTIONS, **(options or {})},
        **more,
    }


def draft_of(values: Mapping[str, Any]) -> Draft:
    """What becomes of an order in plain values."""
    return draft(read_order(values))


def drafted(measurements=None, options=None, **more) -> Pattern:
    return draft_of(request(measurements=measurements, options=options, **more)).pattern


def checked(measurements=None, options=None, **more) -> dict[str, Check]:
    """The checks by name."""
    found = draft_of(request(measurements=measurements, options=options, **more))
    return {check.name: check for check in found.checks}
