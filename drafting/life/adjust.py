"""A fit worked out: what of the draft must change for a finished measure to be larger by just so much.

Every place has levers (fits.py). The first that moves it is set so that the finished measure comes out, by
regula falsi on the draft itself: no formula of a garment is repeated here. Whatever else of the garment
changes with it is named.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace

from ..body import MEASURES, Body
from ..garments import ChoiceOption, Garment, LengthOption
from ..garments.options import NOTHING, Options
from ..pattern import Pattern
from ..words.problems import BadInput, Problem
from ..words.wording import said
from .fits import PLACES, Fit, FitPlace, lever_title, levers_of, places_of

UNCHANGED = 0.5
"""mm by which a finished measure may differ and still be the same: what truing allows a seam."""

HARDLY = 1.0
"""mm under which two measures read the same in cm."""

STEPS = 5.0
"""mm by which a finished measure may miss what was asked for where the draft rounds it: a sleeve's top
goes by 5 mm. It is told then."""

EXACT = 1e-6
SWEEPS = 6
"""Of several fits, until none undoes another."""

FARTHEST = 8
"""Doublings of a lever's change before it is given up: 256 times what was asked for."""

STRAINED = 10.0
"""Times as far as its place a lever may be moved: beyond, something else makes that place, and the rest of
the garment would go with the lever. common practice, no source."""

MOST_TURNS = 45
"""Drafts for one place; a line that is straight takes two."""

LEFT_OPEN = ("as-needed", "as-fits")
"""Choices that leave it to the draft; settled before a fit, so that no fit changes how a garment is cut."""


@dataclass(frozen=True)
class Sized:
    """A garment with the body and the options that make it, and its pattern."""

    garment: Garment
    body: Body
    options: Options
    pattern: Pattern


@dataclass(frozen=True)
class Turned:
    """A lever that was moved, mm: an option, or a measure of the body that is drafted for."""

    name: str
    before: float
    after: float


@dataclass(frozen=True)
class Differs:
    """A finished measure that came to be another, mm."""

    name: str
    before: float
    after: float


@dataclass(frozen=True)
class Fitted:
    """Before and after. `also` are the finished measures that changed without being asked for, `missed` the
    places that the draft's own rounding keeps from just what was asked, by mm."""

    fits: tuple[Fit, ...]
    before: Sized
    after: Sized
    turned: tuple[Turned, ...]
    also: tuple[Differs, ...]
    missed: Mapping[str, float]


def sized(garment: Garment, body: Body, options: Options) -> Sized:
    """Raises BadInput as drafting does."""
    return Sized(garment, body, options, garment.draft(body, options))


def fitted(before: Sized, fits: tuple[Fit, ...]) -> Fitted:
    """The garment with every fit made at once. Raises BadInput for a place that this garment has not got,
    and for a change that it cannot be drafted with."""
    places = {place.name for place in places_of(before.garment, before.pattern)}
    missing = [fit for fit in fits if fit.place not in places]
    if missing:
        raise BadInput([Problem(
            "fits", f"{before.garment.title} as drafted has no “{fit.place}” to fit: it has "
            f"{', '.join(sorted(places))}.") for fit in missing])
    start = _settled(before)
    targets = {fit.place: _measured(start, fit.place) + fit.change for fit in fits}
    levers: dict[str, str] = {}
    now = start
    for _ in range(SWEEPS if len(targets) > 1 else 1):
        for place, target in targets.items():
            now = _moved(now, PLACES[place], target, levers)
        off = {place: _measured(now, place) - target for place, target in targets.items()}
        if all(abs(mm) < UNCHANGED / 5 for mm in off.values()):
            break
    if any(abs(mm) > STEPS for mm in off.values()):
        raise BadInput([Problem("fits", f"{_listed(fits)} work against each other on this garment: fit one "
                                "of them, try it on, and fit the other.")])
    missed = {place: mm for place, mm in off.items() if abs(mm) > UNCHANGED}
    return Fitted(fits, before, now, _turned(start, now, levers), _also(before, now, fits), missed)


def _measured(one: Sized, place: str) -> float:
    measured = PLACES[place].measured_on(one.pattern)
    if measured is None:
        raise BadInput([Problem("fits", f"With this change there is no {PLACES[place].title.lower()} left "
                                "to measure: fit it by less.")])
    return measured


