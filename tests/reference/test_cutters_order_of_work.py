"""The order of work as a cutter would have it, found on the pattern itself.

Rules: common practice, no source. Baste and try on, then sew and fell each seam before another crosses it;
nothing is closed that a later step needs flat; facings, bands, casings and hems come after the seams they
cross are felled; eyelets, slits and reinforcements before what needs them; a tuck before the hem is
levelled.

Which seams cross is found here from the pieces' outlines alone: two seams cross where an end of the one lies
on the line of the other, on the same copy of a piece, as it does at every corner that they share.
"""

from collections.abc import Iterator
from contextlib import suppress
from dataclasses import replace
from functools import cache
from itertools import combinations

import pytest
from shapely import LineString, Point

from drafting.cloth.piecing import fit_to_width
from drafting.garments import GARMENTS, ChoiceOption
from drafting.pattern import Pattern, Seam, SeamEdge
from drafting.sewing import Choices, SewingPlan, sewing_plan
from drafting.words.problems import BadInput
from tests.sewn import TURNED_ON
from tests.wardrobe import ASTA, TAM, draft

STOUT = {**ASTA, "bust_girth": 1220.0, "waist_girth": 1046.0, "hip_girth": 1194.0}
"""An invented body."""
BODIES = {"Asta": ASTA, "Tam": TAM, "stout": STOUT}

SHOULDERS = ({"shoulder": "seam", "neckline": "keyhole", "gores": "all"},
             {"body_width": "narrow", "shoulder": "seam", "gores": "all"})
COMBINED = {"tunic": SHOULDERS, "underdress": SHOULDERS,
            "apron-dress": ({"style": "pleated", "growth_tuck": "3cm", "opening": "side"},
                            {"style": "straight-panels", "growth_tuck": "3cm", "opening": "side"})}

AT = 0.2
"""mm within which an end lies on a line."""

FINISHED_LATER = ("run-and-fell", "felled-open", "overcast", "lapped")
FLAT_WORK = ("reinforce", "vent", "pleat", "eyelet", "strip")


def every_choice(garment: str) -> Iterator[dict[str, str]]:
    yield {}
    for option in GARMENTS[garment].options:
        if isinstance(option, ChoiceOption):
            yield from ({option.name: choice} for choice in option.choices)
        elif option.name in TURNED_ON:
            yield from ({option.name: value} for value in TURNED_ON[option.name])
    yield from COMBINED.get(garment, ())


@cache
def patterns(garment: str) -> tuple[tuple[str, Pattern], ...]:
    found = []
    for who, body in BODIES.items():
        # Another body changes which sizes need an opening or gores; every choice is tried on one.
        for options in every_choice(garment) if who == "Asta" else ({}, *COMBINED.get(garment, ())):
            try:
                pattern = draft(garment, options, body)
            except BadInput:
                continue
            found.append((f"{garment} for {who}, {options}", pattern))
    with suppress(BadInput):
        found.append((f"{garment} pieced", fit_to_width(draft(garment), 600.0)))
    return tuple(found)


def plans(garment: str) -> Iterator[tuple[str, SewingPlan]]:
    for told, pattern in patterns(garment):
        for gussets in ("first", "last") if "gusset_size" in pattern.options else ("first",):
            yield f"{told}, gussets {gussets}", sewing_plan(pattern, Choices(gussets=gussets))


# --- What crosses what, from the outlines ------------------------------------------------------------


def parts(seam: Seam) -> tuple[SeamEdge, ...]:
    return seam.a + seam.b


class Crossings:
    def __init__(self, pattern: Pattern) -> None:
        self.lines = {}
        for piece in pattern.pieces:
            names = [e.name for e in piece.outline.edges] + [line.name for line in piece.inner_lines]
            for name in names:
                path = piece.line(name)
                self.lines[piece.name, name] = LineString([(p.x, p.y) for p in path.points(0.05)])

    def cross(self, one: SeamEdge, other: SeamEdge) -> bool:
        if (one.piece, one.copy) != (other.piece, other.copy):
            return False
        if one.edge == other.edge:
            return True
        a, b = self.lines[one.piece, one.edge], self.lines[other.piece, other.edge]
        return any(Point(end).distance(line) <= AT
                   for ending, line in ((a, b), (b, a)) for end in (ending.coords[0], ending.coords[-1]))

    def any_cross(self, some: tuple[SeamEdge, ...], others: tuple[SeamEdge, ...]) -> bool:
        return any(self.cross(p, q) for p in some for q in others)


def faults(plan: SewingPlan) -> list[str]:
    """Every breach of the rules in a plan, told so that it can be found."""
    pattern = plan.pattern
    crossings = Crossings(pattern)
    seams = {seam.name: seam for seam in pattern.seams}
    sewn = {name: step.number for step in plan.steps for name in step.seams}
    felled = {name: step.number for step in plan.steps for name in step.fells}
    late = {name for name, seam in seams.items() if seam.treatment in FINISHED_LATER}
    found = [f"{name} is never felled" for name in sorted(late - set(felled))]
    for one, other in combinations(pattern.seams, 2):
        first, second = sorted((one.name, other.name), key=sewn.__getitem__)
        if first not in late or not crossings.any_cross(parts(one), parts(other)):
            continue
        if not felled[first] < sewn[second] and not (second in late and felled[second] < sewn[first]):
            found.append(f"{first} is felled in step {felled[first]}, after {second} crosses it "
                         f"in step {sewn[second]}")
    for step in plan.steps:
        if step.kind in ("neck", "edge", "hem", "tuck", "lining", "opening"):
            # What is laid over another piece is hemmed first, and the seam below it felled after that.
            laid = {part: sewn[name] for part in step.task.lines for name, seam in seams.items()
                    if seam.treatment == "layered" and crossings.any_cross((part,), parts(seam))}
            found += [f"{part.edge} is hemmed after it was laid over another" for part, at in laid.items()
                      if step.kind == "edge" and at < step.number]
            at = tuple(part for part in step.task.lines if part not in laid or step.kind != "edge")
            for name in late:
                if at and felled[name] > step.number and crossings.any_cross(parts(seams[name]), at):
                    found.append(f"{name} is felled after “{step.title}” crosses it")
    return found + _closed_too_early(plan, seams) + _out_of_turn(plan, seams)


