"""What a garment that hangs on its figure tells: how high its hem is all round, where it is close and where
loose, how many folds it falls in, whether anything pulls. It informs; truing judges."""

from collections.abc import Iterator
from itertools import pairwise

import numpy as np

from ..words.wording import said
from .cloth_forces import pulled
from .hanging import Worn
from .sections import Floats

EVERY = 10
"""Degrees between the places where the hem's height is told."""

CLOSE, LOOSE = 0.05, 0.20
"""Of the body's girth: how much larger the garment's is where it is called close, and loose. judged by
eye."""

PULLS = 0.02
"""Of a hundredth of the cloth, along its threads: stretched more it is said to pull. common practice, no
source."""

A_FOLD = 12.0
"""mm that a fold stands out at the hem to be counted. judged by eye."""

LEVEL = 15.0
"""mm between the hem's highest and lowest place under which it is called level. common practice, no
source."""

NOWHERE = "Nowhere does the cloth pull."
"""Said where there is no more to say."""

SIDES = ("in front", "on the left in front", "at the left side", "on the left behind", "behind",
         "on the right behind", "at the right side", "on the right in front")


def hem_heights(worn: Worn) -> list[tuple[float, float]]:
    """(degrees, mm above the floor) every 10°, from the front towards the wearer's left; nothing where the
    hem is open. Of two legs the lower one counts."""
    found: dict[int, float] = {}
    for ring in _rings(worn):
        middle = (ring[:, :2].min(0) + ring[:, :2].max(0)) / 2
        angle = np.degrees(np.arctan2(ring[:, 0] - middle[0], -(ring[:, 1] - middle[1])))
        for (a, b), (p, q) in zip(pairwise(angle), pairwise(ring[:, 2]), strict=True):
            turn = (b - a + 180) % 360 - 180
            if abs(turn) < 1e-9:
                continue
            for at in range(0, 360, EVERY):
                part = ((at - a + 180) % 360 - 180) / turn
                if 0 <= part < 1:
                    height = float(p + part * (q - p))
                    found[at] = min(found.get(at, height), height)
    return [(float(at), found[at]) for at in sorted(found)]


def _rings(worn: Worn) -> list[Floats]:
    """The hem's runs joined where they share a point, each as its points in order."""
    runs = [list(map(int, run)) for run in worn.hems if len(run) > 1]
    chains: list[list[int]] = []
    while runs:
        chain = runs.pop()
        grown = True
        while grown:
            grown = False
            for run in runs:
                for ordered in (run, run[::-1]):
                    if ordered[0] == chain[-1]:
                        chain = chain + ordered[1:]
                    elif ordered[-1] == chain[0]:
                        chain = ordered[:-1] + chain
                    else:
                        continue
                    runs.remove(run)
                    grown = True
                    break
                if grown:
                    break
        chains.append(chain)
    return [worn.points[chain] for chain in chains]


def in_words(worn: Worn) -> tuple[str, ...]:
    """Sentences with lengths as marks."""
    return tuple([*_about_the_hem(worn), *_about_the_room(worn), *_about_folds(worn), *_about_pulling(worn)]
                 or [NOWHERE])


def _about_the_hem(worn: Worn) -> Iterator[str]:
    heights = hem_heights(worn)
    if not heights:
        return
    low, high = min(h for _, h in heights), max(h for _, h in heights)
    if low > worn.figure.heights["waist"]:
        neck = worn.figure.heights["neck"]
        yield f"The hem hangs {said(neck - high)} to {said(neck - low)} below the root of the neck."
        return
    if low < 3.0:
        yield "The hem lies on the floor."
        return
    if high - low < LEVEL:
        yield f"The hem hangs level, and clears the floor by {said(low)} to {said(high)}."
        return
    lowest = min(heights, key=lambda one: one[1])[0]
    highest = max(heights, key=lambda one: one[1])[0]
    yield (f"The hem clears the floor by {said(low)} to {said(high)}: lowest {_side(lowest)}, highest "
           f"{_side(highest)}.")


def _side(angle: float) -> str:
    return SIDES[int(((angle + 22.5) % 360) // 45)]


def _about_the_room(worn: Worn) -> Iterator[str]:
    for name, title in (("bust", "bust"), ("waist", "waist"), ("hips", "hips")):
        height = worn.figure.heights[name]
        garment, body = girth_at(worn, height), worn.figure.stacks["trunk"].girth(height)
        if not garment:
            continue
        ease = garment / body - 1
        how = "close" if ease < CLOSE else "loose" if ease > LOOSE else "easy"
        yield f"At the {title} it is {how}: {said(garment)} round a body of {said(body)}."


def girth_at(worn: Worn, height: float) -> float:
    """A tape round the garment, sleeves apart, at that height, mm; 0 where it does not go all round."""
    mesh = worn.mesh
    from_sleeves = np.concatenate([
        np.full(len(cut.corners), cut.copy[0] == "sleeve") for cut in mesh.pieces])
    corners = mesh.corners[~from_sleeves]
    found = []
    for a, b in ((0, 1), (1, 2), (2, 0)):
        p, q = worn.points[corners[:, a]], worn.points[corners[:, b]]
        crosses = (p[:, 2] > height) != (q[:, 2] > height)
        part = (height - p[crosses, 2]) / (q[crosses, 2] - p[crosses, 2])
        found.append(p[crosses, :2] + part[:, None] * (q[crosses, :2] - p[crosses, :2]))
    points = np.concatenate(found)
    if len(points) < 6 or not (np.ptp(points, axis=0) > 50).all():
        return 0.0
    hull = _hull(points)
    return float(np.linalg.norm(hull - np.roll(hull, 1, 0), axis=1).sum())


def _hull(points: Floats) -> Floats:
    """The convex hull's corners in order. source: Andrew 1979, Information Processing Letters 9(5)."""
    ordered = sorted(map(tuple, points))

    def half(along: list[tuple[float, ...]]) -> list[tuple[float, ...]]:
        kept: list[tuple[float, ...]] = []
        for p in along:
            while len(kept) > 1 and ((kept[-1][0] - kept[-2][0]) * (p[1] - kept[-2][1])
                                     - (kept[-1][1] - kept[-2][1]) * (p[0] - kept[-2][0])) <= 0:
                kept.pop()
            kept.append(p)
        return kept[:-1]

    return np.array(half(ordered) + half(ordered[::-1]))


def folds(worn: Worn) -> int:
    """How often the hem stands out and falls back, by more than A_FOLD."""
    count = 0
    for ring in _rings(worn):
        middle = (ring[:, :2].min(0) + ring[:, :2].max(0)) / 2
        half = np.maximum(np.ptp(ring[:, :2], axis=0) / 2, 1.0)
        out = np.linalg.norm((ring[:, :2] - middle) / half, axis=1) * float(half.mean())
        low, rising = out[0], True
        high = out[0]
        for r in out:
            if rising:
                high = max(high, r)
                if r < high - A_FOLD:
                    count, rising, low = count + 1, False, r
            else:
                low = min(low, r)
                if r > low + A_FOLD:
                    rising, high = True, r
    return count


def _about_folds(worn: Worn) -> Iterator[str]:
    count = folds(worn)
    if count > 2:
        yield f"It falls in {count} folds at the hem."


def _about_pulling(worn: Worn) -> Iterator[str]:
    stretched = pulled(worn.mesh, worn.points)
    if float(np.percentile(stretched, 99)) > PULLS:
        height = float(worn.points[worn.mesh.corners[int(np.argmax(stretched))], 2].mean())
        yield f"The cloth pulls, most of all {said(height)} above the floor."
