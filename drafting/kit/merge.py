"""Two kits made one: nothing dropped, and what disagrees shown."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from ..body.measures import MEASURES, label_of
from ..body.wearer import Wearer
from ..cloth.cloth import LENGTHS
from ..words.problems import BadInput, Problem
from ..words.units import LengthError, Unit, parse_length, with_unit
from .model import MOST_ENTRIES, Kit, KitCloth, KitGarment, KitWearer, LifeEvent, new_id, title_of

NAMED = 3
"""Measurements that are named where many differ."""


@dataclass(frozen=True)
class Remeasured:
    """One person, by their name, whom both kits measured; `theirs` is in the kit of both beside `mine`."""

    mine: KitWearer
    theirs: KitWearer

    @property
    def said(self) -> str:
        mine, theirs = self.mine.wearer, self.theirs.wearer
        return (f"Both kits have a wearer called {mine.name}, measured differently: yours "
                f"({_when(mine)}) and theirs ({_when(theirs)}){_differing(mine, theirs)}. Theirs came in "
                "beside yours.")


@dataclass(frozen=True)
class Merged:
    """The kit of both, and a sentence for everything that both had and had differently."""

    kit: Kit
    conflicts: tuple[str, ...]
    remeasured: tuple[Remeasured, ...] = ()
    """Those of the conflicts that are about one person measured twice."""


def merge(mine: Kit, theirs: Kit) -> Merged:
    """All that is in either kit. What is the same in both is kept once.

    A wearer of the same name with other measurements, a cloth of the same name with other figures,
    or a garment made otherwise, comes in beside mine and is named as a conflict. Title, unit,
    impression and house rules stay mine where I have any; lengths of their cloths get their unit written
    behind them where theirs is another. Raises BadInput for more entries than a kit holds.
    """
    conflicts: list[str] = []
    wearers, wearer_ids, remeasured = _wearers(mine.wearers, theirs.wearers)
    conflicts += [one.said for one in remeasured]
    cloths, cloth_ids = _cloths(mine, theirs, conflicts)
    garments = _garments(mine, theirs, wearer_ids, cloth_ids, conflicts)
    for what, a, b in (
        ("impression", mine.impression, theirs.impression),
        ("house rules", mine.house_rules, theirs.house_rules),
    ):
        if a and b and dict(a) != dict(b):
            conflicts.append(f"Both kits have their own {what}: yours stayed.")
    _keep_to_the_limit(wearers=wearers, cloths=cloths, garments=garments)
    kit = replace(
        mine,
        title=mine.title or theirs.title,
        impression=mine.impression or theirs.impression,
        house_rules=mine.house_rules or theirs.house_rules,
        wearers=wearers,
        cloths=cloths,
        garments=garments,
    )
    return Merged(kit, tuple(conflicts), remeasured)


def _wearers(
    mine: tuple[KitWearer, ...], theirs: tuple[KitWearer, ...]
) -> tuple[tuple[KitWearer, ...], Mapping[str, str], tuple[Remeasured, ...]]:
    found, ids, remeasured = list(mine), {}, []
    for entry in theirs:
        alike = [w for w in found if w.wearer == entry.wearer]
        same = next((w for w in alike if w.id == entry.id), alike[0] if alike else None)
        if same is None:
            namesake = next((w for w in mine if w.wearer.name == entry.wearer.name), None)
            same = replace(entry, id=_id(entry.id, "w", {w.id for w in found}))
            found.append(same)
            if namesake:
                remeasured.append(Remeasured(namesake, same))
        ids[entry.id] = same.id
    return tuple(found), ids, tuple(remeasured)


def _when(wearer: Wearer) -> str:
    return f"of {wearer.measured}" if wearer.measured else "of no date"


def _differing(mine: Wearer, theirs: Wearer) -> str:
    """The first measurements in which they differ, as both have them."""
    names = [
        name for name in MEASURES
        if _meant_of(mine, name) != _meant_of(theirs, name)
    ]
    if not names:
        return ""
    shown = [
        f"{label_of(name).lower()} {_as_given(mine, name)} and {_as_given(theirs, name)}"
        for name in names[:NAMED]
    ]
    more = f" and {len(names) - NAMED} more" if len(names) > NAMED else ""
    return f": {', '.join(shown)}{more}"


def _as_given(wearer: Wearer, name: str) -> str:
    text = wearer.measurements.get(name, "")
    return with_unit(text, wearer.unit) if text else "nothing"


def _meant_of(wearer: Wearer, name: str) -> str | float:
    return _millimetres(wearer.measurements.get(name, ""), wearer.unit)


def _keep_to_the_limit(**entries: Sequence[object]) -> None:
    problems = [
        Problem("kit", f"Together these kits would hold {len(found):,} {what}, and one keeps up to "
                f"{MOST_ENTRIES}: nothing was changed. Keep them as two kits.")
        for what, found in entries.items() if len(found) > MOST_ENTRIES
    ]
    if problems:
        raise BadInput(problems)


def _cloths(
    mine: Kit, theirs: Kit, conflicts: list[str]
) -> tuple[tuple[KitCloth, ...], Mapping[str, str]]:
    found, ids = list(mine.cloths), {}
    written = False
    for entry in theirs.cloths:
        texts = _meaning_the_same(entry.texts, theirs.unit, mine.unit)
        alike = [c for c in found if _meant(c.texts, mine.unit) == _meant(texts, mine.unit)]
        same = next((c for c in alike if c.id == entry.id), alike[0] if alike else None)
        if same is None:
            name = entry.texts.get("name", "")
            namesake = next((c for c in found if c.texts.get("name") == name), None) if name else None
            if namesake:
                conflicts.append(f"Both kits have a cloth “{name}” with other figures"
                                 f"{_figures(namesake.texts, texts)}: theirs came in beside yours.")
            same = KitCloth(_id(entry.id, "c", {c.id for c in found}), texts)
            found.append(same)
            written |= texts != entry.texts
        ids[entry.id] = same.id
    if written:
        conflicts.append(f"Their kit measures cloth in {theirs.unit} and yours in {mine.unit}: the lengths "
                         f"of their cloths say {theirs.unit} now.")
    return tuple(found), ids


def _meaning_the_same(texts: Mapping[str, str], before: Unit, after: Unit) -> Mapping[str, str]:
    if before == after:
        return texts
    return {name: with_unit(text, before) if name in LENGTHS else text for name, text in texts.items()}


def _meant(texts: Mapping[str, str], unit: Unit) -> dict[str, str | float]:
    """A cloth's fields, its lengths as mm, so that 150 and 1.5 m are one."""
    return {name: _millimetres(text, unit) if name in LENGTHS else text for name, text in texts.items()}


