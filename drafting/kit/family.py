"""A family's next season, from its kit alone: what fits until when, what to let out, hand on and make new.

Everything is told for one day. Garments of wearers who no longer grow are left as they are; the grown may
be handed something all the same.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field

from ..body import Body, Wearer, is_date
from ..body.growth import month_name
from ..both.lives import has_it_now
from ..checks.growing import OUTLOOK, months_between
from ..desk.drafts import Draft, draft, sewing_choices
from ..garments import GARMENTS
from ..life.adjust import Sized
from ..life.alteration import Alteration, alteration
from ..life.as_altered import as_altered
from ..life.fits import Fit
from ..life.season import SEASON, Outlook, fits_other, grows, let_on_the_cloth, outlook, to_let
from ..words.problems import BadInput, Problem
from .model import Kit, KitGarment
from .orders import altered_fits, body_of, order_of

WHOLE = "its size"
"""What gives out of a garment that was cut for another."""

MOST_HANDED = 3
"""Wearers named for one garment."""


@dataclass(frozen=True)
class HandedOn:
    """Who could have a garment, and from which month to which it fits them."""

    name: str
    since: str
    until: str


@dataclass(frozen=True)
class SeasonGarment:
    """One child's garment on the day. `months` since it was measured for; dates are month names, "" for
    longer than is looked ahead. `lets` and `work` are what to let out now; `to` whom it can go to when it
    is outgrown."""

    owner: str
    title: str
    outlook: Outlook
    months: int
    until: str
    until_let_out: str
    lets: tuple[Fit, ...] = ()
    work: Alteration | None = None
    to: tuple[HandedOn, ...] = ()

    @property
    def fits(self) -> bool:
        """Through the season as it is."""
        return self.outlook.fits(self.months + SEASON)

    @property
    def outgrown(self) -> bool:
        """On the day, whatever is let out."""
        return not self.outlook.can_be_let_out(self.months)


@dataclass(frozen=True)
class FamilySeason:
    """The garments of those who grow, by wearer, and what could not be told."""

    date: str
    garments: tuple[SeasonGarment, ...]
    problems: tuple[Problem, ...] = ()
    new: tuple[str, ...] = field(default=())


@dataclass(frozen=True)
class _Owned:
    """A garment as it was drafted, and as it is now with what was altered on it."""

    entry: KitGarment
    owner: str
    wearer: Wearer
    drafted: Draft
    now: Sized


def family_season(kit: Kit, date: str) -> FamilySeason:
    """What the day asks for. Raises BadInput for a text that is no date, and for a day before a wearer was
    born or measured."""
    _must_be_after(kit, date)
    problems: list[Problem] = []
    owned = tuple(_owned(kit, problems))
    garments = tuple(found for one in owned
                     if (found := _told(kit, one, date, problems)) is not None)
    return FamilySeason(date, garments, tuple(problems), tuple(_new(garments)))


def _must_be_after(kit: Kit, date: str) -> None:
    if not is_date(date):
        raise BadInput([Problem("date", f"“{date[:20]}” is no date: write it as 2027-04-01.")])
    problems = []
    for entry in kit.wearers:
        wearer, name = entry.wearer, kit.called(entry.id)
        if wearer.born and date < wearer.born:
            problems.append(Problem("date", f"On {date} {name} is not born yet ({wearer.born}): choose a "
                                    "later day."))
        elif wearer.measured and date < wearer.measured:
            problems.append(Problem("date", f"{name} was measured on {wearer.measured}, after {date}: choose "
                                    "a later day."))
    if problems:
        raise BadInput(problems)


def _owned(kit: Kit, problems: list[Problem]) -> Iterator[_Owned]:
    for entry in kit.garments:
        owner = kit.called(entry.wearer)
        try:
            drafted = draft(order_of(kit, entry))
            order = drafted.order
            cut = Sized(order.garment, order.body, order.options, drafted.pattern)
            now = as_altered(cut, altered_fits(kit, entry))
            yield _Owned(entry, owner, kit.wearer(entry.wearer), drafted, now)
        except BadInput as error:
            problems += [Problem(p.field, f"{owner}'s {entry.garment.replace('-', ' ')}: {p.message}")
                         for p in error.problems]


def _told(kit: Kit, one: _Owned, date: str, problems: list[Problem]) -> SeasonGarment | None:
    """None for a wearer who does not grow, and for one of whom it cannot be told, which becomes a problem."""
    body, wearer = one.drafted.order.body, one.wearer
    has_it = has_it_now(one.entry.as_values())  # type: ignore[no-untyped-call]
    if has_it != one.entry.wearer:
        return _told_of_another(kit, one, has_it, date, problems) if has_it else None
    if not grows(body.age_months):
        return None
    if wearer.measured is None:
        problems.append(Problem("measured", f"{one.owner}: when the tape was taken is not said, so that no "
                                "month can be named. Put the date to the measurements."))
        return None
    if "stature" not in body.measured:
        problems.append(Problem("stature", f"{one.owner}: to say how long this will fit, the child's height "
                                "is needed: please measure it."))
        return None
    age, months = body.age_months or 0, months_between(wearer.measured, date)
    meant = one.drafted.pattern
    ahead = outlook(one.now.pattern, body, age, meant)
    lets: tuple[Fit, ...] = ()
    work = None
    if not ahead.fits(months + SEASON) and ahead.can_be_let_out(months):
        lets, cloth = let_on_the_cloth(one.now, to_let(one.now, age, months, meant))
        work = alteration(one.now.pattern, cloth, sewing_choices(one.drafted)) if cloth else None
    return SeasonGarment(
        one.owner, one.drafted.pattern.title, ahead, months,
        _month(wearer.measured, ahead.as_it_is), _month(wearer.measured, ahead.let_out), lets, work,
        () if ahead.can_be_let_out(months + SEASON) else tuple(_handed(kit, one, date))[:MOST_HANDED],
    )


def _told_of_another(
    kit: Kit, one: _Owned, wearer: str, date: str, problems: list[Problem]
) -> SeasonGarment | None:
    """Of a garment that was handed on, for who has it now; None as above."""
    body, measured, name = _body(kit, one, wearer), kit.wearer(wearer).measured, kit.called(wearer)
    title = f"{one.drafted.pattern.title}, from {one.owner}"
    if body is None or not grows(body.age_months):
        return None
    span = fits_other(one.now, GARMENTS[one.entry.garment], body, body.age_months)
    if span is None or measured is None:
        why = ("by these measurements it does not fit within five years" if measured
               else "when the tape was taken is not said")
        problems.append(Problem("measured", f"{name}: {title.lower()}: {why}."))
        return None
    last = None if span[1] >= OUTLOOK else span[1]
    until = _month(measured, last)
    ahead = Outlook(last, last, WHOLE, WHOLE)
    return SeasonGarment(name, title, ahead, months_between(measured, date), until, until)


def _month(measured: str, months: int | None) -> str:
    return "" if months is None else month_name(measured, months)


def _handed(kit: Kit, one: _Owned, date: str) -> Iterator[HandedOn]:
    """Those who can wear it after this day, who will soonest first."""
    garment, found = GARMENTS[one.entry.garment], []
    for entry in kit.wearers:
        if entry.id == one.entry.wearer:
            continue
        body, measured = _body(kit, one, entry.id), entry.wearer.measured or date
        if body is None:
            continue
        span = fits_other(one.now, garment, body, body.age_months)
        since = months_between(measured, date)
        if span and span[1] >= since:
            found.append((max(span[0], since), HandedOn(
                kit.called(entry.id), month_name(measured, max(span[0], since)),
                month_name(measured, span[1]) if grows(body.age_months) else "")))
    yield from (handed for _, handed in sorted(found, key=lambda pair: pair[0]))


def _body(kit: Kit, one: _Owned, wearer: str) -> Body | None:
    """Another wearer's body with all that the garment needs; None where that is not known."""
    try:
        body, _ = body_of(kit.wearer(wearer), GARMENTS[one.entry.garment])
    except BadInput:
        return None
    return body


def _new(garments: tuple[SeasonGarment, ...]) -> Iterator[str]:
    """“Ebba: tunic”, for what a child outgrows and nobody hands on."""
    handed = {(handed.name, garment.title)
              for garment in garments if garment.outgrown for handed in garment.to}
    for garment in garments:
        if garment.outgrown and (garment.owner, garment.title) not in handed:
            yield f"{garment.owner}: {garment.title.lower()}"
