"""The command line's verbs `mend` and `trim`: a patch for a tear, and what goes on a garment's edges."""

import argparse
from typing import Any

from ..desk.values import UNITS
from ..garments import GARMENTS
from ..words.problems import BadInput, Problem
from ..words.units import LengthError, Unit, format_length, parse_length
from ..words.wording import spell
from .body_verb import add_asked_arguments, asked_of, pairs


def add_keeping_verbs(verbs: Any) -> None:
    """`mend --tear 6cmx2cm` and `trim GARMENT`."""
    mend = verbs.add_parser("mend", help="a patch for a tear: its size, grain, stitches and thread")
    mend.add_argument("--tear", required=True, metavar="LxW", help="along the grain and across it: 6cmx2cm")
    mend.add_argument("--fibre", default="wool", help="of the cloth (wool)")
    mend.add_argument("--cloth-weight", type=float, metavar="G", help="of the cloth in g/m²")
    mend.add_argument("--remnant", action="append", default=[], metavar="NAME=LxW",
                      help="a remnant, along the grain and across it; may repeat")
    mend.add_argument("--unit", default="cm", choices=UNITS, help="what a bare number means (cm)")
    mend.set_defaults(act=_mend)
    trim = verbs.add_parser("trim", help="band, facing, cord and warp for every edge of a garment")
    trim.add_argument("garment", choices=tuple(GARMENTS))
    add_asked_arguments(trim)
    trim.add_argument("--width", default="2 cm", metavar="LENGTH", help="of the band (2 cm)")
    trim.add_argument("--take-up", type=float, default=12.0, metavar="%",
                      help="by which a tablet-woven band's warp is longer (12)")
    trim.add_argument("--loom-waste", default="60 cm", metavar="LENGTH", help="of warp (60 cm)")
    trim.set_defaults(act=_trim)


def _mend(given: argparse.Namespace) -> int:
    from ..life.mend import Scrap, patch, patch_in_sentences
    from ..sewing.as_json import time_in_words
    from ..sewing.cloths import HANDLED_AS, LINEN, WOOL, SewnCloth

    if given.fibre not in HANDLED_AS:
        raise BadInput([Problem("fibre", f"No cloth of “{given.fibre[:40]}”: say one of "
                                f"{', '.join(HANDLED_AS)}.")])
    usual = (WOOL if HANDLED_AS[given.fibre] == "wool" else LINEN).weight
    weight = usual if given.cloth_weight is None else given.cloth_weight
    if not 40 <= weight <= 1500:
        raise BadInput([Problem("cloth_weight", f"A cloth of {weight:g} g/m² is none: give 40 to 1500.")])
    scraps = [Scrap(name, *_size(text, "--remnant", given.unit))
              for name, text in pairs(given.remnant, "--remnant").items()]
    made = patch(*_size(given.tear, "--tear", given.unit), SewnCloth(given.fibre, weight), scraps)
    for sentence in patch_in_sentences(made, scraps):
        print(spell(sentence, given.unit))
    print(f"About {time_in_words(made.work.minutes)}, {made.work.thread / 1000:.1f} m of thread, "
          f"{made.work.stitches} stitches.")
    return 0


def _size(text: str, flag: str, unit: Unit) -> tuple[float, float]:
    """Raises BadInput."""
    along, times, across = text.lower().replace("×", "x").partition("x")
    try:
        if times:
            return parse_length(along, unit), parse_length(across, unit)
    except LengthError as error:
        raise BadInput([Problem(flag, f"{flag} {text[:60]}: {error}")]) from None
    raise BadInput([Problem(flag, f"{flag} {text[:60]}: write it as LENGTHxWIDTH, such as 6cmx2cm.")])


def _length(text: str, flag: str, unit: Unit) -> float:
    """Raises BadInput."""
    try:
        return parse_length(text, unit)
    except LengthError as error:
        raise BadInput([Problem(flag, f"{flag}: {error}")]) from None


def _trim(given: argparse.Namespace) -> int:
    from ..desk.drafts import draft
    from ..desk.order import read_order
    from ..life.trim import WarpOptions, trim_edges, trim_lines

    width = _length(given.width, "--width", given.unit)
    warp = WarpOptions(given.take_up / 100, _length(given.loom_waste, "--loom-waste", given.unit))
    pattern = draft(read_order(asked_of(given))).pattern
    print(f"{pattern.title}: its edges, for a band {format_length(width, given.unit)} wide")
    for row in trim_lines(trim_edges(pattern), width, given.unit, warp):
        print(f"  {row['edge']}: {row['length']} ({row['how']}); band or facing {row['band']}, embroidery "
              f"{row['length']}, cord {row['cord']}, tablet warp {row['warp']}")
    return 0
