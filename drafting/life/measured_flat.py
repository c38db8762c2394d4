"""A garment that fits, measured flat, in place of a body: the draft that comes out just as large.

The body that it was made for is not known. It is looked for: of all bodies and sizes whose draft has the
measured girths and lengths the one nearest to an estimate, with the usual ease taken off. Measures of the
body that are given stay as they are; then it is the ease that is found.

source: Gauss–Newton steps of least weighted change, any text on least squares; the slopes by differences.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from ..body import complete, label_of
from ..body.growth import Sex
from ..garments import ChoiceOption, Garment, LengthOption, read_options
from ..garments.options import Options
from ..pattern import Pattern
from ..words.problems import BadInput, Problem
from ..words.units import LengthError, Unit, parse_length
from ..words.wording import said
from .adjust import LEFT_OPEN, Sized, sized
from .fits import PLACES

HALF = "half_"
USUAL_STATURE = 1650.0
"""mm, where nothing measured says how tall the wearer is; the length is measured all the same. common
practice, no source."""

USUAL_ROOM = 110.0
"""mm of ease first taken off a girth of the trunk. common practice, no source."""

AGREES = 5.0
"""mm by which a draft may differ from what was measured flat. source: the project's own numbers."""

ROUNDS, CLOSE = 24, 0.5
"""Of the search, and mm at which it ends."""

SLOPE_STEPS = (2.0, 12.0, 30.0, 2.0)
"""mm by which a number is moved to learn its slope: by more where the draft rounds what comes of it."""

MOVES = 0.05
"""Part of its value by which a number may be thought to be off."""

STANDING = ("Ease", "Allowances", "Cloth")
"""Groups of options that a garment measured flat does not tell."""

STATURES = tuple(float(mm) for mm in range(900, 2050, 75))
"""mm, at which the search may begin."""

_EASE_OF = {"bust_girth": {"chest_ease", "bust_ease"}, "upper_chest_girth": {"bust_ease"},
            "waist_girth": {"waist_ease", "hip_ease"}, "hip_girth": {"hip_ease"}, "neck_base_girth": {"neck"}}
"""The options by which a garment says that a girth is the body's and some room."""

_BODY_OF = {"bust_girth": "bust_girth", "top_girth": "upper_chest_girth", "waist_girth": "waist_girth",
            "hip_girth": "hip_girth", "neck_girth": "neck_base_girth"}
"""The body's girth beneath a finished one."""


@dataclass(frozen=True)
class FlatGarment:
    """The draft of a garment that was measured. `ease` is what was taken off each girth of the body, mm;
    `misses` by how much what was measured is not met, where that is more than AGREES."""

    sized: Sized
    ease: Mapping[str, float]
    misses: Mapping[str, float]


def flat_names(pattern: Pattern) -> dict[str, str]:
    """What can be measured flat on a garment like this: names as typed, and the finished measure of each.

    A girth is measured as its half. A place goes by its own name as well: `half_chest`, `sleeve_length`.
    """
    found = {"waist_depth": "waist_depth"} if PLACES["back-length"].measured_on(pattern) else {}
    for finished in pattern.finished:
        found[_flat_name(finished, finished)] = finished
    for place in PLACES.values():
        stands = place.stands_for(pattern)
        if stands:
            found[_flat_name(place.name.replace("-", "_"), stands)] = stands
    return found


def _flat_name(name: str, finished: str) -> str:
    return HALF + name.removesuffix("_girth") if finished.endswith("_girth") else name


def read_flat(
    garment: Garment, texts: Iterable[tuple[str, str]], options: Mapping[str, str], unit: Unit = "cm"
) -> dict[str, float]:
    """The finished measures, mm, that were measured flat. Raises BadInput, naming what does not read."""
    pattern = _usual(garment, options, unit).pattern
    names = flat_names(pattern)
    found: dict[str, float] = {}
    problems = []
    for written, text in texts:
        name = written.strip().lower().replace("-", "_")
        if name not in names:
            problems.append(Problem("from_garment", f"A garment of this kind has no “{written[:40]}” to "
                                    f"measure flat: there is {', '.join(sorted(names))}."))
            continue
        try:
            mm = parse_length(text, unit)
        except LengthError as error:
            problems.append(Problem("from_garment", f"{name}: {error}"))
            continue
        if mm <= 0:
            problems.append(Problem("from_garment", f"{name}: nothing is of no length; leave it out."))
        found[names[name]] = 2 * mm if name.startswith(HALF) else mm
    if problems or not found:
        raise BadInput(problems or [Problem("from_garment", "Nothing was measured: give half_chest=52cm and "
                                            "the like.")])
    return found


def _usual(garment: Garment, options: Mapping[str, str], unit: Unit) -> Sized:
    body = complete({"stature": USUAL_STATURE}, garment.needs + garment.uses, sex=garment.estimated_as)
    return sized(garment, body, read_options(garment, options, body, unit))


