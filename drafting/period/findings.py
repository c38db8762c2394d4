"""What the statements say of a thing chosen, year by year, and which dye a colour is best taken for."""

from dataclasses import dataclass
from typing import Literal

from ..body.growth import Sex
from ..garments import Garment
from .choice import Choice
from .dyes import DYES
from .places import Years
from .statements import Statement, statements

Severity = Literal["right", "note", "unknown", "unusual", "wrong"]
SEVERITIES: tuple[Severity, ...] = ("right", "note", "unknown", "unusual", "wrong")
"""From least to most to think about."""

PLANT_FIBRES = frozenset(("linen", "hemp", "nettle"))


@dataclass(frozen=True)
class Finding:
    """What the statements say of a subject for some years: those that judge agree with each other."""

    years: Years
    severity: Severity
    judging: tuple[Statement, ...]
    notes: tuple[Statement, ...]


def findings(choice: Choice, topic: str, subject: str) -> tuple[Finding, ...]:
    """The years asked for, cut where what is said of the subject changes, in order and without gaps."""
    first, last = choice.years
    held = [
        s for s in statements().get((topic, subject), ())
        if s.years[0] <= last and s.years[1] >= first
        and choice.region in s.regions and choice.rank in s.ranks and choice.wearer in s.who
        and (s.garments is None or choice.garment in s.garments)
    ]
    starts = {first, *(s.years[0] for s in held), *(s.years[1] + 1 for s in held)}
    cuts = sorted(year for year in starts if first <= year <= last)
    found: list[Finding] = []
    for start, end in zip(cuts, [*(year - 1 for year in cuts[1:]), last], strict=True):
        now = [s for s in held if s.years[0] <= start <= s.years[1]]
        judging = tuple(s for s in now if s.judges)
        notes = tuple(s for s in now if not s.judges)
        if judging:
            severity: Severity = max((s.verdict for s in judging), key=SEVERITIES.index)
        else:
            severity = "note" if notes else "unknown"
        if found and found[-1].severity == severity:
            before = found.pop()
            start = before.years[0]
            judging = tuple(dict.fromkeys((*before.judging, *judging)))
            notes = tuple(dict.fromkeys((*before.notes, *notes)))
        found.append(Finding((start, end), severity, judging, notes))
    return tuple(found)


def usually_worn_by(garment: Garment) -> Sex | None:
    """Whose garment it usually is; None where nothing is said against anyone's wearing it."""
    other = "man" if garment.usual_wearer == "woman" else "woman"
    against = any(
        s.who == {other} and s.verdict in ("unusual", "wrong")
        for s in statements().get(("garment", garment.name), ())
    )
    return garment.usual_wearer if against else None


def severity_of(choice: Choice, topic: str, subject: str) -> Severity:
    """The severest finding over all the years asked for."""
    return max((f.severity for f in findings(choice, topic, subject)), key=SEVERITIES.index)


# --- Colours --------------------------------------------------------------------------------------


def best_dye(choice: Choice) -> str:
    """Of the dyes that the colour may mean, the one most right for the choice; the cheapest of equals."""
    def merit(name: str) -> tuple[bool, int, int]:
        severity = max(
            severity_of(choice, "dye", name), dyed_severity(choice, name), key=SEVERITIES.index
        )
        return not can_be_had(choice, name), SEVERITIES.index(severity), DYES[name].cost

    return min(choice.colours, key=merit)


def can_be_had(choice: Choice, dye: str) -> bool:
    """Whether the fibre chosen, if any, can have that colour: no linen grows grey as a fleece does."""
    return choice.fibre is None or DYES[dye].tones(as_dyed(choice.fibre)) is not None


def as_dyed(fibre: str) -> str:
    """The fibre whose tones this one takes: the modern ones are shown as what they imitate."""
    return "linen" if fibre in PLANT_FIBRES | {"cotton", "half-linen", "viscose"} else "wool"


def dyed_subject(choice: Choice, dye: str) -> str | None:
    """The subject of the topic `dyed` that speaks of this dye on this fibre; None where none does."""
    if choice.fibre not in PLANT_FIBRES or DYES[dye].grown:
        return None
    return "linen woad" if dye.startswith("woad") else "linen"


def dyed_severity(choice: Choice, dye: str) -> Severity:
    subject = dyed_subject(choice, dye)
    return "right" if subject is None else severity_of(choice, "dyed", subject)


def colour_is_right(choice: Choice, dye: str) -> bool:
    """Right for all the years, as a dye and on the fibre chosen."""
    return (
        can_be_had(choice, dye)
        and severity_of(choice, "dye", dye) == "right"
        and dyed_severity(choice, dye) == "right"
    )
