"""What can be fitted on a garment: the finished measures that a fitter would change, and what makes them.

A fit is a place and by how much it is to be larger or smaller. Which places a garment has is read off its
own pattern: each finished measure of the table, whose lever the garment declares.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from difflib import get_close_matches
from itertools import pairwise

from ..body import MEASURES, label_of
from ..garments import Garment, LengthOption
from ..pattern import LevelKind, Pattern
from ..words.problems import BadInput, Problem
from ..words.units import LengthError, Unit, format_number
from .felt import Felt, PlaceKind, contradict, read_felt

LARGEST_FIT = 600.0
"""mm by which a place may be fitted at once. common practice, no source: more is another garment."""

WORTH_WRITING = 0.5
"""mm under which a fit is none: what truing allows a seam."""


@dataclass(frozen=True)
class FitPlace:
    """A place to fit: the finished measures that can stand for it, the first that the garment has, or the
    depth of a level; and the options or body measures that make it, the likeliest first."""

    name: str
    title: str
    finished: tuple[str, ...]
    levers: tuple[str, ...]
    level: LevelKind | None = None

    def measured_on(self, pattern: Pattern) -> float | None:
        """mm as the pattern has it; None where it has none."""
        for name in self.finished:
            if name in pattern.finished:
                return float(pattern.finished[name])
        return next((level.depth for level in pattern.levels if level.kind == self.level), None)

    def stands_for(self, pattern: Pattern) -> str:
        """The finished measure that it is on this pattern, "" for a level's depth."""
        return next((name for name in self.finished if name in pattern.finished), "")


PLACES: Mapping[str, FitPlace] = {
    place.name: place
    for place in (
        FitPlace("chest", "Chest", ("bust_girth",), ("chest_ease", "bust_ease")),
        FitPlace("top", "Top edge", ("top_girth",), ("bust_ease", "leg_ease")),
        FitPlace("waist", "Waist", ("waist_girth",),
                 ("waist_ease", "hip_ease", "thigh_ease", "chest_ease", "hem_girth")),
        FitPlace("hips", "Hips", ("hip_girth",), ("hip_ease", "thigh_ease", "hem_girth", "chest_ease")),
        FitPlace("thigh", "Thigh", ("thigh_girth",), ("hip_ease", "thigh_ease")),
        FitPlace("rise", "Way between the legs", ("crotch_length",), ("crotch_length",)),
        FitPlace("hem", "Hem", ("hem_girth", "leg_hem_girth"), ("hem_girth", "leg_hem")),
        FitPlace("length", "Length", ("length", "strip_length"),
                 ("length", "tuck", "hand_length", "hanging_end", "tie", "knee_height")),
        FitPlace("back-length", "Back length", (), ("back_waist_length", "torso_length"), "waist"),
        FitPlace("shoulder", "Shoulder", ("body_width",), ("shoulder_width",)),
        FitPlace("sleeve-length", "Sleeve length", ("sleeve_length",), ("sleeve_length",)),
        FitPlace("sleeve-width", "Sleeve width", ("upper_arm_girth",), ("arm_ease",)),
        FitPlace("cuff", "Cuff", ("cuff_girth",), ("cuff_girth",)),
        FitPlace("armhole", "Armhole", ("armhole_depth",), ("arm_ease",)),
        FitPlace("neck", "Neck", ("neck_girth", "neck_length"),
                 ("neck_base_girth", "neck_length", "depth", "overlap")),
        FitPlace("neck-slit", "Neck slit", ("neck_slit",), ("neck_slit",)),
        FitPlace("straps", "Straps", ("strap_length",), ("brooch_strap_length",)),
        FitPlace("face", "Face opening", ("face_opening",), ("face_opening",)),
        FitPlace("front-edge", "Front edge", ("front_edge",), ("front_edge",)),
        FitPlace("depth", "Depth", ("depth",), ("depth",)),
        FitPlace("height", "Height", ("height",), ("height",)),
        FitPlace("cape", "Length of the cape", ("cape_length",), ("cape_length",)),
        FitPlace("width", "Width", ("width", "strip_width"), ("width",)),
        FitPlace("side", "Side", ("side",), ("side",)),
        FitPlace("hand", "Round the hand", ("hand_girth",), ("girth_ease",)),
        FitPlace("thumb-length", "Length of the thumb", ("thumb_length",), ("thumb_length",)),
        FitPlace("calf", "Calf", ("calf_girth",), ("leg_ease",)),
        FitPlace("heel", "Over heel and instep", ("heel_seam",), ("heel_ease",)),
        FitPlace("foot", "Round the foot", ("foot_girth",), ("foot_girth",)),
        FitPlace("foot-length", "Length of the foot", ("foot_length",), ("foot_length",)),
        FitPlace("fold-over", "Folded over", ("folded_over",), ("fold_over",)),
    )
}
"""common practice, no source: what a fitter pins, and which number of the draft it is."""


