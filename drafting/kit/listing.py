"""The shopping list: cloth by kind from the shared lays, what each person's part is, thread and notions.

One list of plain texts is what the page shows, what is printed and what is pasted into a message:

    {"title": "…", "parts": [{"title": "Cloth", "to_buy": True, "rows": [[what, how much, remark], …],
                              "notes": […]}]}
"""

from collections.abc import Callable, Generator, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from math import ceil
from typing import Any

from ..cloth.in_the_shop import shop_length, shop_words
from ..desk.drafts import sewing_choices
from ..desk.lay_results import counted_in, exactly, from_hand
from ..desk.steps import at_one_go
from ..lay.bolt import Share
from ..life.trim import BAND, WARP_SAID, TrimEdge, WarpOptions, trim_edges
from ..sewing.materials import NEEDLE, Material, ThreadNeed, materials, thread_needed
from ..sewing.plan import sewing_plan
from ..words.problems import BadInput, Problem
from ..words.units import Unit, format_length
from ..words.wording import spell
from .shopping import Bolt, Drafted, Shopping, ShopProgress

INSTEAD = "or "
"""How what could be bought in place of cutting it begins."""

LAID = "cloth: "
"""How a garment's own materials begin that the shared lays already count."""

MOST_ROWS = 5000
LONGEST = 2000


@dataclass(frozen=True)
class ListRow:
    """One thing: what, how much, and a remark."""

    what: str
    amount: str = ""
    remark: str = ""


@dataclass(frozen=True)
class ListSection:
    """`to_buy` tells things to get from what they come to, or whose they are."""

    title: str
    rows: tuple[ListRow, ...]
    notes: tuple[str, ...] = ()
    to_buy: bool = False


@dataclass(frozen=True)
class Listing:
    title: str
    parts: tuple[ListSection, ...]


@dataclass(frozen=True)
class _Sewn:
    """What one garment is sewn with, and its edges, which a band may go on."""

    drafted: Drafted
    thread: tuple[ThreadNeed, ...]
    items: tuple[Material, ...]
    edges: tuple[TrimEdge, ...]


def listing(shopping: Shopping, unit: Unit) -> Listing:
    """The list in words, its lengths in `unit`."""
    return at_one_go(listing_in_steps(shopping, unit))


def listing_in_steps(
    shopping: Shopping, unit: Unit
) -> Generator[ShopProgress, bool | None, Listing]:
    """The same, told garment by garment: of many it takes a while. It cannot be stopped."""
    plans: list[_Sewn] = []
    for number, drafted in enumerate(shopping.drafted, 1):
        plan = sewing_plan(drafted.pattern, sewing_choices(drafted.draft))
        edges = trim_edges(drafted.pattern)
        plans.append(_Sewn(drafted, thread_needed(plan), materials(plan), edges))
        yield ShopProgress(1.0, f"Listing {number} of {len(shopping.drafted)}")
    owners = list(dict.fromkeys(drafted.owner for drafted in shopping.drafted))
    bolts = shopping.bolts
    parts = [
        ListSection("Cloth", tuple(_cloths(bolts, unit)), tuple(_notes(bolts, unit)), to_buy=True),
        ListSection("Thread and notions", tuple(_notions(plans, unit)), to_buy=True),
        ListSection(f"If the edges are trimmed, a band {format_length(BAND, unit)} wide",
                    tuple(_bands(plans, unit)), (spell(WARP_SAID, unit),)),
        ListSection("Cloth in all", tuple(_sums(bolts, unit)) if len(bolts) > 1 else ()),
    ]
    if len(owners) > 1:
        shares = [(bolt, share) for bolt in bolts for share in bolt.lay.shares(_bought(bolt, unit))]
        parts += [ListSection(f"For {owner}", tuple(_persons(owner, shares, plans, unit)))
                  for owner in owners]
    if shopping.problems:
        parts.append(ListSection("Not in this list", (), tuple(p.message for p in shopping.problems)))
    one = shopping.drafted[0].pattern.title if len(shopping.drafted) == 1 else ""
    return Listing(shopping.title or one or "Shopping list", tuple(p for p in parts if p.rows or p.notes))


def as_text(shopping: Shopping, unit: Unit) -> str:
    """The list in plain lines, to paste into a message."""
    return listing_text(listing(shopping, unit))


def listing_text(made: Listing) -> str:
    lines = [made.title]
    for part in made.parts:
        lines += ["", part.title]
        for row in part.rows:
            amount = f": {row.amount}" if row.amount else ""
            lines.append(f"- {row.what}{amount}{f' ({row.remark})' if row.remark else ''}")
        lines += [f"  {note}" for note in part.notes]
    return "\n".join(lines) + "\n"


