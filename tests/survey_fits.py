"""Fits on the bodies of the survey: every garment altered at one of its places, by one change, at random.

    python -m tests.survey_fits [--bodies N] [--garments N] [--seed N]

source of the bodies: ANSUR II (Gordon et al. 2014, NATICK/TR-15/007). Seams, hems and where the new sewing
lines lie are measured by shapely on pattern.json.
"""

import argparse
import random
from collections.abc import Iterator
from dataclasses import dataclass, field

from shapely import affinity
from shapely.geometry import Polygon

from drafting.garments import GARMENTS, read_options
from drafting.life.adjust import Fitted, Sized, fitted, sized
from drafting.life.as_cut import AsCut, PieceAsCut, on_the_cloth
from drafting.life.fits import PLACES, Fit, places_of
from drafting.pattern import Pattern, as_json
from drafting.words.problems import BadInput
from tests.bodies.survey import ansur_bodies
from tests.survey_rules import body_of, worst_hem, worst_seam

CHANGES = (30.0, 12.0, -10.0, -25.0)
STRAYS = 0.1
"""mm by which a polyline may stray from the curve it stands for."""


@dataclass
class Swept:
    """What a sweep came to; lengths in mm, the worst of all."""

    fits: int = 0
    refused: int = 0
    promised: int = 0
    seam: float = 0.0
    hem: float = 0.0
    back: float = 0.0
    off: float = 0.0
    beyond: list[str] = field(default_factory=list)
    astray: list[str] = field(default_factory=list)


def fits_at_random(bodies: int, garments: int, seed: int) -> Iterator[tuple[str, Sized, Fit]]:
    """For each of so many bodies so many garments, each with a place and a change."""
    chance = random.Random(seed)
    for person in chance.sample(ansur_bodies(), bodies):
        for name in chance.sample(list(GARMENTS), garments):
            kind = GARMENTS[name]
            body = body_of(name, person)
            try:
                one = sized(kind, body, read_options(kind, {}, body))
            except BadInput:
                continue
            place = chance.choice(places_of(kind, one.pattern))
            yield name, one, Fit(place.name, chance.choice(CHANGES))


def lies_within(cut: Pattern, as_cut: AsCut, piece: PieceAsCut) -> bool:
    """Whether a piece's new sewing line lies in the cloth that was cut for it."""
    there = {p["name"]: p for p in as_json(cut)["pieces"]}
    wanted = {p["name"]: p for p in as_json(as_cut.pattern)["pieces"]}
    cloth = Polygon(there[piece.name]["cutting_line"])
    line = affinity.translate(Polygon(wanted[piece.name]["sewing_line"]), *piece.shift)
    return cloth.buffer(STRAYS).covers(line)


def outlines(pattern: Pattern) -> dict[str, Polygon]:
    return {piece["name"]: Polygon(piece["sewing_line"]) for piece in as_json(pattern)["pieces"]}


def sweep_fits(bodies: int, garments: int = len(GARMENTS), seed: int = 20) -> Swept:
    found = Swept()
    for name, one, fit in fits_at_random(bodies, garments, seed):
        try:
            made = fitted(one, (fit,))
        except BadInput:
            found.refused += 1
            continue
        found.fits += 1
        found.seam = max(found.seam, worst_seam(made.after.pattern))
        found.hem = max(found.hem, worst_hem(made.after.pattern))
        found.off = max(found.off, _off(made, fit))
        back = _there_and_back(made, fit)
        found.back = max(found.back, back)
        if back > STRAYS:
            found.astray.append(f"{name}, {fit.place} {fit.change:+g}: {back:.2f} mm there and back")
        cloth = on_the_cloth(made)
        if cloth.holds:
            found.promised += 1
            found.beyond += [f"{name}, {fit.place} {fit.change:+g}: {piece.name}" for piece in cloth.pieces
                             if piece.moved and not lies_within(one.pattern, cloth, piece)]
    return found


def _off(made: Fitted, fit: Fit) -> float:
    """mm by which it misses what was asked, where the draft does not say that it rounds."""
    place = PLACES[fit.place]
    was, now = (place.measured_on(sized.pattern) or 0.0 for sized in (made.before, made.after))
    return 0.0 if fit.place in made.missed else abs(now - was - fit.change)


def _there_and_back(made: Fitted, fit: Fit) -> float:
    if fit.place in made.missed:
        return 0.0
    try:
        back = fitted(made.after, (Fit(fit.place, -fit.change),)).after.pattern
    except BadInput:
        return 0.0
    before, again = outlines(made.before.pattern), outlines(back)
    if before.keys() != again.keys():
        return float("inf")
    return max(again[name].hausdorff_distance(before[name]) for name in before)


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--bodies", type=int, default=500, help="of the survey (500)")
    parser.add_argument("--garments", type=int, default=len(GARMENTS), help="of each body (all)")
    parser.add_argument("--seed", type=int, default=20)
    given = parser.parse_args()
    found = sweep_fits(given.bodies, given.garments, given.seed)
    print(f"{given.bodies} bodies, {found.fits} fits and {found.refused} refused: seams differ by "
          f"{found.seam:.3f} mm at most, hems are off by {found.hem:.3f} mm, what was asked by "
          f"{found.off:.3f} mm, there and back by {found.back:.3f} mm; {found.promised} promised on the "
          f"cloth as cut, {len(found.beyond)} of them beyond it")
    for one in (*found.beyond, *found.astray)[:20]:
        print(f"    {one}")


if __name__ == "__main__":
    main()
