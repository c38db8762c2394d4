"""A garment of the kit cut again: what comes out of it for whom, best first."""

from collections.abc import Iterator, Sequence

from ..desk.drafts import draft
from ..garments import GARMENTS, ChoiceOption, Garment, read_options
from ..life.recut import SECONDS, Recut, Wanted, recut
from ..life.unpicked import WornPlace, unpicked
from ..words.problems import BadInput, Problem
from ..words.units import Unit, format_length
from .model import Kit, KitGarment, title_of
from .orders import body_of, order_of

CUT_SMALL = {"shoulder": "seam"}
"""What a cutter chooses who cuts from an old garment. common practice, no source."""


def garment_called(kit: Kit, name: str) -> KitGarment:
    """By its id, its kind where there is one such, or as “Hild's tunic”. Raises BadInput naming those
    there are."""
    asked = name.strip().lower().replace("’", "'")
    found = [one for one in kit.garments if asked in (
        one.id, one.garment, title_of(one.garment), _called(kit, one))]
    if len(found) == 1:
        return found[0]
    names = ", ".join(f"{one.id} ({_called(kit, one)})" for one in (found or kit.garments))
    which = ("Which of these is meant" if found
             else f"There is no “{name[:40]}” in this kit: choose one of these")
    raise BadInput([Problem("garment", f"{which}: {names}.")])


def _called(kit: Kit, one: KitGarment) -> str:
    return f"{kit.called(one.wearer)}'s {title_of(one.garment)}".lower()


def recut_garment(
    kit: Kit, garment: KitGarment, wearer: str = "", worn: Sequence[WornPlace] = (), *,
    seconds: float = SECONDS,
) -> tuple[Recut, ...]:
    """For one wearer by name, or for all of the kit. Raises BadInput."""
    old = unpicked(draft(order_of(kit, garment)).pattern, worn)
    if not old:
        raise BadInput([Problem("garment", "No piece of it is large enough to be cut from.")])
    return recut(old, _wanted(kit, garment, wearer), seconds=seconds)


def _wanted(kit: Kit, garment: KitGarment, wearer: str) -> Iterator[Wanted]:
    asked = wearer.strip().lower()
    people = [entry for entry in kit.wearers if asked in ("", entry.id, kit.called(entry.id).lower())]
    if not people:
        names = ", ".join(kit.called(entry.id) for entry in kit.wearers)
        raise BadInput([Problem("wearer", f"There is no “{wearer[:40]}” in this kit: there is {names}.")])
    for entry in people:
        for kind in GARMENTS.values():
            if entry.id == garment.wearer and kind.name == garment.garment:
                continue
            try:
                body, _ = body_of(entry.wearer, kind)
                pattern = kind.draft(body, read_options(kind, _in_small_pieces(kind), body))
            except BadInput:
                continue  # what is not measured for cannot be cut either
            yield Wanted(f"{kit.called(entry.id)}: {kind.title.lower()}", pattern)


def _in_small_pieces(kind: Garment) -> dict[str, str]:
    """Choices by which a garment is cut from more pieces, that find a place beside an old neck hole."""
    offered = {option.name: option.choices for option in kind.options if isinstance(option, ChoiceOption)}
    return {name: choice for name, choice in CUT_SMALL.items() if choice in offered.get(name, {})}


def recut_lines(found: Sequence[Recut], unit: Unit) -> Iterator[str]:
    """A line for each, and where its pieces lie for those that come out."""
    if not found:
        yield "Nothing in the wardrobe could be drafted for them: measure more."
    for one in found:
        if one.left:
            yield f"{one.wanted.name}: not at all{_lacking(one)}"
            continue
        joins = ", ".join(f"{name} in {parts} parts" for name, parts in one.joined.items())
        how = f"with joins ({joins})" if joins else "whole"
        yield f"{one.wanted.name}: {how}; takes {one.used:.0%} of the cloth"
        yield from _places(one, unit)


def _lacking(one: Recut) -> str:
    if one.filling is None:
        return f"; it takes {one.used:.0%} of the cloth that there is" if one.used > 0.5 else ""
    return f"; no place for {', '.join(dict.fromkeys(one.left))}"


def _places(one: Recut, unit: Unit) -> Iterator[str]:
    for filled in one.filling.filling.filled if one.filling else ():
        for placed in filled.placements:
            at = f"{format_length(placed.x, unit)}, {format_length(placed.y, unit)}"
            yield f"  {placed.piece} {placed.copy} from {filled.remnant.name}, at {at}"