def _moved(now: Sized, place: FitPlace, target: float, levers: dict[str, str]) -> Sized:
    """With the place at its target, by a lever that no other place took. Raises BadInput."""
    if abs(_measured(now, place.name) - target) < EXACT:
        return now
    free = [levers[place.name]] if place.name in levers else [
        name for name in levers_of(now.garment, place) if name not in levers.values()]
    told: list[Problem] = []
    for lever in free:
        try:
            moved = _solved(now, place, lever, target)
        except BadInput as error:
            told += error.problems
            continue
        if moved is not None:
            levers[place.name] = lever
            return moved
    change = target - _measured(now, place.name)
    way = "larger" if change > 0 else "smaller"
    because = f" {told[0].message}" if told else " Something else decides its size here."
    raise BadInput([Problem(
        "fits", f"{place.title}: it cannot be {said(abs(change))} {way} on this garment by "
        f"{_names(now.garment, free)}.{because}")])


def _names(garment: Garment, levers: list[str]) -> str:
    return " or ".join(lever_title(garment, name) for name in levers) or "anything that is not fitted already"


def _solved(now: Sized, place: FitPlace, lever: str, target: float) -> Sized | None:
    """None where the lever does not move the place so far. Raises BadInput for what cannot be drafted."""
    def gap(value: float) -> float:
        return _measured(_with(now, lever, value), place.name) - target

    now = _set_as_measured(now, place, lever)
    start = _value(now, lever)
    at_start = _measured(now, place.name) - target
    bracket = _bracket(gap, start, at_start, *_range(now, lever))
    if bracket is None:
        return None
    value = _root(gap, *bracket)
    if abs(value - start) > STRAINED * abs(at_start):
        return None
    moved = _with(now, lever, value)
    return moved if abs(_measured(moved, place.name) - target) < STEPS else None


def _set_as_measured(now: Sized, place: FitPlace, lever: str) -> Sized:
    """With an option that was left at 0, to be worked out, at what it came to, where it is just that."""
    measured = _measured(now, place.name)
    if lever in now.options.declared and not now.options[lever] and measured <= _range(now, lever)[1]:
        try:
            same = _with(now, lever, measured)
        except BadInput:
            return now
        if abs(_measured(same, place.name) - measured) < EXACT:
            return same
    return now


def _bracket(
    gap: Callable[[float], float], start: float, at_start: float, least: float, most: float
) -> tuple[float, float, float, float] | None:
    """Two values of the lever between which the gap closes, each with its gap; None where there are none."""
    step = -at_start
    for way in (1.0, -1.0):
        last, at_last = start, at_start
        for times in range(FARTHEST):
            value = min(max(start + way * step * 2**times, least), most)
            if value == last:
                break
            at_value = gap(value)
            if at_value * at_start <= 0 or abs(at_value) < EXACT:
                return last, at_last, value, at_value
            if abs(at_value) > abs(at_start) + EXACT:
                break
            last, at_last = value, at_value
    return None


def _root(gap: Callable[[float], float], a: float, at_a: float, b: float, at_b: float) -> float:
    """Where the gap closes, or at a step the side of it that is nearer.

    source: the Illinois variant of regula falsi, from memory: Dowell & Jarratt 1971; halving after it.
    """
    best, at_best = (a, at_a) if abs(at_a) < abs(at_b) else (b, at_b)
    for turn in range(MOST_TURNS):
        if abs(at_best) < EXACT or abs(a - b) < EXACT or at_a == at_b:
            break
        value = (a * at_b - b * at_a) / (at_b - at_a) if turn < MOST_TURNS / 3 else (a + b) / 2
        at_value = gap(value)
        if abs(at_value) < abs(at_best):
            best, at_best = value, at_value
        if at_value * at_b < 0:
            a, at_a = b, at_b
        elif turn < MOST_TURNS / 3:
            at_a /= 2
        b, at_b = value, at_value
    return best


def _value(one: Sized, lever: str) -> float:
    return one.options[lever] if lever in one.options.declared else one.body[lever]


def _range(one: Sized, lever: str) -> tuple[float, float]:
    """How far the lever goes; a body's measure to half and to twice itself."""
    option = one.options.declared.get(lever)
    if isinstance(option, LengthOption):
        return option.least, option.most
    return one.body[lever] / 2, one.body[lever] * 2


