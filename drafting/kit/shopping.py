"""Everything of a kit drafted, and laid on its bolts: what the shopping list is made of."""

from collections.abc import Generator, Iterator, Mapping
from dataclasses import dataclass, replace

from ..body import Wearer
from ..cloth.cloth import read_cloth
from ..desk.requests import Request, draft, name_of, parts_of, unit_of
from ..lay.bolt import BoltLay, BoltSearch, ToCut
from ..pattern import Pattern
from ..words.problems import BadInput, Problem
from ..words.units import format_length
from ..words.wording import spell
from .model import Kit, KitCloth, KitGarment, KitWearer, title_of

Texts = Mapping[str, str]

MAIN = "main"
FIRST_CLOTH = "cloth"
"""What a bolt is called that garments without one of their own are laid on."""

ELSEWHERE = "elsewhere"
"""What a piece's cloth is called while another one is laid."""

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
class ShopProgress:
    """How far it is, as a part of one, and what is being done."""

    done: float
    doing: str


def kit_of_one(request: Request) -> Kit:
    """A kit of the one garment that a `draft` request asks for, with its cloths.

    Raises BadInput, as drafting it does.
    """
    draft(request)

    def text(field: str) -> str | None:
        return str(request.get(field) or "") or None

    measurements, options, main = (
        {str(k): str(v) for k, v in dict(request.get(field) or {}).items() if v}
        for field in ("measurements", "options", "cloth")
    )
    further = request.get("cloths")
    cloths = {MAIN: main, **(further if isinstance(further, Mapping) else {})}
    given = {str(part): texts for part, texts in cloths.items() if texts and isinstance(texts, Mapping)}
    ids = {part: f"c{number}" for number, part in enumerate(given, 1)}
    age = str(request.get("age_months") or "")
    sex = text("sex")
    wearer = Wearer(
        name_of(request) or NOBODY, measurements, unit_of(request),
        measured=text("measured") or text("today"), sex=sex,  # type: ignore[arg-type]
        born=text("born"), age=int(age) if age.isdigit() else None,
    )
    return Kit(
        unit=unit_of(request), wearers=(KitWearer("w1", wearer),),
        cloths=tuple(
            KitCloth(ids[part], {str(k): str(v) for k, v in texts.items() if v})
            for part, texts in given.items()
        ),
        garments=(KitGarment("g1", "w1", str(request.get("garment")), options, ids),),
    )


def shop(kit: Kit, *, seconds: float = 5.0) -> Shopping:
    """Drafts and lays the whole kit; `seconds` of search for each bolt."""
    steps = shop_in_steps(kit, seconds)
    while True:
        try:
            next(steps)
        except StopIteration as end:
            found: Shopping = end.value
            return found


def shop_in_steps(kit: Kit, seconds: float) -> Generator[ShopProgress, bool | None, Shopping]:
    """`shop`, telling how far it is every so often.

    Whoever sends True has seen enough: what is not laid yet then gets the first good lay.
    """
    drafted: list[Drafted] = []
    bolts: list[Bolt] = []
    problems: list[Problem] = []
    stopped: bool | None = False
    for number, garment in enumerate(kit.garments):
        count = len(kit.garments)
        begun = ShopProgress(DRAFTING * number / count, f"Drafting {number + 1} of {count}")
        stopped = (yield begun) or stopped
        try:
            drafted.append(_draft(kit, garment))
        except BadInput as error:
            problems += error.problems
    wanted = list(_bolts(kit, drafted))
    for number, (name, part, texts, orders) in enumerate(wanted):
        try:
            search = BoltSearch(orders, read_cloth(texts, kit.unit, part), part=part)
            going_on = True
            while going_on and not stopped and search.seconds < seconds:
                done = (number + min(1.0, search.seconds / seconds)) / len(wanted)
                length = format_length(search.bolt.buy_length, kit.unit)
                stopped = yield ShopProgress(DRAFTING + (1 - DRAFTING) * done, f"{name}: {length}")
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
    owner, name = kit.wearer(garment.wearer), kit.called(garment.wearer)
    try:
        pattern, _, _ = draft({
            "garment": garment.garment, "measurements": dict(owner.measurements),
            "options": dict(garment.options), "unit": owner.unit, "sex": owner.sex,
            "age_months": owner.age_months,
        })
    except BadInput as error:
        raise BadInput([
            replace(p, message=f"{name}, {title_of(garment.garment)}: {spell(p.message, kit.unit)}")
            for p in error.problems
        ]) from None
    return Drafted(garment, name, pattern)


def _bolts(
    kit: Kit, drafted: list[Drafted]
) -> Iterator[tuple[str, str, Texts, list[ToCut]]]:
    """For each cloth that something is cut from: its name, what its pieces call it, its fields as typed,
    and the garments. What no cloth was chosen for is laid on a bolt for each part."""
    uses: dict[tuple[str | None, str], list[tuple[Drafted, str]]] = {}
    parts = [(d, part) for d in drafted for part in parts_of(d.pattern)]
    for d, part in sorted(parts, key=lambda use: use[1] != MAIN):
        cloth_id = d.garment.cloths.get(part)
        uses.setdefault((cloth_id, "" if cloth_id else part), []).append((d, part))
    names: list[str] = []
    for (cloth_id, _), found in uses.items():
        texts = dict(kit.cloth(cloth_id).texts) if cloth_id else {}
        each = dict.fromkeys(part for _, part in found)
        part = next(iter(each)) if len(each) == 1 else MAIN
        names.append(_another(_called(texts) or (FIRST_CLOTH if part == MAIN else part), names))
        yield names[-1], part, texts, list(_orders(found, part))


def _orders(found: list[tuple[Drafted, str]], part: str) -> Iterator[ToCut]:
    """Each garment once, with all that is cut from this cloth named as its `part`."""
    parts: dict[str, tuple[Drafted, set[str]]] = {}
    for drafted, named in found:
        parts.setdefault(drafted.garment.id, (drafted, set()))[1].add(named)
    for drafted, here in parts.values():
        pattern = drafted.pattern
        if here != {part}:
            pattern = pattern.with_pieces(tuple(
                replace(piece, cloth=part if piece.cloth in here else ELSEWHERE) for piece in pattern.pieces
            ))
        yield ToCut(pattern, drafted.owner)


def _called(texts: Texts) -> str:
    """A cloth by its name, or by how it looks."""
    looks = " ".join(text for key in ("colour", "fibre") if (text := str(texts.get(key) or "").strip()))
    return str(texts.get("name") or "").strip() or looks


def _another(name: str, taken: list[str]) -> str:
    """The name, with a number when another cloth has it already."""
    found, number = name, 2
    while found in taken:
        found, number = f"{name} ({number})", number + 1
    return found
