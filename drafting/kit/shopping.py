"""The shopping list of a kit: cloth by bolt from shared lays, thread and notions, by person and in all."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from math import ceil

from ..cloth import Cloth, read_cloth
from ..lay.bolt import BoltLay, Order, lay_on_bolt
from ..pattern import Pattern
from ..problems import BadInput, Problem
from ..requests import draft
from ..sewing.materials import materials, thread_needed
from ..sewing.plan import sewing_plan
from ..units import Unit, format_length
from ..wording import spell
from .model import Kit, KitGarment

LAID = "cloth: "
"""How a garment's own materials begin that the shared lays already count."""

MAIN = "main"
FIRST_CLOTH = "cloth"
"""What a bolt is called that garments without one of their own are laid on."""


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


def draft_kit(kit: Kit) -> tuple[tuple[Drafted, ...], tuple[Problem, ...]]:
    """Every garment that can be drafted, and a sentence for each that cannot."""
    found, problems = [], []
    for garment in kit.garments:
        owner = kit.wearer(garment.wearer)
        try:
            pattern, _, _ = draft({
                "garment": garment.garment, "measurements": dict(owner.measurements),
                "options": dict(garment.options), "unit": owner.unit, "sex": owner.sex,
                "age_months": owner.age_months,
            })
        except BadInput as error:
            problems += [
                replace(p, message=f"{owner.name}, {garment.garment}: {spell(p.message, kit.unit)}")
                for p in error.problems
            ]
        else:
            found.append(Drafted(garment, owner.name, pattern))
    return tuple(found), tuple(problems)


def shop(kit: Kit, *, seconds: float = 5.0, max_rounds: int | None = None) -> Shopping:
    """Drafts and lays the whole kit; `seconds` of search for each bolt."""
    drafted, problems = draft_kit(kit)
    bolts, more = [], list(problems)
    for name, cloth, part, orders in _orders(kit, drafted):
        try:
            lay = lay_on_bolt(orders, cloth, part=part, seconds=seconds, max_rounds=max_rounds)
            bolts.append(Bolt(name, lay))
        except BadInput as error:
            more += [replace(p, message=f"{name}: {spell(p.message, kit.unit)}") for p in error.problems]
    return Shopping(kit, drafted, tuple(bolts), tuple(more))


def _orders(kit: Kit, drafted: tuple[Drafted, ...]) -> Iterator[tuple[str, Cloth, str, list[Order]]]:
    """For each cloth that something is cut from: its name, itself, the part of the garments that is cut
    from it, and the garments. Linings, which no kit names a cloth for, are cut from the usual one."""
    used = dict.fromkeys(d.garment.cloth for d in drafted)
    for cloth_id in used:
        texts = dict(kit.cloth(cloth_id).texts) if cloth_id else {}
        cloth = read_cloth(texts, kit.unit)
        orders = [Order(d.pattern, d.owner) for d in drafted if d.garment.cloth == cloth_id]
        yield texts.get("name") or FIRST_CLOTH, cloth, MAIN, orders
    for part in dict.fromkeys(p.cloth for d in drafted for p in d.pattern.pieces if p.cloth != MAIN):
        lined = [Order(d.pattern, d.owner) for d in drafted
                 if any(piece.cloth == part for piece in d.pattern.pieces)]
        yield part, read_cloth({}, kit.unit, part), part, lined


def as_text(shopping: Shopping, unit: Unit) -> str:
    """The list in plain lines, to paste into a message."""
    lines = [shopping.kit.title or "Shopping list", ""]
    for bolt in shopping.bolts:
        lay = bolt.lay
        figures = [f"{format_length(lay.buy_length, unit)} of {format_length(lay.cloth.width, unit)}"]
        weight, price = lay.cloth.weight_of(lay.buy_length), lay.cloth.price_of(lay.buy_length)
        figures += [f"{weight / 1000:.2f} kg"] if weight else []
        figures += [f"price {price:.2f}"] if price else []
        lines.append(f"{bolt.name}: {', '.join(figures)}")
        if lay.missing is not None:
            lines.append(f"  what is on hand is {format_length(lay.missing, unit)} too short")
        for share in lay.shares():
            price_part = f", price {share.price:.2f}" if share.price else ""
            lines.append(f"  {share.owner}: {share.part:.0%}, {format_length(share.length, unit)}"
                         f"{price_part}")
        lines += [f"  {spell(note, unit)}" for note in lay.notes]
    lines += ["", "Thread and notions"]
    lines += [f"  {line}" for line in _notions(shopping, unit)]
    if shopping.problems:
        lines += ["", "Not in this list"]
        lines += [f"  {problem.message}" for problem in shopping.problems]
    return "\n".join(lines) + "\n"


def _notions(shopping: Shopping, unit: Unit) -> Iterator[str]:
    thread: dict[str, float] = {}
    others: dict[str, list[str]] = {}
    for drafted in shopping.drafted:
        plan = sewing_plan(drafted.pattern)
        for need in thread_needed(plan):
            thread[need.kind] = thread.get(need.kind, 0.0) + need.to_buy
        kinds = {need.kind for need in thread_needed(plan)}
        for item in materials(plan):
            if item.what not in kinds and not item.what.startswith(LAID):
                amount = f": {spell(item.amount, unit)}" if item.amount else ""
                others.setdefault(f"{item.what}{amount}", []).append(
                    f"{drafted.owner}'s {drafted.pattern.title.lower()}")
    for kind, length in thread.items():
        yield f"{kind}: {ceil(length / 1000)} m"
    for what, whose in others.items():
        yield f"{what} ({', '.join(dict.fromkeys(whose))})"