def listing_sheet(made: Listing, paper: str = "A4", subject: str = "Shopping list") -> bytes:
    """The list as a PDF to print. Raises BadInput for a paper that there is not."""
    from ..sheets.list_sheet import ListPart, list_sheet

    parts = [ListPart(part.title, [(row.what, row.amount, row.remark) for row in part.rows], part.notes,
                      part.to_buy) for part in made.parts]
    return list_sheet(made.title, parts, paper=paper, subject=subject)


def listing_values(made: Listing) -> dict[str, Any]:
    """The list as plain values, which `read_listing` reads back."""
    return {"title": made.title, "parts": [
        {"title": part.title, "to_buy": part.to_buy, "notes": list(part.notes),
         "rows": [[row.what, row.amount, row.remark] for row in part.rows]}
        for part in made.parts
    ]}


def read_listing(values: object) -> Listing:
    """Raises BadInput for what is no list."""
    if not isinstance(values, Mapping) or not isinstance(values.get("parts"), (list, tuple)):
        raise _no_list()
    parts = []
    for part in values["parts"]:
        if not isinstance(part, Mapping):
            raise _no_list()
        rows, said = _some(part.get("rows")), _some(part.get("notes", ()))
        if not all(isinstance(row, (list, tuple)) and len(row) == 3 for row in rows):
            raise _no_list()
        notes = tuple(_text(note) for note in said)
        read = tuple(ListRow(*map(_text, row)) for row in rows)
        parts.append(ListSection(_text(part.get("title")), read, notes, part.get("to_buy") is True))
    return Listing(_text(values.get("title")), tuple(parts))


def _some(value: object) -> Sequence[Any]:
    if not isinstance(value, (list, tuple)) or len(value) > MOST_ROWS:
        raise _no_list()
    return value


def _text(value: object) -> str:
    if not isinstance(value, str) or len(value) > LONGEST:
        raise _no_list()
    return value


def _no_list() -> BadInput:
    return BadInput([Problem("listing", "There is no shopping list to print: have it made again.")])


def _cloths(bolts: tuple[Bolt, ...], unit: Unit) -> Iterator[ListRow]:
    for bolt in bolts:
        lay = bolt.lay
        if not lay.cut_length:
            yield ListRow(bolt.name, "nothing", "all of it comes from what is there already")
            continue
        bought = _bought(bolt, unit)
        remarks = [exactly(lay, unit)]
        remarks += _remarks(lay.cloth.weight_of(bought), lay.cloth.price_of(bought))
        if lay.missing is not None:
            remarks.append(f"what is on hand is {format_length(lay.missing, unit)} too short")
        yield ListRow(f"{bolt.name}, {format_length(lay.cloth.width, unit)} wide",
                  shop_words(bought, unit), ", ".join(remarks))


def _bought(bolt: Bolt, unit: Unit) -> float:
    """mm, as the shop cuts it."""
    return shop_length(bolt.lay.cloth, bolt.lay.cut_length, unit)


def _sums(bolts: tuple[Bolt, ...], unit: Unit) -> Iterator[ListRow]:
    bought = [(bolt.lay.cloth, _bought(bolt, unit)) for bolt in bolts]
    yield from _sum("Weight", [cloth.weight_of(length) for cloth, length in bought], bolts, _weight)
    yield from _sum("Price", [cloth.price_of(length) for cloth, length in bought], bolts, _price)


def _sum(
    title: str, amounts: list[float | None], bolts: tuple[Bolt, ...],
    said: Callable[[float | None], list[str]],
) -> Iterator[ListRow]:
    """The sum, naming the cloths that say nothing of it."""
    known = [amount for amount in amounts if amount is not None]
    if known:
        silent = [bolt.name for bolt, amount in zip(bolts, amounts, strict=True) if amount is None]
        yield ListRow(title, "".join(said(sum(known))), f"not counted: {', '.join(silent)}" if silent else "")


def _weight(grams: float | None) -> list[str]:
    return [] if grams is None else [f"{grams / 1000:.2f} kg"]


def _price(price: float | None) -> list[str]:
    return [] if price is None else [f"{price:.2f}"]


def _remarks(grams: float | None, price: float | None) -> list[str]:
    return [*_weight(grams), *(f"price {text}" for text in _price(price))]


