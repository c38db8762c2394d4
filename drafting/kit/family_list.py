"""A family's season as one list: what fits until when, the work of letting out, what goes to whom, what is
new."""

from collections.abc import Iterator

from ..life.alteration import Alteration, AlterStep
from ..life.fits import PLACES
from ..sewing.as_json import span_in_words, time_in_words
from ..sewing.naming import capital, listed
from ..words.units import Unit, format_length
from ..words.wording import spell
from .family import FamilySeason, SeasonGarment
from .listing import Listing, ListRow, ListSection


def season_listing(
    season: FamilySeason, unit: Unit, title: str = "", *, steps: bool = False
) -> Listing:
    """One page for the family, to read, print or paste into a message; the work of letting out in sums, or
    step by step."""
    owners = list(dict.fromkeys(one.owner for one in season.garments))
    parts = [ListSection(owner, tuple(_row(one, unit) for one in season.garments if one.owner == owner))
             for owner in owners]
    parts += [_letting_out(one, one.work, unit, steps) for one in season.garments
              if one.work and one.work.steps]
    parts.append(ListSection("To hand on", tuple(_handing(season))))
    parts.append(ListSection("To make new", tuple(ListRow(what) for what in season.new), to_buy=True))
    parts.append(ListSection("Not told", (), tuple(p.message for p in season.problems)))
    if not season.garments:
        parts.insert(0, ListSection("Nobody in this kit still grows", (), (
            "A child from two to twenty years, with date of birth and day of measuring, would be told of.",)))
    named = f"{title}: the season" if title else "The season"
    return Listing(f"{named} from {season.date}", tuple(part for part in parts if part.rows or part.notes))


def _row(one: SeasonGarment, unit: Unit) -> ListRow:
    if one.outgrown:
        return ListRow(one.title, "outgrown",
                       f"{_part(one.outlook.then)} gave out {_since(one.until_let_out)}")
    if one.fits:
        until = f"fits until {one.until}" if one.until else "fits for five years and longer"
        return ListRow(one.title, until, f"then {_part(one.outlook.first)} gives out" if one.until else "")
    lets = ", ".join(f"{PLACES[fit.place].title.lower()} {format_length(fit.change, unit)}"
                     for fit in one.lets)
    until = f"until {one.until_let_out}" if one.until_let_out else "for five years and longer"
    if lets:
        return ListRow(one.title, "to let out now", f"by {lets}: then it fits {until}")
    return ListRow(one.title, f"fits until {one.until}", f"then {_part(one.outlook.first)} gives out")


def _part(name: str) -> str:
    return name.strip("“”")


def _since(month: str) -> str:
    return f"about {month}" if month else "before now"


def _letting_out(one: SeasonGarment, work: Alteration, unit: Unit, steps: bool) -> ListSection:
    note = f"About {span_in_words(work.work.minutes)}, {work.work.thread / 1000:.0f} m of thread."
    rows = [_step(step, unit) for step in work.steps] if steps else list(_sums(work, unit))
    return ListSection(f"Letting out {one.owner}'s {one.title.lower()}", tuple(rows), (note,))


def _sums(work: Alteration, unit: Unit) -> Iterator[ListRow]:
    """A row for each kind of work, in the order in which it is done."""
    kinds = list(dict.fromkeys(step.kind for step in work.steps))
    for kind in kinds:
        same = [step for step in work.steps if step.kind == kind]
        length, minutes = (sum(values) for values in (
            (step.length for step in same), (step.work.minutes for step in same)))
        said = same[0].sentences if kind in ("cut", "try-on") else ()
        remark = " ".join(spell(one, unit) for step in same for one in step.sentences) if said else ""
        if kind == "unpick":
            remark = listed(work.opened)
        amount = [format_length(length, unit) if length else "", time_in_words(minutes)]
        yield ListRow(capital(kind), ", ".join(filter(None, amount)), remark)


def _step(step: AlterStep, unit: Unit) -> ListRow:
    length = format_length(step.length, unit) if step.length else ""
    amount = ", ".join(filter(None, (length, time_in_words(step.work.minutes))))
    return ListRow(step.title, amount, " ".join(spell(one, unit) for one in step.sentences))


def _handing(season: FamilySeason) -> Iterator[ListRow]:
    for one in season.garments:
        if one.outlook.can_be_let_out(one.months) and not one.to:
            continue
        when = "now" if one.outgrown else f"after {one.until_let_out}"
        who = "; ".join(f"fits {to.name} from about {to.since}{f' to {to.until}' if to.until else ''}"
                        for to in one.to)
        yield ListRow(f"{one.owner}'s {one.title.lower()}", when,
                      who or "fits nobody in this kit: cut it again")
