"""The cutter's rules over the bodies of the survey, worked out on the pieces and not by the drafting code.

    python -m tests.survey_rules [GARMENT ...] [--every N] [--drafts N]

Every rule is common practice, no source, but for its plane geometry. A check that passes where the rule
says no is a false pass, one that fails where the rule says yes a false fail; a millimetre either way is no
difference. Prints both, and how far seams and hems of random drafts are from matching.
"""

import argparse
import random
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache
from math import acos, cos, hypot, pi, radians, sin

from shapely.geometry import LineString, Point

from drafting.body import Body, complete
from drafting.garments import GARMENTS, ChoiceOption, read_options
from drafting.pattern import Pattern, Piece, as_json
from drafting.words.problems import BadInput
from tests.bodies.survey import SurveyBody, ansur_bodies

ARMS_UP, OVER_THE_HEAD, OVER_THE_HIPS = 0.93, 30.0, 40.0
OVER_THE_BUST, MOST_RIDE, BENT_ELBOW = 20.0, 100.0, 0.05
OVER_THE_SEAT, SQUAT, OVER_THE_HEEL, OVER_THE_EARS = 20.0, 0.05, 10.0, 20.0
AXILLA, ANKLE, HIP_JOINT, STRIDE, KNEES = 0.761, 0.05, 0.53, 1.2, 0.45
OVER_WOOL, TO_BREATHE, LAP, WAIST_TO_HIP = 80.0, 40.0, 80.0, 0.09
OVER_A_TUNIC, LEAST_ALONG, ROUND_THE_SHOULDER = 120.0, 0.05, 0.045
OVER_THE_THUMB, OVER_THE_INSTEP, BIAS_GIVES = 10.0, 5.0, 1.2
NO_DIFFERENCE = 1.0
TUBE = ("front", "back", "side")

Taped = Mapping[str, float]


# Measured on the pieces

def polygon(piece: Piece) -> list[tuple[float, float]]:
    return [(p.x, p.y) for p in piece.outline.polygon]


def width_at(piece: Piece, y: float) -> float:
    """mm across a piece at `y`: between the outermost crossings of its sewing line."""
    ring = polygon(piece)
    crossings = [
        ax + (bx - ax) * (y - ay) / (by - ay)
        for (ax, ay), (bx, by) in zip(ring, ring[1:] + ring[:1], strict=True) if (ay <= y) != (by <= y)
    ]
    return max(crossings) - min(crossings) if crossings else 0.0


def length_of(piece: Piece, edge: str) -> float:
    points = piece.outline[edge].path.points()
    return sum(hypot(b.x - a.x, b.y - a.y) for a, b in zip(points, points[1:], strict=False))


def widest(piece: Piece) -> float:
    across = [x for x, _ in polygon(piece)]
    return max(across) - min(across)


def pieces(pattern: Pattern) -> dict[str, Piece]:
    return {piece.name: piece for piece in pattern.pieces}


def tube_ring(pattern: Pattern, depth: float) -> float:
    """The ring of the dress's panels so far below its top: panels hang from a straight waist, or are all
    of one cone, whose circles are measured as the arcs they are."""
    found, parts = 0.0, pieces(pattern)
    for name in TUBE:
        top = min(y for _, y in polygon(parts[name]))
        found += parts[name].cut * width_at(parts[name], top + depth)
    return found


def hem_girth(pattern: Pattern) -> float:
    return sum(length_of(piece, hang.hem) * piece.cut for piece in pattern.pieces
               if "lining" not in piece.name for hang in piece.hangs)


def block_ring(pattern: Pattern) -> float:
    """Round the chest: twice the panel, and a side panel's top on either side."""
    parts = pieces(pattern)
    side = 2 * length_of(parts["side panel"], "top") if "side panel" in parts else 0.0
    return 2 * panel_width(pattern) + side


def panel_width(pattern: Pattern) -> float:
    """The body block's panel at the shoulder."""
    parts = pieces(pattern)
    return width_at(parts["body"], 1.0) if "body" in parts else width_at(parts["back"], 100.0)