def _notes(bolts: tuple[Bolt, ...], unit: Unit) -> Iterator[str]:
    for bolt in bolts:
        length = [f"In its length {counted_in(bolt.lay)}."] if bolt.lay.cut_length else []
        for note in (*length, *from_hand(bolt.lay), *dict.fromkeys(bolt.lay.notes)):
            yield f"{bolt.name}: {spell(note, unit)}" if len(bolts) > 1 else spell(note, unit)


def _persons(
    owner: str, everyones: list[tuple[Bolt, Share]], plans: list[_Sewn], unit: Unit
) -> Iterator[ListRow]:
    """One person's part of each cloth and its price, and the thread for what they wear."""
    total, priced = 0.0, 0
    for bolt, share in everyones:
        if share.owner != owner:
            continue
        remarks = [f"{share.part:.0%} of the cloth", *_remarks(share.weight, share.price)]
        yield ListRow(bolt.name, format_length(share.length, unit), ", ".join(remarks))
        if share.price is not None:
            total, priced = total + share.price, priced + 1
    yield from _thread(plan for plan in plans if plan.drafted.owner == owner)
    if priced:
        yield ListRow("Price of the cloth", f"{total:.2f}")


def _thread(plans: Iterable[_Sewn]) -> Iterator[ListRow]:
    thread: dict[str, float] = {}
    for plan in plans:
        for need in plan.thread:
            thread[need.kind] = thread.get(need.kind, 0.0) + need.to_buy
    for kind, length in thread.items():
        yield ListRow(kind, f"{ceil(length / 1000)} m")


def _notions(plans: list[_Sewn], unit: Unit) -> Iterator[ListRow]:
    """Thread for all; tools one for each person; what is counted, added up; the rest as it comes."""
    yield from _thread(plans)
    kinds = {need.kind for plan in plans for need in plan.thread}
    found: dict[str, list[tuple[Drafted, Material]]] = {}
    for plan in plans:
        for item in plan.items:
            if item.what not in kinds and not item.what.startswith(LAID):
                found.setdefault(item.what, []).append((plan.drafted, item))
    for what in sorted(found, key=lambda what: what.startswith(INSTEAD)):
        amount, remark = _together(what, found[what], unit)
        wish = ["if you like"] if what.startswith(INSTEAD) else []
        yield ListRow(what.removeprefix(INSTEAD), amount,
                  ", ".join(filter(None, [*wish, remark, _whose(found[what], plans)])))


def _together(what: str, uses: list[tuple[Drafted, Material]], unit: Unit) -> tuple[str, str]:
    """How much of it in all, and of what that is the sum."""
    items = [item for _, item in uses]
    if what in NEEDLE.values():
        return str(len({drafted.owner for drafted, _ in uses})), ""
    if all(item.number for item in items):
        number, more = sum(item.number for item in items), any(item.open for item in items)
        return f"{number}{' or more' if more else ''}", ""
    lengths = [length for item in items for length in item.lengths]
    if len(lengths) > 1 and all(item.lengths for item in items):
        return shop_words(sum(lengths), unit), _lengths(lengths, unit)
    return " and ".join(dict.fromkeys(spell(item.amount, unit) for item in items)), ""


def _lengths(lengths: list[float], unit: Unit) -> str:
    """“3 of 128 cm to 142 cm”."""
    shortest, longest = (format_length(length, unit) for length in (min(lengths), max(lengths)))
    return f"{len(lengths)} of {shortest}{'' if shortest == longest else f' to {longest}'}"


def _bands(plans: list[_Sewn], unit: Unit) -> Iterator[ListRow]:
    """For each garment the band of all its edges, and each edge's."""
    for plan in plans:
        drafted, edges = plan.drafted, plan.edges
        told = ", ".join(f"{edge.name} {format_length(edge.band(BAND), unit)}" for edge in edges)
        length = sum(edge.band(BAND) for edge in edges)
        warp = format_length(sum(WarpOptions().warp(edge.band(BAND)) for edge in edges), unit)
        if edges:
            whose = f"{drafted.owner}'s {drafted.pattern.title.lower()}"
            yield ListRow(whose if drafted.owner else drafted.pattern.title, shop_words(length, unit),
                          f"{told}; woven on tablets a warp of {warp} in all")


def _whose(uses: list[tuple[Drafted, Material]], plans: list[_Sewn]) -> str:
    """For which garments, unless it is for all of them."""
    if len(uses) == len(plans):
        return ""
    return ", ".join(dict.fromkeys(f"{d.owner}'s {d.pattern.title.lower()}" for d, _ in uses))