def _closed_too_early(plan: SewingPlan, seams: dict[str, Seam]) -> list[str]:
    """Work for which the cloth must lie flat, on what has been sewn to a ring by then."""
    found = []
    assembly = {(p.name, copy): {(p.name, copy)} for p, copy in plan.pattern.copies()}
    flat_then: dict[str, set] = {}
    closed: set[tuple[str, int]] = set()
    for step in plan.steps:
        if step.kind in FLAT_WORK and closed & set(step.copies):
            found.append(f"“{step.title}” wants flat cloth, and it is closed")
        for name in step.fells:
            if name in flat_then and closed & flat_then[name]:
                found.append(f"{name} was flat when it was sewn, and is felled in a ring")
        for name in step.seams:
            around = {(p.piece, p.copy) for p in parts(seams[name])}
            together = set().union(*(assembly[copy] for copy in around))
            if together == assembly[next(iter(around))]:
                if seams[name].treatment not in ("faced", "bound", "pleat", "felled lining"):
                    closed |= together
            elif not closed & together:
                flat_then[name] = around
            for copy in together:
                assembly[copy] = together
    return found


def _out_of_turn(plan: SewingPlan, seams: dict[str, Seam]) -> list[str]:
    found = []
    at = {}
    for step in plan.steps:
        at.setdefault(step.kind, []).append(step.number)
    if "tuck" in at and "hang" in at and max(at["tuck"]) > min(at["hang"]):
        found.append("the hem is levelled before the tuck is made")
    if "fit" in at:
        whole = [step.number for step in plan.steps for name in step.fells if seams[name].order >= 0]
        if whole and min(whole) < at["fit"][0]:
            found.append("a seam is felled before the fitting")
        if any(step.number < at["fit"][0] and seams[name].order >= 0
               and seams[name].treatment in FINISHED_LATER
               for step in plan.steps for name in step.seams):
            found.append("a seam is sewn for good before the fitting")
        if whole and not ("baste" in at and at["baste"][0] < at["fit"][0]):
            found.append("nothing is basted for the fitting")
    cased = [step.number for step in plan.steps if step.kind == "edge" for part in step.task.lines
             if plan.pattern.piece(part.piece).role(part.edge) == "waist"]
    if plan.pattern.options.get("waist") == "drawstring":
        ways = at.get("eyelet", []) + at.get("opening", [])
        if not ways or not cased or max(ways) > min(cased):
            found.append("the casing is sewn before the cord has a way out")
    for step in plan.steps:
        if step.kind == "join":
            slits = {part for name in step.seams for part in parts(seams[name])
                     if any(line.name == part.edge and line.kind == "slit"
                            for line in plan.pattern.piece(part.piece).inner_lines)}
            ready = {part for other in plan.steps[:step.number - 1] if other.kind == "reinforce"
                     for part in other.task.lines}
            if slits - ready:
                found.append(f"“{step.title}” comes before its slit is reinforced")
    return found


# --- The wardrobe --------------------------------------------------------------------------------------


@pytest.mark.parametrize("garment", sorted(GARMENTS))
def test_a_cutter_finds_nothing_out_of_turn(garment):
    found = {told: wrong for told, plan in plans(garment) if (wrong := faults(plan))}
    assert not found, "\n".join(f"{told}: {wrong[:4]}" for told, wrong in list(found.items())[:8])
    assert len(patterns(garment)) >= 3


def reordered(plan: SewingPlan, *kinds: str) -> SewingPlan:
    """The plan with the steps of those kinds put off until just before the last check."""
    kept = [step for step in plan.steps if step.kind not in kinds]
    put_off = [step for step in plan.steps if step.kind in kinds]
    steps = [*kept[:-1], *put_off, kept[-1]]
    return replace(plan, steps=tuple(replace(step, number=n) for n, step in enumerate(steps, 1)))


@pytest.mark.parametrize(("garment", "options", "kinds", "said"), [
    ("tunic", {}, ("fell",), "crosses it"),
    ("apron-dress", {}, ("fell",), "felled in a ring"),
    ("tunic", {"gores": "all"}, ("reinforce",), "reinforced"),
    ("tunic", {"shoulder": "seam"}, ("baste", "fit"), "before the fitting"),
    ("apron-dress", {"growth_tuck": "3cm"}, ("tuck",), "levelled before the tuck"),
    ("trousers", {}, ("eyelet",), "way out"),
    ("apron-dress", {"style": "pleated"}, ("pleat",), "wants flat cloth"),
])
def test_a_plan_out_of_turn_is_found_out(garment, options, kinds, said):
    """All felling at the end, as the plans had it, and other work put off too long."""
    plan = sewing_plan(draft(garment, options, ASTA))
    assert not faults(plan)
    assert any(said in fault for fault in faults(reordered(plan, *kinds)))
