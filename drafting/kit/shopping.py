"""Everything of a kit drafted, and laid on its bolts: what the shopping list is made of."""

from collections.abc import Generator, Iterator, Mapping
from dataclasses import dataclass, replace

from ..body import Wearer
from ..cloth import read_cloth
from ..lay.bolt import BoltLay, BoltSearch, Order
from ..pattern import Pattern
from ..problems import BadInput, Problem
from ..requests import Request, draft, name_of, unit_of
from ..units import format_length
from ..wording import spell
from .model import Kit, KitCloth, KitGarment, KitWearer

Texts = Mapping[str, str]

MAIN = "main"
FIRST_CLOTH = "cloth"
"""What a bolt is called that garments without one of their own are laid on."""

NOBODY = "the wearer"
"""Whose the one garment of a draft is that bears no name."""

SLICE = 0.1
"""Seconds of search between two words on how far it is."""

DRAFTING = 0.15
"""Part of the progress that drafting counts for, the rest being the lays."""


@dataclass(frozen=True)
class Drafted:
    """One garment of the kit with its pattern."""

    garment: KitGarment
    owner: str
    pattern: Pattern


@dataclass(frozen=True)
class Bolt:
    """One cloth of the kit, everything that is cut from it laid together."""

    name: str
    lay: BoltLay


@dataclass(frozen=True)
class Shopping:
    """What to buy; `problems` name what could not be drafted or laid and is not in the list."""

    kit: Kit
    drafted: tuple[Drafted, ...]
    bolts: tuple[Bolt, ...]
    problems: tuple[Problem, ...]


@dataclass(frozen=True)
class Progress:
    """How far it is, as a part of one, and what is being done."""

    done: float
    doing: str


def kit_of_one(request: Request) -> tuple[Kit, dict[str, Texts]]:
    """A kit of the one garment that a `draft` request asks for, and its other cloths by name.

    Raises BadInput, as drafting it does.
    """
    draft(request)

    def text(field: str) -> str | None:
        return str(request.get(field) or "") or None

    measurements, options, cloth = (
        {str(k): str(v) for k, v in dict(request.get(field) or {}).items() if v}
        for field in ("measurements", "options", "cloth")
    )
    age = str(request.get("age_months") or "")
    sex = text("sex")
    wearer = Wearer(
        name_of(request) or NOBODY, measurements, unit_of(request),
        measured=text("measured") or text("today"), sex=sex,  # type: ignore[arg-type]
        born=text("born"), age=int(age) if age.isdigit() else None,
    )
    garment = KitGarment("g1", "w1", str(request.get("garment")), options, "c1" if cloth else None)
    kit = Kit(
        unit=unit_of(request), wearers=(KitWearer("w1", wearer),),
        cloths=(KitCloth("c1", cloth),) if cloth else (), garments=(garment,),
    )
    return kit, dict(request.get("cloths") or {})


def shop(kit: Kit, *, seconds: float = 5.0) -> Shopping:
    """Drafts and lays the whole kit; `seconds` of search for each bolt."""
    steps = shop_in_steps(kit, seconds)
    while True:
        try:
            next(steps)
        except StopIteration as end:
            found: Shopping = end.value
            return found


def shop_in_steps(
    kit: Kit, seconds: float, others: Mapping[str, Texts] | None = None
) -> Generator[Progress, bool | None, Shopping]:
    """`shop`, telling how far it is every so often; `others` are linings and such, by name, as typed.

    Whoever sends True has seen enough: what is not laid yet then gets the first good lay.
    """
    drafted: list[Drafted] = []
    bolts: list[Bolt] = []
    problems: list[Problem] = []
    stopped: bool | None = False
    for number, garment in enumerate(kit.garments):
        count = len(kit.garments)
        stopped = (yield Progress(DRAFTING * number / count, f"Drafting {number + 1} of {count}")) or stopped
        try:
            drafted.append(_draft(kit, garment))
        except BadInput as error:
            problems += error.problems
    wanted = list(_bolts(kit, drafted))
    for number, (name, part, cloth_id, orders) in enumerate(wanted):
        texts = dict(kit.cloth(cloth_id).texts) if cloth_id else dict((others or {}).get(part) or {})
        try:
            search = BoltSearch(orders, read_cloth(texts, kit.unit, part), part=part)
            going_on = True
            while going_on and not stopped and search.seconds < seconds:
                done = (number + min(1.0, search.seconds / seconds)) / len(wanted)
                length = format_length(search.bolt.buy_length, kit.unit)
                stopped = yield Progress(DRAFTING + (1 - DRAFTING) * done, f"{name}: {length}")
                going_on = search.advance(SLICE)
            search.finish()
            bolts.append(Bolt(name, search.bolt))
        except BadInput as error:
            problems += [
                replace(p, message=f"{name}: {spell(p.message, kit.unit)}") for p in error.problems
            ]
    return Shopping(kit, tuple(drafted), tuple(bolts), tuple(problems))


def _draft(kit: Kit, garment: KitGarment) -> Drafted:
    """Raises BadInput that says whose garment it is."""
    owner = kit.wearer(garment.wearer)
    try:
        pattern, _, _ = draft({
            "garment": garment.garment, "measurements": dict(owner.measurements),
            "options": dict(garment.options), "unit": owner.unit, "sex": owner.sex,
            "age_months": owner.age_months,
        })
    except BadInput as error:
        raise BadInput([
            replace(p, message=f"{owner.name}, {garment.garment}: {spell(p.message, kit.unit)}")
            for p in error.problems
        ]) from None
    return Drafted(garment, owner.name, pattern)


def _bolts(
    kit: Kit, drafted: list[Drafted]
) -> Iterator[tuple[str, str, str | None, list[Order]]]:
    """For each cloth that something is cut from: its name, the part of the garments that is cut from it,
    its id in the kit, and the garments. Linings, which no kit names a cloth for, come last."""
    for cloth_id in dict.fromkeys(d.garment.cloth for d in drafted):
        name = kit.cloth(cloth_id).texts.get("name") if cloth_id else None
        yield name or FIRST_CLOTH, MAIN, cloth_id, [
            Order(d.pattern, d.owner) for d in drafted if d.garment.cloth == cloth_id
        ]
    for part in dict.fromkeys(p.cloth for d in drafted for p in d.pattern.pieces if p.cloth != MAIN):
        yield part, part, None, [
            Order(d.pattern, d.owner) for d in drafted if any(p.cloth == part for p in d.pattern.pieces)
        ]