def _with(one: Sized, lever: str, value: float) -> Sized:
    """Drafted with the lever at another value. Raises BadInput."""
    value = value if value >= NOTHING else 0.0
    if lever in one.options.declared:
        return sized(one.garment, one.body, one.options.changed(lever, value))
    body = replace(one.body, values={**one.body.values, lever: value})
    return sized(one.garment, body, one.options)


def _settled(one: Sized) -> Sized:
    """The same garment with what was left to the draft written down: a length by its name or left at 0 as a
    number, and how it is cut as the choice that makes just these pieces."""
    options = one.options
    declared = options.declared
    named = declared.get("length_to")
    if isinstance(named, ChoiceOption) and not options.is_("length_to", named.default):
        options = options.changed("length", one.pattern.finished["length"])
        options = options.changed("length_to", named.default)
    for name, option in declared.items():
        worked_out = one.pattern.finished.get(name, 0.0)
        if isinstance(option, LengthOption) and not options[name] and worked_out:
            options = options.changed(name, worked_out)
        if isinstance(option, ChoiceOption) and options.is_(name, option.default) and (
                option.default in LEFT_OPEN):
            options = _as_chosen(one, options, option)
    return sized(one.garment, one.body, options) if options is not one.options else one


def _as_chosen(one: Sized, options: Options, option: ChoiceOption) -> Options:
    for choice in option.choices:
        if choice == option.default:
            continue
        tried = options.changed(option.name, choice)
        try:
            pattern = one.garment.draft(one.body, tried)
        except BadInput:
            continue
        if _same_pieces(pattern, one.pattern):
            return tried
    return options


def _same_pieces(a: Pattern, b: Pattern) -> bool:
    return a.finished == b.finished and [
        (p.name, p.outline, p.inner_lines) for p in a.pieces] == [
        (p.name, p.outline, p.inner_lines) for p in b.pieces]


def _turned(before: Sized, after: Sized, levers: Mapping[str, str]) -> tuple[Turned, ...]:
    return tuple(Turned(name, _value(before, name), _value(after, name)) for name in levers.values())


def _also(before: Sized, after: Sized, fits: tuple[Fit, ...]) -> tuple[Differs, ...]:
    asked = {PLACES[fit.place].stands_for(before.pattern) for fit in fits}
    old, new = before.pattern.finished, after.pattern.finished
    return tuple(
        Differs(name, old.get(name, 0.0), new.get(name, 0.0))
        for name in dict.fromkeys((*old, *new))
        if name not in asked and abs(old.get(name, 0.0) - new.get(name, 0.0)) > UNCHANGED)


def _listed(fits: tuple[Fit, ...]) -> str:
    return " and ".join(f"“{fit.place}”" for fit in fits)


def _differs(one: Differs) -> str:
    name = one.name.replace("_", " ")
    if abs(one.after - one.before) < HARDLY:
        return f"{name} by less than {said(HARDLY)}"
    return f"{name} {said(one.before)} → {said(one.after)}"


def fits_in_sentences(made: Fitted | None, begins: str = "Fitted") -> tuple[str, ...]:
    """What was changed for which place, and what else came of it; lengths as marks. None: nothing was."""
    if made is None:
        return ()
    garment, found = made.before.garment, []
    for fit in made.fits:
        place = PLACES[fit.place]
        now = place.measured_on(made.after.pattern) or 0.0
        way = "larger" if fit.change > 0 else "smaller"
        found.append(f"{begins}: {place.title.lower()} {said(abs(fit.change))} {way}, now {said(now)}.")
        if fit.place in made.missed:
            found.append(f"The draft rounds it: that is {said(abs(made.missed[fit.place]))} off.")
    for lever in made.turned:
        title = lever_title(garment, lever.name)
        if lever.name in MEASURES and lever.name not in made.before.options.declared:
            found.append(f"For that {title} is taken as {said(lever.after)} instead of {said(lever.before)}.")
        else:
            found.append(f"For that the option “{title}” is {said(lever.after)} instead of "
                         f"{said(lever.before)}.")
    if made.also:
        names = "; ".join(map(_differs, made.also))
        found.append(f"With it comes: {names}. Every other finished measure stays.")
    elif made.fits:
        found.append("Every other finished measure stays.")
    return tuple(found)
