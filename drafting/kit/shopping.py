"""Everything of a kit drafted, and laid on its bolts: what the shopping list is made of."""

from collections.abc import Generator, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from time import perf_counter
from typing import TypeVar

from ..cloth.cloth import Cloth
from ..desk.drafts import Draft, draft
from ..desk.order import MAIN
from ..desk.steps import at_one_go
from ..lay.bolt import BoltLay, BoltSearch, ToCut
from ..pattern import Pattern
from ..words.problems import BadInput, Problem
from ..words.units import Unit, format_length
from ..words.wording import spell
from .model import Kit, KitGarment, title_of
from .orders import order_of

Made = TypeVar("Made")

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
    """One garment's draft, whose it is, and which of the kit's cloths its parts are cut from, by id;
    `entry` is the garment in the kit, where it is in one."""

    owner: str
    draft: Draft
    cloth_ids: Mapping[str, str] = field(default_factory=dict)
    entry: KitGarment | None = None

    @property
    def pattern(self) -> Pattern:
        return self.draft.pattern


@dataclass(frozen=True)
class Bolt:
    """One cloth of the kit, everything that is cut from it laid together."""

    name: str
    lay: BoltLay


@dataclass(frozen=True)
class Shopping:
    """What to buy; `problems` name what could not be drafted or laid and is not in the list."""

    title: str
    drafted: tuple[Drafted, ...]
    bolts: tuple[Bolt, ...]
    problems: tuple[Problem, ...]


@dataclass(frozen=True)
class ShopProgress:
    """How far it is, as a part of one, and what is being done."""

    done: float
    doing: str


Shopped = Generator[ShopProgress, bool | None, Shopping]


def shop(kit: Kit, *, seconds: float = 5.0) -> Shopping:
    """Drafts and lays the whole kit; `seconds` of search for each bolt."""
    return at_one_go(shop_in_steps(kit, seconds))


def shop_in_steps(kit: Kit, seconds: float) -> Shopped:
    """`shop`, telling how far it is every so often.

    Whoever sends True has seen enough: what is not laid yet then gets the first good lay.
    """
    drafted: list[Drafted] = []
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
    return (yield from _laid(kit.title, kit.unit, drafted, problems, seconds, bool(stopped)))


def shop_for_one(drafted: Draft, seconds: float) -> Shopped:
    """The same for one garment, as `shop_in_steps` tells it; each of its cloths is a bolt."""
    order = drafted.order
    parts = order.cloths.read if order.cloths else {}
    one = Drafted(order.name or NOBODY, drafted, {part: part for part in parts})
    return _laid("", order.unit, [one], [], seconds, False)


def _laid(
    title: str, unit: Unit, drafted: Sequence[Drafted], problems: list[Problem], seconds: float,
    stopped: bool,
) -> Shopped:
    bolts: list[Bolt] = []
    enough: bool | None = stopped
    wanted = list(_bolts(drafted))
    for number, (name, part, cloth, to_cut, pieced) in enumerate(wanted):
        try:
            ahead = ShopProgress(
                DRAFTING + (1 - DRAFTING) * number / len(wanted), f"{name}: spreading {len(to_cut)} garments")
            search, stopped = yield from _told(BoltSearch.in_steps(to_cut, cloth, part=part), ahead)
            enough = stopped or enough
            going_on = True
            while going_on and not enough and search.seconds < seconds:
                done = (number + min(1.0, search.seconds / seconds)) / len(wanted)
                length = format_length(search.buy_length, unit)
                enough = yield ShopProgress(DRAFTING + (1 - DRAFTING) * done, f"{name}: {length}")
                going_on = search.advance(SLICE)
            done = DRAFTING + (1 - DRAFTING) * (number + 1) / len(wanted)
            laying = ShopProgress(done, f"{name}: laying {len(to_cut)} garments")
            _, stopped = yield from _told(search.finishing(SLICE), laying)
            enough = stopped or enough
            lay = search.bolt
            bolts.append(Bolt(name, replace(lay, notes=(*pieced, *lay.notes))))
        except BadInput as error:
            problems += [replace(p, message=f"{name}: {spell(p.message, unit)}") for p in error.problems]
    return Shopping(title, tuple(drafted), tuple(bolts), tuple(problems))


def _told(
    steps: Generator[None, None, Made], said: ShopProgress
) -> Generator[ShopProgress, bool | None, tuple[Made, bool]]:
    """What the steps come to, and whether who watches has seen enough; told at most every SLICE seconds."""
    enough, last = False, 0.0
    while True:
        try:
            next(steps)
        except StopIteration as end:
            return end.value, enough
        if perf_counter() - last >= SLICE:
            enough = bool((yield said)) or enough
            last = perf_counter()


def _draft(kit: Kit, garment: KitGarment) -> Drafted:
    """Raises BadInput that says whose garment it is."""
    name = kit.called(garment.wearer)
    try:
        return Drafted(name, draft(order_of(kit, garment)), garment.cloths, garment)
    except BadInput as error:
        raise BadInput([
            replace(p, message=f"{name}, {title_of(garment.garment)}: {spell(p.message, kit.unit)}")
            for p in error.problems
        ]) from None


def _bolts(
    drafted: Sequence[Drafted],
) -> Iterator[tuple[str, str, Cloth, list[ToCut], tuple[str, ...]]]:
    """For each cloth that something is cut from: its name, what its pieces call it, the cloth, the
    garments, and notes on which pieces are pieced. What no cloth was chosen for is laid on a bolt for each
    part."""
    uses: dict[tuple[str | None, str], list[tuple[Drafted, str]]] = {}
    parts = [(d, part) for d in drafted for part in d.draft.parts]
    for d, part in sorted(parts, key=lambda use: use[1] != MAIN):
        cloth_id = d.cloth_ids.get(part)
        uses.setdefault((cloth_id, "" if cloth_id else part), []).append((d, part))
    names: list[str] = []
    for (cloth_id, _), found in uses.items():
        each = dict.fromkeys(part for _, part in found)
        part = next(iter(each)) if len(each) == 1 else MAIN
        cloth = found[0][0].draft.order.cloth(found[0][1])
        called = cloth.called if cloth_id else ""
        names.append(_another(called or (FIRST_CLOTH if part == MAIN else part), names))
        pieced = tuple(note for d, named in found for note in d.draft.pieced.get(named, ()))
        yield names[-1], part, cloth, list(_to_cut(found, part)), pieced


def _to_cut(found: list[tuple[Drafted, str]], part: str) -> Iterator[ToCut]:
    """Each garment once, with all that is cut from this cloth named as its `part`."""
    parts: dict[int, tuple[Drafted, set[str]]] = {}
    for drafted, named in found:
        parts.setdefault(id(drafted), (drafted, set()))[1].add(named)
    for drafted, here in parts.values():
        pattern = drafted.pattern
        if here != {part}:
            pattern = pattern.with_pieces(tuple(
                replace(piece, cloth=part if piece.cloth in here else ELSEWHERE) for piece in pattern.pieces
            ))
        yield ToCut(pattern, drafted.owner)


def _another(name: str, taken: list[str]) -> str:
    """The name, with a number when another cloth has it already."""
    found, number = name, 2
    while found in taken:
        found, number = f"{name} ({number})", number + 1
    return found