def _millimetres(text: str, unit: Unit) -> str | float:
    try:
        return round(parse_length(text, unit), 3)
    except LengthError:
        return text


def _figures(mine: Mapping[str, str], theirs: Mapping[str, str]) -> str:
    """The first field in which they differ, as both have it."""
    for name in [*LENGTHS, *mine, *theirs]:
        if mine.get(name, "") != theirs.get(name, ""):
            yours, other = (texts.get(name) or "nothing" for texts in (mine, theirs))
            return f" ({name.replace('_', ' ')} “{yours}”, theirs “{other}”)"
    return ""


def _garments(
    mine: Kit, theirs: Kit, wearer_ids: Mapping[str, str], cloth_ids: Mapping[str, str],
    conflicts: list[str],
) -> tuple[KitGarment, ...]:
    found = list(mine.garments)
    matched: set[int] = set()  # two garments alike in theirs are two, not one
    for entry in theirs.garments:
        moved = replace(
            entry,
            wearer=wearer_ids[entry.wearer],
            cloths={part: cloth_ids[cloth] for part, cloth in entry.cloths.items()},
            life=tuple(replace(event, wearer=wearer_ids.get(event.wearer, "")) for event in entry.life),
        )
        alike = (i for i, g in enumerate(found) if i not in matched and _same_work(g, moved))
        at = next(alike, None)
        matched.add(len(found) if at is None else at)
        if at is None:
            if any(_once_the_same(g, moved) for g in mine.garments):
                owner = theirs.wearer(entry.wearer).name
                conflicts.append(f"Both kits have {owner}'s {title_of(entry.garment)}, made differently: "
                                 "theirs came in beside yours.")
            found.append(replace(moved, id=_id(entry.id, "g", {g.id for g in found})))
        else:
            # The same garment on two phones: a step ticked on either is done; what became of it is told.
            done = dict.fromkeys((*found[at].done, *moved.done))
            found[at] = replace(found[at], done=tuple(done), life=_both_lives(found[at].life, moved.life))
    return tuple(found)


def _both_lives(mine: tuple[LifeEvent, ...], theirs: tuple[LifeEvent, ...]) -> tuple[LifeEvent, ...]:
    """All that is told in either, each once, in the order of the days."""
    more = [event for event in theirs if event not in mine]
    return tuple(sorted((*mine, *more), key=lambda event: event.date)) if more else mine


def _same_work(a: KitGarment, b: KitGarment) -> bool:
    return (a.wearer, a.garment, dict(a.cloths), dict(a.options), dict(a.taken_up)) == (
        b.wearer, b.garment, dict(b.cloths), dict(b.options), dict(b.taken_up))


def _once_the_same(a: KitGarment, b: KitGarment) -> bool:
    """Whether both were the same garment before either kit changed it."""
    return (a.id, a.wearer, a.garment) == (b.id, b.wearer, b.garment)


def _id(wanted: str, prefix: str, taken: set[str]) -> str:
    return wanted if wanted not in taken else new_id(prefix, taken)