ROUND = frozenset({"chest", "top", "waist", "hips", "thigh", "hem", "shoulder", "sleeve-width", "cuff",
                   "armhole", "neck", "face", "hand", "calf", "heel", "foot"})
"""Places that are tight or loose; all others are short or long."""


@dataclass(frozen=True)
class Fit:
    """A place of PLACES, and by how many mm it is to be larger; below zero for smaller."""

    place: str
    change: float


def fit_texts(fits: Iterable[Fit], unit: Unit) -> dict[str, str]:
    """By place `+3 cm`, which `read_fits` reads as the same under any unit; what comes to nothing is left
    out."""
    return {fit.place: f"{'+' if fit.change > 0 else '-'}{format_number(abs(fit.change), unit)} {unit}"
            for fit in fits if abs(fit.change) >= WORTH_WRITING}


def together(*several: tuple[Fit, ...]) -> tuple[Fit, ...]:
    """Fits one on top of the other, a place's in one."""
    found: dict[str, float] = {}
    for fit in (fit for fits in several for fit in fits):
        found[fit.place] = found.get(fit.place, 0.0) + fit.change
    return tuple(Fit(place, change) for place, change in found.items())


def places_of(garment: Garment, pattern: Pattern) -> tuple[FitPlace, ...]:
    """The places that the garment as drafted can be fitted at."""
    return tuple(place for place in PLACES.values()
                 if place.measured_on(pattern) is not None and levers_of(garment, place))


def levers_of(garment: Garment, place: FitPlace) -> tuple[str, ...]:
    """Those of the place's levers that the garment has: length options, and measures of the body."""
    lengths = {option.name for option in garment.options if isinstance(option, LengthOption)}
    return tuple(name for name in place.levers
                 if name in lengths or name in (*garment.needs, *garment.uses))


def lever_title(garment: Garment, name: str) -> str:
    """What the option or the body's measure is called in a sentence."""
    for option in garment.options:
        if option.name == name:
            return option.label[:1].lower() + option.label[1:]
    return f"the body's {label_of(name).lower()}" if name in MEASURES else name


def read_fits(texts: Iterable[tuple[str, str]], unit: Unit = "cm") -> tuple[Fit, ...]:
    """Fits as typed: a place's name, and `+3 cm`, `-15 mm` or what was felt, as `tight 3 cm`. One place given
    twice is added up.

    Raises BadInput naming every one that does not read, and answers that contradict each other.
    """
    found: dict[str, list[Felt]] = {}
    problems = []
    for written, text in texts:
        name = written.strip().lower().replace("_", "-").replace(" ", "-")
        if name not in PLACES:
            near = get_close_matches(name, PLACES, n=1)
            hint = f"Did you mean {near[0]}?" if near else f"There is {', '.join(PLACES)}."
            problems.append(Problem("fits", f"“{written.strip()[:40]}” is no place to fit. {hint}"))
            continue
        try:
            found.setdefault(name, []).append(read_felt(text, kind_of(PLACES[name]), unit))
        except LengthError as error:
            problems.append(Problem("fits", f"{PLACES[name].title}: {error}"))
    for name, felt in found.items():
        problems += [
            Problem("fits", f"{PLACES[name].title}: it was answered {one.word} and {other.word} at once. "
                    "Keep the one that is right, or say at which other place the second is.")
            for one, other in pairwise(felt) if contradict(one, other)
        ]
    fits = tuple(Fit(name, sum(one.change for one in felt)) for name, felt in found.items())
    problems += [
        Problem("fits", f"{PLACES[fit.place].title}: a change of {abs(fit.change) / 10:g} cm makes another "
                f"garment: give {LARGEST_FIT / 10:g} cm or less, or measure anew.")
        for fit in fits if abs(fit.change) > LARGEST_FIT
    ]
    if problems:
        raise BadInput(problems)
    return tuple(fit for fit in fits if fit.change)


def kind_of(place: FitPlace) -> PlaceKind:
    """Whether it goes round or along."""
    return "girth" if place.name in ROUND else "length"
