"""Drafts for tests: a volunteer of Marram Farm in an apron dress, with whatever is changed."""

from drafting.checks.truing import Check
from drafting.desk import requests
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


def drafted(measurements=None, options=None, **more) -> Pattern:
    return requests.draft(request(measurements=measurements, options=options, **more))[0]


def checked(measurements=None, options=None, **more) -> dict[str, Check]:
    """The checks by name."""
    checks = requests.draft(request(measurements=measurements, options=options, **more))[1]
    return {check.name: check for check in checks}