def from_flat(
    garment: Garment, flat: Mapping[str, float], options: Mapping[str, str], *,
    given: Mapping[str, float] | None = None, unit: Unit = "cm", sex: Sex | None = None,
    age_months: int | None = None,
) -> FlatGarment:
    """The draft with these finished measures, mm. `given` are measures of the body, mm, that are known.

    Raises BadInput where no such garment can be drafted.
    """
    given = given or {}
    starts = sorted(_starts(garment, flat, options, given, unit, sex, age_months),
                    key=lambda one: _sum(_gaps(one.pattern, flat)))
    if not starts:
        raise BadInput([Problem("from_garment", f"No {garment.title.lower()} of these measures can be "
                                "drafted: measure it again, or choose another cut.")])
    found = _searched(starts[0], _free(starts[0], options, given), flat)
    found = min([found, *_cut_otherwise(found, options, given, flat)],
                key=lambda one: _sum(_gaps(one.pattern, flat)))
    misses = {name: mm for name, mm in _gaps(found.pattern, flat).items() if abs(mm) > AGREES}
    return FlatGarment(_honest(found, given), _ease(found), misses)


def _starts(
    garment: Garment, flat: Mapping[str, float], options: Mapping[str, str], given: Mapping[str, float],
    unit: Unit, sex: Sex | None, age_months: int | None,
) -> Iterator[Sized]:
    """Bodies that might wear it, and options as measured where one is just what was measured."""
    eased = {option.name for option in garment.options if option.group == "Ease"}
    known = {measure: flat[name] - USUAL_ROOM for name, measure in _BODY_OF.items()
             if name in flat and flat[name] > 3 * USUAL_ROOM and eased & _EASE_OF[measure]}
    needed = tuple(dict.fromkeys((*garment.needs, *garment.uses, "stature")))
    for stature in (given["stature"],) if "stature" in given else STATURES:
        try:
            body = complete({"stature": stature, **known, **given}, needed, sex=sex or garment.estimated_as,
                            age_months=age_months)
            chosen = read_options(garment, options, body, unit)
            yield sized(garment, body, _as_measured(chosen, flat, options))
        except BadInput:
            continue


def _as_measured(chosen: Options, flat: Mapping[str, float], options: Mapping[str, str]) -> Options:
    """Every option that is just what was measured, and was not typed, set to that."""
    wanted = {name: flat[name] for name in flat}
    for place in PLACES.values():
        levers = [lever for lever in place.levers if lever in chosen.declared][:1]
        wanted |= {lever: flat[stands] for lever in levers if not chosen.values[lever]
                   for stands in place.finished if stands in flat}
    for name, mm in wanted.items():
        option = chosen.declared.get(name)
        if isinstance(option, LengthOption) and name not in options and option.group != "Ease":
            chosen = chosen.changed(name, min(max(mm, option.least), option.most))
    return chosen


def _free(start: Sized, options: Mapping[str, str], given: Mapping[str, float]) -> list[str]:
    """The numbers that may be changed: measures not given, and options that follow the body. The ease only
    where the body is known."""
    names = [name for name in start.body.values if name not in given]
    for option in start.options.declared.values():
        if not isinstance(option, LengthOption) or option.name in options:
            continue
        eased = option.group == "Ease" and any(measure in given for measure in _BODY_OF.values())
        if eased or option.group not in STANDING and (callable(option.default) or start.options[option.name]):
            names.append(option.name)
    return names


def _with(one: Sized, changes: Mapping[str, float]) -> Sized:
    """Raises BadInput."""
    options, values = one.options, dict(one.body.values)
    for name, value in changes.items():
        option = options.declared.get(name)
        if isinstance(option, LengthOption):
            options = options.changed(name, min(max(value, option.least), option.most))
        else:
            values[name] = max(value, 1.0)
    return sized(one.garment, replace(one.body, values=values), options)


def _value(one: Sized, name: str) -> float:
    return one.options[name] if name in one.options.declared else one.body[name]


def _gaps(pattern: Pattern, flat: Mapping[str, float]) -> dict[str, float]:
    """mm by which the draft is smaller than what was measured; nothing of what it has not got."""
    return {name: mm - got for name, mm in flat.items() if (got := _finished(pattern, name)) is not None}


def _finished(pattern: Pattern, name: str) -> float | None:
    if name == "waist_depth":
        return PLACES["back-length"].measured_on(pattern)
    return pattern.finished.get(name)


def _searched(start: Sized, free: Sequence[str], flat: Mapping[str, float]) -> Sized:
    now, gaps, steps = start, _gaps(start.pattern, flat), list(SLOPE_STEPS)
    for _ in range(ROUNDS):
        if _worst(gaps) < CLOSE or not steps:
            break
        nearer = _stepped(now, _towards(now, free, gaps, flat, steps[0]), flat, _sum(gaps))
        if nearer is None:
            steps.pop(0)
        else:
            now, gaps = nearer, _gaps(nearer.pattern, flat)
    return now