def ride(pattern: Pattern, taped: Taped) -> float:
    """mm that the hem comes up when the arm goes to horizontal: the underarm corner turns about the joint,
    and gusset, side panel and the bent elbow give some of that back. source: plane geometry."""
    parts = pieces(pattern)
    side = length_of(parts["side panel"], "top") if "side panel" in parts else 0.0
    given = side
    if "gusset" in parts:
        (ax, ay), _, (cx, cy), _ = polygon(parts["gusset"])
        given = hypot(cx - ax, cy - ay)
    x = panel_width(pattern) / 2 - taped["shoulder_width"] / 2
    y = (length_of(parts["sleeve"], "top") - side) / 2 - taped["upper_arm_girth"] / (2 * pi)
    turn = radians(90)
    moved = x * cos(turn) + y * sin(turn), y * cos(turn) - x * sin(turn)
    return max(0.0, hypot(moved[0] - x, moved[1] - y) - given - BENT_ELBOW * taped["stature"])


def crotch_way(pattern: Pattern) -> float:
    """From waist to waist between the legs: both centre seams and the gusset's diagonal."""
    parts = pieces(pattern)
    way = length_of(parts["leg"], "front seam") + length_of(parts["leg"], "back seam")
    if "seat gusset" in parts:
        (ax, ay), _, (cx, cy), _ = polygon(parts["seat gusset"])
        way += hypot(cx - ax, cy - ay)
    return way


def underarm_foot(pattern: Pattern) -> float:
    """Below the shoulder, where the side seam begins."""
    parts = pieces(pattern)
    side = length_of(parts["side panel"], "top") if "side panel" in parts else 0.0
    foot = (length_of(parts["sleeve"], "top") - side) / 2
    return foot + (length_of(parts["gusset"], parts["gusset"].outline.edges[0].name)
                   if "gusset" in parts else 0.0)


def coat_ring(pattern: Pattern, depth: float) -> float:
    """Round the coat below its armholes, the fronts closed middle on middle: panels, side panels and gores,
    which widen evenly from their tops."""
    parts = pieces(pattern)
    found = block_ring(pattern)
    if "side panel" in parts:
        panel = parts["side panel"]
        (hang,) = panel.hangs
        top, hem = length_of(panel, "top"), length_of(panel, hang.hem)
        found += 2 * (hem - top) * (depth - underarm_foot(pattern)) / hang.depth
    for piece in pattern.pieces:
        if "gore" in piece.name:
            (hang,) = piece.hangs
            found += piece.cut * length_of(piece, hang.hem) * max(0.0, depth - hang.below) / hang.depth
    return found


def least_lap(pattern: Pattern, taped: Taped) -> float:
    """What is left of the coat's overlap round the fullest bust, the waist and the hips, over a tunic and
    room to breathe."""
    parts, half = pieces(pattern), panel_width(pattern) / 2
    waist = taped["back_waist_length"]
    places = {"bust_girth": underarm_foot(pattern), "waist_girth": waist,
              "hip_girth": waist + WAIST_TO_HIP * taped["stature"]}
    return min(
        coat_ring(pattern, depth) + 2 * (width_at(parts["front"], depth) - half) - taped[measure]
        for measure, depth in places.items() if depth < pattern.finished["length"]
    ) - OVER_WOOL - TO_BREATHE


def cape_ring(pattern: Pattern, way: float) -> float:
    """Round the hood's cape, `way` mm from the root of the neck: both panels, and of each gore the arc that
    its corner spans there."""
    found = 2 * widest(pieces(pattern)["panel"])
    for piece in pattern.pieces:
        if "gore" in piece.name:
            ring = polygon(piece)
            apex = ring.index(min(ring, key=lambda p: hypot(*p)))
            (x, y), (ax, ay), (bx, by) = ring[apex], ring[apex - 1], ring[(apex + 1) % len(ring)]
            u, v = (ax - x, ay - y), (bx - x, by - y)
            corner = acos((u[0] * v[0] + u[1] * v[1]) / (hypot(*u) * hypot(*v)))
            found += piece.cut * corner * way
    return found


def heel_way(pattern: Pattern, *names: str) -> float:
    """Along the seam of leg and foot, on the edges of those pieces."""
    parts = pieces(pattern)
    return sum(length_of(parts[name], edge.name) for name in names for edge in parts[name].outline.edges
               if edge.name in ("heel", "rear", "left rear", "right rear"))


