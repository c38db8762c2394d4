"""A polygon cut into convex parts.

Source: ear clipping, Meisters 1975, "Polygons have ears"; joining the triangles, Hertel & Mehlhorn
1983, "Fast triangulation of simple polygons" (at most four times as many parts as needed).
"""

from .corners import Corner, Points, turn, turns


def convex_parts(points: Points) -> list[Points]:
    """Convex polygons that cover a simple counter-clockwise polygon exactly, meeting at edges."""
    if (turns(points) >= 0).all():
        return [points]
    corners = [(float(x), float(y)) for x, y in points]
    parts = _joined(_triangles(corners), corners)
    return [points[list(part)] for part in parts]


def _triangles(corners: list[Corner]) -> list[list[int]]:
    """Ears, the ones with the largest smallest angle first so that no needles are made."""
    ring = list(range(len(corners)))
    triangles: list[list[int]] = []
    while len(ring) > 3:
        best, best_k = -1.0, -1
        n = len(ring)
        bends = [
            turn(corners[ring[k - 1]], corners[ring[k]], corners[ring[(k + 1) % n]])
            for k in range(n)
        ]
        reflex = [ring[k] for k in range(n) if bends[k] <= 0]
        for k in range(n):
            if bends[k] <= 0:
                continue
            ia, ib, ic = ring[k - 1], ring[k], ring[(k + 1) % n]
            a, b, c = corners[ia], corners[ib], corners[ic]
            if any(
                p not in (ia, ib, ic)
                and turn(a, b, corners[p]) >= 0
                and turn(b, c, corners[p]) >= 0
                and turn(c, a, corners[p]) >= 0
                for p in reflex
            ):
                continue
            sides = sorted(
                (q[0] - p[0]) ** 2 + (q[1] - p[1]) ** 2 for p, q in ((a, b), (b, c), (c, a))
            )
            roundness = bends[k] / sides[2]
            if roundness > best:
                best, best_k = roundness, k
        if best_k < 0:
            # Only rounding can hide every ear; the flattest corner costs nothing to drop.
            best_k = min(range(n), key=lambda k: abs(bends[k]))
            if bends[best_k] <= 0:
                del ring[best_k]
                continue
        triangles.append([ring[best_k - 1], ring[best_k], ring[(best_k + 1) % n]])
        del ring[best_k]
    triangles.append(ring)
    return triangles


def _joined(parts: list[list[int]], corners: list[Corner]) -> list[list[int]]:
    """Neighbouring parts joined across their longest shared edge for as long as the result is
    convex."""
    parts = [list(part) for part in parts]
    while True:
        owner: dict[tuple[int, int], int] = {}
        for index, part in enumerate(parts):
            for k, corner in enumerate(part):
                owner[corner, part[(k + 1) % len(part)]] = index
        choices = []
        for (a, b), index in owner.items():
            other = owner.get((b, a))
            if other is not None and a < b and other != index:
                merged = _merge(parts[index], parts[other], a, b)
                if _is_convex(merged, corners):
                    (ax, ay), (bx, by) = corners[a], corners[b]
                    choices.append(((ax - bx) ** 2 + (ay - by) ** 2, index, other, merged))
        if not choices:
            return parts
        _, index, other, merged = max(choices, key=lambda choice: choice[0])
        parts[index] = merged
        del parts[other]


def _merge(one: list[int], other: list[int], a: int, b: int) -> list[int]:
    """The ring round both, where `one` runs a → b and `other` b → a."""
    i, j = one.index(b), other.index(a)
    around_one = one[i:] + one[:i]
    around_other = other[j:] + other[:j]
    return around_one[:-1] + around_other[:-1]


def _is_convex(ring: list[int], corners: list[Corner]) -> bool:
    n = len(ring)
    scale = max(
        abs(corners[ring[k]][axis] - corners[ring[0]][axis]) for k in range(n) for axis in (0, 1)
    )
    return all(
        turn(corners[ring[k - 1]], corners[ring[k]], corners[ring[(k + 1) % n]])
        >= -1e-12 * scale * scale
        for k in range(n)
    )