def _stepped(
    now: Sized, change: Mapping[str, float], flat: Mapping[str, float], before: float
) -> Sized | None:
    """As much of the change as comes nearer; None where none does."""
    for part in (1.0, 0.5, 0.2):
        try:
            tried = _with(now, {name: _value(now, name) + part * mm for name, mm in change.items()})
        except BadInput:
            continue
        if _sum(_gaps(tried.pattern, flat)) < before:
            return tried
    return None


def _cut_otherwise(
    found: Sized, options: Mapping[str, str], given: Mapping[str, float], flat: Mapping[str, float]
) -> Iterator[Sized]:
    """Where something is missed, the same with each choice made that was left to the draft."""
    if _worst(_gaps(found.pattern, flat)) <= AGREES:
        return
    for name, option in found.options.declared.items():
        if isinstance(option, ChoiceOption) and name not in options and option.default in LEFT_OPEN:
            for choice in option.choices:
                try:
                    other = sized(found.garment, found.body, found.options.changed(name, choice))
                except BadInput:
                    continue
                yield _searched(other, _free(other, options, given), flat)


def _worst(gaps: Mapping[str, float]) -> float:
    return max(map(abs, gaps.values()), default=0.0)


def _sum(gaps: Mapping[str, float]) -> float:
    return sum(mm * mm for mm in gaps.values())


def _towards(
    now: Sized, free: Sequence[str], gaps: Mapping[str, float], flat: Mapping[str, float], step: float
) -> dict[str, float]:
    """The least change, each number weighed by how far it may be off, that closes the gaps."""
    slopes = {name: slope for name in free if (slope := _slope(now, name, gaps, flat, step)) is not None}
    weights = {name: (MOVES * max(_value(now, name), 20.0)) ** 2 for name in slopes}
    rows = list(gaps)
    square = [[sum(weights[name] * slopes[name][a] * slopes[name][b] for name in slopes) for b in rows]
              for a in rows]
    ridge = 1e-7 * max((square[k][k] for k in range(len(rows))), default=1.0) or 1.0
    for k in range(len(rows)):
        square[k][k] += ridge
    shares = dict(zip(rows, _solved(square, [gaps[row] for row in rows]), strict=True))
    return {name: weights[name] * sum(slopes[name][row] * shares[row] for row in rows) for name in slopes}


def _slope(
    now: Sized, name: str, gaps: Mapping[str, float], flat: Mapping[str, float], length: float
) -> dict[str, float] | None:
    """By how much each gap closes for a mm of the number; None where it closes none."""
    for step in (length, -length):
        try:
            then = _gaps(_with(now, {name: _value(now, name) + step}).pattern, flat)
        except BadInput:
            continue
        slopes = {key: (mm - then.get(key, mm)) / step for key, mm in gaps.items()}
        return slopes if any(abs(slope) > 1e-9 for slope in slopes.values()) else None
    return None


def _solved(square: list[list[float]], right: list[float]) -> list[float]:
    """source: Gaussian elimination with pivots, any text on linear equations."""
    rows = [[*row, value] for row, value in zip(square, right, strict=True)]
    for k in range(len(rows)):
        pivot = max(range(k, len(rows)), key=lambda i: abs(rows[i][k]))
        rows[k], rows[pivot] = rows[pivot], rows[k]
        for i in range(k + 1, len(rows)):
            part = rows[i][k] / rows[k][k]
            rows[i] = [a - part * b for a, b in zip(rows[i], rows[k], strict=True)]
    found = [0.0] * len(rows)
    for k in reversed(range(len(rows))):
        rest = sum(rows[k][j] * found[j] for j in range(k + 1, len(rows)))
        found[k] = (rows[k][-1] - rest) / rows[k][k]
    return found


def _honest(found: Sized, given: Mapping[str, float]) -> Sized:
    """With every measure that was not given told as an estimate."""
    off = {name: MOVES * mm for name, mm in found.body.values.items() if name not in given}
    return replace(found, body=replace(found.body, estimated=off))


def _ease(found: Sized) -> dict[str, float]:
    return {measure: found.pattern.finished[name] - found.body[measure]
            for name, measure in _BODY_OF.items()
            if name in found.pattern.finished and measure in found.body}


def flat_in_sentences(found: FlatGarment, given: Mapping[str, float]) -> tuple[str, ...]:
    """The ease that was taken off, or what there is over a body that is known; lengths as marks."""
    told = []
    for measure, mm in found.ease.items():
        body = found.sized.body[measure]
        label = label_of(measure).lower()
        if measure in given:
            how = f"{said(mm)} larger than" if mm >= 0 else f"{said(-mm)} smaller than"
            told.append(f"The garment is {how} the body's {label} of {said(body)}.")
        else:
            told.append(f"{said(mm)} of ease taken off: it would fit a {label} of {said(body)}.")
    told += [f"Measured flat, {name.replace('_', ' ')} is {said(abs(mm))} {'more' if mm > 0 else 'less'} "
             "than goes with the other measures: measure it again, or choose another cut."
             for name, mm in found.misses.items()]
    return tuple(told)