def ankle_ring(pattern: Pattern) -> float:
    """Round the leg where it meets the foot behind: from one end of its edge there to the other."""
    ends = pieces(pattern)["leg"].outline["heel"].path
    return hypot(ends.end.x - ends.start.x, ends.end.y - ends.start.y)


# Asked of the body

def way_over_the_shoulder(taped: Taped) -> float:
    """From the root of the neck out to the shoulder's point, and over it down to its fullest girth."""
    along = taped["shoulder_width"] / 2 - taped["neck_base_girth"] / (2 * pi)
    return max(along, LEAST_ALONG * taped["stature"]) + ROUND_THE_SHOULDER * taped["stature"]


def over_the_head(taped: Taped) -> float:
    return max(taped["bust_girth"], ARMS_UP * taped["shoulder_girth"]) + OVER_THE_HEAD


def into_the_tube(taped: Taped) -> float:
    return min(over_the_head(taped), taped["hip_girth"] + OVER_THE_HIPS)


def stride(taped: Taped, hem_height: float) -> float:
    """1.2 × stature at the ankle; higher up the two legs are nearer, as in a triangle from the hip joint."""
    stature = taped["stature"]
    apex, ankle = HIP_JOINT * stature, ANKLE * stature
    return stature * max(KNEES, STRIDE * (apex - max(hem_height, ankle)) / (apex - ankle))


def dress_hem_height(taped: Taped, pattern: Pattern) -> float:
    return AXILLA * taped["stature"] - pattern.finished["length"]


def tunic_hem_height(taped: Taped, pattern: Pattern) -> float:
    return taped["cervicale_height"] - pattern.finished["length"]


@dataclass(frozen=True)
class Rule:
    """A check of a garment, and what it must be by the rule: measured is at least needed."""

    garment: str
    check: str
    measured: Callable[[Pattern, Taped], float]
    needed: Callable[[Pattern, Taped], float]


def narrowest_of_the_tube(pattern: Pattern, taped: Taped) -> float:
    """Of what stays closed: from the top, or the opening's end, to the waist. Below it the dress flares."""
    start, waist = pattern.finished.get("opening_length", 0.0), taped["torso_length"]
    tops = sum(length_of(piece, "top") * piece.cut for piece in pattern.pieces if piece.name in TUBE)
    past_the_waist = (waist + 10.0 * step for step in range(-6, 7))
    closed = [tube_ring(pattern, depth) for depth in past_the_waist if depth > start]
    return min([tube_ring(pattern, start) if start else tops, *closed])


RULES = (
    Rule("apron-dress", "a way in", narrowest_of_the_tube, lambda _, taped: into_the_tube(taped)),
    Rule("apron-dress", "room at the bust",
         lambda pattern, taped: tube_ring(pattern, min(0.055 * taped["stature"], taped["torso_length"] / 2)),
         lambda _, taped: taped["bust_girth"] + OVER_THE_BUST),
    Rule("apron-dress", "room to stride", lambda pattern, _: hem_girth(pattern),
         lambda pattern, taped: stride(taped, dress_hem_height(taped, pattern))),
    *(rule for garment in ("tunic", "underdress") for rule in (
        Rule(garment, "a way in", lambda pattern, _: block_ring(pattern),
             lambda _, taped: over_the_head(taped)),
        Rule(garment, "room to raise the arm", lambda pattern, taped: -ride(pattern, taped),
             lambda _, taped: -MOST_RIDE),
        Rule(garment, "room to stride", lambda pattern, _: hem_girth(pattern),
             lambda pattern, taped: stride(taped, tunic_hem_height(taped, pattern))),
    )),
    Rule("trousers", "the top passes the hips",
         lambda pattern, _: 2 * length_of(pieces(pattern)["leg"], "waist"),
         lambda _, taped: max(taped["hip_girth"], taped["waist_girth"]) + OVER_THE_SEAT),
    Rule("trousers", "room to squat", lambda pattern, _: crotch_way(pattern),
         lambda _, taped: taped["crotch_length"] + SQUAT * taped["stature"]),
    Rule("trousers", "heel through the leg",
         lambda pattern, _: length_of(pieces(pattern)["leg"], "hem"),
         lambda _, taped: taped["heel_ankle_girth"] + OVER_THE_HEEL),
    Rule("hood", "head through the neck",
         lambda pattern, _: 2 * widest(pieces(pattern)["panel"]),
         lambda _, taped: taped["head_girth"] + OVER_THE_EARS),
    Rule("hood", "room over the shoulders",
         lambda pattern, taped: cape_ring(pattern, way_over_the_shoulder(taped)),
         lambda _, taped: taped["shoulder_girth"] + OVER_A_TUNIC),
    Rule("wrap-coat", "fronts lie over each other", least_lap, lambda *_: LAP),
    Rule("wrap-coat", "room to raise the arm", lambda pattern, taped: -ride(pattern, taped),
         lambda *_: -MOST_RIDE),
    Rule("wrap-coat", "room to stride",
         lambda pattern, _: hem_girth(pattern) - 2 * pattern.finished["overlap"],
         lambda pattern, taped: stride(taped, tunic_hem_height(taped, pattern))),
    Rule("mittens", "the hand passes the edge", lambda pattern, _: 2 * widest(pieces(pattern)["hand"]),
         lambda pattern, _: pattern.measurements["folded_hand_girth"] + OVER_THE_THUMB),
    Rule("hose", "the heel seam goes over heel and instep",
         lambda pattern, _: min(heel_way(pattern, "leg"), heel_way(pattern, "upper", "sole")),
         lambda _, taped: taped["heel_ankle_girth"] + OVER_THE_INSTEP),
    Rule("hose", "the heel passes the ankle", lambda pattern, _: BIAS_GIVES * ankle_ring(pattern),
         lambda _, taped: taped["heel_ankle_girth"] + OVER_THE_INSTEP),
)

