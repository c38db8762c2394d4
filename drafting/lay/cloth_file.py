"""Reading a file of polygons to be cut from cloth as one has it.

    {"width": W, "pieces": [{…, "may_be_pieced": true}],
     "cloths": [{"name": "…", "outline": [[x, y], …], "holes": [[[x, y], …]], "grain": 0}]}

Pieces are as in `instances`, their grain along x. `grain` of a cloth is in degrees from +x towards +y. Where
`width` is given, what finds no place on the cloths is cut from a bolt so wide.
"""

from typing import Any, NamedTuple

from ..both.texts import one_line
from ..words.problems import BadInput, Problem
from .engine import width_problems
from .instances import content_of, read_pieces, read_ring, read_width
from .remnant import Remnant
from .remnants import MOST_REMNANTS
from .shape import FARTHEST, Shape


class ClothFile(NamedTuple):
    """`width` is of the bolt, mm, None where there is none. `may_be_pieced` names shapes."""

    shapes: tuple[Shape, ...]
    remnants: tuple[Remnant, ...]
    width: float | None
    may_be_pieced: frozenset[str]


def names_cloths(text: str) -> bool:
    """Whether it is such a file. Raises BadInput for what is no file of pieces."""
    return "cloths" in content_of(text)


def read_cloth_file(text: str) -> ClothFile:
    """Raises BadInput with every problem found, each naming the piece or the cloth."""
    content = content_of(text)
    problems: list[Problem] = []
    width = read_width(content, problems) if "width" in content else None
    remnants = _remnants(content.get("cloths"), problems)
    shapes = read_pieces(content, problems)
    if width and not problems:
        problems += width_problems(shapes, width, "x")
    if problems:
        raise BadInput(problems)
    pieced = (p for p in content["pieces"] if p.get("may_be_pieced") is True)
    names = frozenset(one_line(str(p.get("name", ""))) for p in pieced)  # type: ignore[no-untyped-call]
    return ClothFile(tuple(shapes), tuple(remnants), width, names)


def _remnants(cloths: Any, problems: list[Problem]) -> list[Remnant]:
    if not isinstance(cloths, list) or not cloths:
        problems.append(Problem("cloths", "“cloths” must be a list of pieces of cloth: at least one."))
        return []
    if len(cloths) > MOST_REMNANTS:
        problems.append(Problem(
            "cloths", f"{len(cloths)} cloths are given: at most {MOST_REMNANTS} are laid at once. Lay the "
            "largest first, and what is left on the others."))
        return []
    found: list[Remnant] = []
    for number, cloth in enumerate(cloths, 1):
        try:
            remnant = _remnant(cloth, number)
        except BadInput as error:
            problems += error.problems
            continue
        if any(remnant.name == other.name for other in found):
            problems.append(Problem("cloths", f"Two cloths are named “{remnant.name}”: give each its own."))
        found.append(remnant)
    return found


def _remnant(cloth: Any, number: int) -> Remnant:
    if not isinstance(cloth, dict):
        raise BadInput([Problem("cloths", f"Cloth number {number} must be an object with an “outline”.")])
    name = one_line(str(cloth.get("name", number)))  # type: ignore[no-untyped-call]

    def bad(reason: str) -> BadInput:
        return BadInput([Problem(name, f"Cloth “{name}” {reason}")])

    grain, holes = cloth.get("grain", 0), cloth.get("holes", [])
    if isinstance(grain, bool) or not isinstance(grain, (int, float)) or not -360 <= grain <= 360:
        raise bad("has a grain that is no number of degrees from -360 to 360.")
    if not isinstance(holes, list):
        raise bad("has holes that are no list: give a list of outlines, or leave it out.")
    rings = [read_ring(ring, bad) for ring in (cloth.get("outline"), *holes)]
    if any(abs(value) > FARTHEST for ring in rings for corner in ring for value in corner):
        raise bad(f"reaches further than {FARTHEST / 1000:.0f} m: check the unit, which is mm.")
    return Remnant(name, rings[0], tuple(rings[1:]), float(grain))
