"""Bodies: what is measured, what is estimated from it, what cannot be right, and how it grows."""

from drafting.body.bodies import Body, complete, in_words, read_measurements
from drafting.body.growth import Sex
from drafting.body.measures import MEASURES, STANDS_IN, Measure, Tape, label_of
from drafting.body.plausibility import check_body, plausible_range
from drafting.body.report import report
from drafting.body.sizes import SIZE_TABLE, Size
from drafting.body.wearer import Wearer, is_date, read_wearer, write_wearer

__all__ = [
    "MEASURES",
    "SIZE_TABLE",
    "STANDS_IN",
    "Body",
    "Measure",
    "Sex",
    "Size",
    "Tape",
    "Wearer",
    "check_body",
    "complete",
    "in_words",
    "is_date",
    "label_of",
    "plausible_range",
    "read_measurements",
    "read_wearer",
    "report",
    "write_wearer",
]