DRAFTS: Mapping[str, Sequence[Mapping[str, str]]] = {
    "apron-dress": ({"opening": "none"}, {}, {"opening": "none", "shaping": "straight"},
                    {"opening": "side", "hem_girth": "190cm"}),
    "tunic": ({}, {"chest_ease": "2cm", "gusset": "none", "body_width": "wide", "gores": "none"}),
    "underdress": ({}, {"chest_ease": "4cm", "gusset": "none", "gores": "none"}),
    "trousers": ({}, {"rise_ease": "8cm", "hip_ease": "5mm", "thigh_ease": "0", "leg_hem": "30cm"}),
    "hood": ({}, {"depth": "29cm"}),
    "wrap-coat": ({}, {"overlap": "4cm", "chest_ease": "5cm", "gusset": "none", "body_width": "wide",
                       "gores": "none"}, {"lap": "shaped"}),
    "mittens": ({}, {"girth_ease": "35mm"}),
    "hose": ({}, {"heel_ease": "2mm"}, {"reach": "thigh"}),
}
"""Some as they are proposed, and some that many bodies must fail."""


@dataclass
class Tally:
    """How often a check and its rule agree. Numbers are the bodies' places in the survey's file."""

    judged: int = 0
    fails: int = 0
    refused: int = 0
    false_passes: list[tuple[int, float]] = field(default_factory=list)
    false_fails: list[tuple[int, float]] = field(default_factory=list)


def taped_of(person: SurveyBody) -> dict[str, float]:
    """What the survey's tape says, and the way down from under the arms to the waist."""
    values = person.values
    return {**values, "torso_length": values["axilla_height"] - values["waist_height"]}


def body_of(garment: str, person: SurveyBody) -> Body:
    kind = GARMENTS[garment]
    return complete(taped_of(person), kind.needs + kind.uses, sex=person.sex)


@cache
def stratified(count: int) -> tuple[int, ...]:
    """Places in the survey, women and men in their shares, evenly over the range of their bust girths,
    the slimmest and the stoutest of both with them."""
    everyone = ansur_bodies()
    found: list[int] = []
    for sex in ("woman", "man"):
        places = sorted((n for n, body in enumerate(everyone) if body.sex == sex),
                        key=lambda n: everyone[n].values["bust_girth"])
        wanted = max(2, round(count * len(places) / len(everyone)))
        found += [places[round(k * (len(places) - 1) / (wanted - 1))] for k in range(wanted)]
    return tuple(dict.fromkeys(found))


