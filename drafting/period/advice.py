"""Advice on a choice: is it right for the time, the place and the rank, who says so, and what would be.

It advises and never forbids. Whoever runs the event decides.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from ..garments import GARMENTS
from .choice import Choice, title_of
from .dyes import COSTS_FROM, DYES, NOT_TO_BE_HAD
from .findings import SEVERITIES, Finding, Severity, best_dye, can_be_had, dyed_subject, findings
from .instead import Alternative, alternatives
from .places import EARLIEST, LATEST, RANKS, REGIONS, Years, said_years
from .statements import Statement, Sureness, statements
from .things import THINGS, Topic

ORGANISER_FIRST = (
    "This is advice, not a rule. The organiser's own rules come first: ask before you buy the cloth."
)


@dataclass(frozen=True)
class Ground:
    """One sentence that the advice rests on."""

    says: str
    sure: Sureness
    source: str
    dispute: str = ""
    title: str = ""


@dataclass(frozen=True)
class Advice:
    """What is to be said of one thing chosen, for some of the years asked for.

    `field` is what the page would change. `ground` is the sentence to show, `more` are the others.
    """

    topic: str
    field: str
    subject: str
    title: str
    severity: Severity
    years: Years
    headline: str
    ground: Ground
    more: tuple[Ground, ...] = ()
    alternatives: tuple[Alternative, ...] = ()


def advise(choice: Choice) -> tuple[Advice, ...]:
    """Advice on everything chosen: the land, the garment and its cut, cloth, colour and finish.

    Where the years asked for are judged differently there is one piece of advice for each part of them.
    """
    return (
        *(a for a in _told(choice, "place", choice.region, "region") if a.severity == "wrong"),
        *_told(choice, "garment", choice.garment, "garment"),
        *_cuts(choice),
        *_things(choice, "fibre", "weave"),
        *_colours(choice),
        *_things(choice, "thread", "trim", "fastening", "making"),
        *(_told(choice, "wearer", "child", "wearer") if choice.child else ()),
    )


def worst(advice: Iterable[Advice]) -> Severity:
    """The severest of them; right where there are none."""
    return max((a.severity for a in advice), key=SEVERITIES.index, default="right")


def _told(choice: Choice, topic: str, subject: str, field: str) -> Iterator[Advice]:
    for finding in findings(choice, topic, subject):
        yield _advice(choice, topic, subject, field, finding)


def _advice(choice: Choice, topic: str, subject: str, field: str, finding: Finding) -> Advice:
    title = title_of(topic, subject)
    if topic == "dyed":
        title = f"Dyed {THINGS['fibre'][choice.fibre or 'linen'].title}"
    grounds = [_ground(s) for s in (*_closest_first(finding.judging), *_closest_first(finding.notes))]
    if finding.severity == "unknown":
        grounds.insert(0, Ground(
            f"Nothing here speaks of this for {RANKS[choice.rank].title} in "
            f"{REGIONS[choice.region].title}: ask your organiser.", "disputed", COSTS_FROM,
        ))
    return Advice(
        topic, field, subject, title, finding.severity, finding.years,
        _headline(choice, title, finding), grounds[0], tuple(grounds[1:]),
        () if finding.severity in ("right", "note") else alternatives(choice, topic, subject, field),
    )


def _ground(statement: Statement) -> Ground:
    return Ground(statement.says, statement.sure, statement.source, statement.dispute)


def _closest_first(held: Iterable[Statement]) -> list[Statement]:
    """The statement about the fewest regions and years first: it speaks most to the case."""
    return sorted(held, key=lambda s: (len(s.regions), s.years[1] - s.years[0]))


def _headline(choice: Choice, title: str, finding: Finding) -> str:
    judging = finding.judging
    if finding.severity == "unknown":
        return f"{title}: nothing is known here, {said_years(finding.years)}"
    if not judging:
        return title
    if judging[0].topic == "place":
        return f"{title}: too early, {said_years(finding.years)}"
    words = [f"{title}: {finding.severity}"]
    if any(s.ranks != frozenset(RANKS) for s in judging):
        words.append(f"for {RANKS[choice.rank].title}")
    elif choice.wearer != GARMENTS[choice.garment].usual_wearer and any(len(s.who) == 1 for s in judging):
        words.append(f"for a {choice.wearer}")
    if any(s.regions != frozenset(REGIONS) for s in judging):
        words.append(f"in {REGIONS[choice.region].title}")
    if any(s.years != (EARLIEST, LATEST) for s in judging) or finding.years != choice.years:
        return f"{' '.join(words)}, {said_years(finding.years)}"
    everywhere = len(words) == 1 and finding.severity == "wrong"
    return f"{words[0]} for the time" if everywhere else " ".join(words)


def _cuts(choice: Choice) -> Iterator[Advice]:
    """What is said of the garment's options; where nothing is, nothing is told."""
    for name, value in choice.options.items():
        subject = f"{choice.garment}.{name}={value}"
        if ("cut", subject) in statements():
            for advice in _told(choice, "cut", subject, f"options.{name}"):
                if advice.severity != "unknown":
                    yield advice


def _things(choice: Choice, *topics: Topic) -> Iterator[Advice]:
    for topic in topics:
        subject = choice.thing(topic)
        if subject is not None:
            yield from _told(choice, topic, subject, topic)


# --- Colours --------------------------------------------------------------------------------------


def _colours(choice: Choice) -> Iterator[Advice]:
    """Advice on the dye; where a colour may mean several, on the one that suits best."""
    if not choice.colours:
        return
    best = best_dye(choice)
    if not can_be_had(choice, best):
        yield _not_on_this_fibre(choice, best)
        return
    others = tuple(
        replace(_ground(f.judging[0]), title=f"{title_of('dye', name)}: {f.severity}, {said_years(f.years)}")
        for name in choice.colours if name != best and DYES[name].cost < NOT_TO_BE_HAD
        for f in findings(choice, "dye", name) if f.judging
    )
    for advice in _told(choice, "dye", best, "colour"):
        yield replace(advice, more=(*advice.more, *others))
    yield from _told_dyed(choice, best)


def _told_dyed(choice: Choice, dye: str) -> Iterator[Advice]:
    subject = dyed_subject(choice, dye)
    if subject is not None:
        yield from _told(choice, "dyed", subject, "colour")


def _not_on_this_fibre(choice: Choice, dye: str) -> Advice:
    title = title_of("dye", dye)
    fibre = THINGS["fibre"][choice.fibre or ""].title
    return Advice(
        "dye", "colour", dye, title, "wrong", choice.years, f"{title}: wrong on {fibre}",
        Ground(f"{title} is {DYES[dye].made_of}: it is not seen on {fibre}.", "sure", COSTS_FROM),
        alternatives=alternatives(choice, "dye", dye, "colour"),
    )