def judged(numbers: Iterable[int], garment: str, options: Mapping[str, str]) -> dict[str, Tally]:
    """Every rule of a garment on those bodies, with those options."""
    kind, rules = GARMENTS[garment], [rule for rule in RULES if rule.garment == garment]
    found = {rule.check: Tally() for rule in rules}
    for number in numbers:
        person = ansur_bodies()[number]
        taped, body = taped_of(person), body_of(garment, person)
        try:
            pattern = kind.draft(body, read_options(kind, options, body))
        except BadInput:
            for tally in found.values():
                tally.refused += 1
            continue
        clears = {clearance.name: clearance.clears for clearance in pattern.clearances}
        for rule in rules:
            count(found[rule.check], number, clears[rule.check],
                  rule.measured(pattern, taped) - rule.needed(pattern, taped))
    return found


def count(tally: Tally, number: int, passed: bool, spare: float) -> None:
    """Whether the check's verdict is the rule's, which has `spare` mm to spare."""
    tally.judged += 1
    tally.fails += not passed
    if passed and spare < -NO_DIFFERENCE:
        tally.false_passes.append((number, spare))
    if not passed and spare >= NO_DIFFERENCE:
        tally.false_fails.append((number, spare))


# Seams and hems

def random_drafts(count: int, seed: int = 15) -> Iterator[Pattern]:
    """For each of so many bodies of the survey every garment, with some of its choices at random."""
    chance = random.Random(seed)
    for person in chance.sample(ansur_bodies(), count):
        for name, kind in GARMENTS.items():
            options = {option.name: chance.choice(sorted(option.choices)) for option in kind.options
                       if isinstance(option, ChoiceOption) and chance.random() < 0.5}
            body = body_of(name, person)
            try:
                yield kind.draft(body, read_options(kind, options, body))
            except BadInput:
                continue


def worst_seam(pattern: Pattern) -> float:
    """mm by which the two sides of a seam differ, its ease apart, at the worst; by shapely."""
    written = as_json(pattern)
    lines = {(piece["name"], edge["name"]): LineString(edge["line"]).length
             for piece in written["pieces"] for edge in piece["edges"]}
    return max((abs(sum(lines[tuple(part)] for part in seam["a"])
                    - sum(lines[tuple(part)] for part in seam["b"]) - seam["ease"])
                for seam in written["seams"]), default=0.0)


def worst_hem(pattern: Pattern) -> float:
    """mm by which a point of a hem is off its depth below the level it hangs from, at the worst; by
    shapely."""
    worst = 0.0
    for piece in pattern.pieces:
        for hang in piece.hangs:
            ends = [hang.level] if not hasattr(hang.level, "points") else hang.level.points()
            points = [(p.x, p.y) for p in ends]
            level = LineString(points) if len(points) > 1 else Point(points[0])
            worst = max(worst, *(abs(level.distance(Point(p.x, p.y)) - hang.depth)
                                 for p in piece.outline[hang.hem].path.points()))
    return worst


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("garments", nargs="*", default=list(DRAFTS))
    parser.add_argument("--every", type=int, default=1, help="take every Nth body of the survey (1)")
    parser.add_argument("--drafts", type=int, default=500, help="bodies with random options (500)")
    given = parser.parse_args()
    everyone = range(0, len(ansur_bodies()), given.every)
    for garment in given.garments:
        for options in DRAFTS[garment]:
            for check, tally in judged(everyone, garment, options).items():
                print(f"{garment:12} {check:22} {dict(options)!s:60} {tally.judged} judged, "
                      f"{tally.refused} refused, {tally.fails} fail; {len(tally.false_passes)} false passes, "
                      f"{len(tally.false_fails)} false fails", flush=True)
                for number, spare in (*tally.false_passes, *tally.false_fails)[:3]:
                    print(f"    body {number}: {spare:.1f} mm to spare")
    drafts = seam = hem = 0.0
    for pattern in random_drafts(given.drafts):
        drafts, seam, hem = drafts + 1, max(seam, worst_seam(pattern)), max(hem, worst_hem(pattern))
    print(f"{given.drafts} bodies, {drafts:.0f} drafts with random options: seams differ by {seam:.3f} mm at "
          f"most, hems are off by {hem:.3f} mm at most")


if __name__ == "__main__":
    main()
