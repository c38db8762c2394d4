"""What to call the copies of pieces in a sentence."""

from collections.abc import Iterable, Sequence

from ..pattern import Pattern, Seam, SeamEdge
from .graph import Copy, copy_of


def listed(things: Sequence[str]) -> str:
    """`a`, `a and b`, `a, b and c`."""
    if len(things) < 2:
        return "".join(things)
    return f"{', '.join(things[:-1])} and {things[-1]}"


def together(names: Sequence[str]) -> str:
    """Names listed, those that differ in one word only drawn into one: `left and right sleeve`."""
    left = [name.split() for name in dict.fromkeys(names)]
    found: list[list[str]] = []
    for words in left:
        for i, other in enumerate(found):
            places = [k for k, (a, b) in enumerate(zip(words, other, strict=False)) if a != b]
            if len(words) == len(other) > 1 and len(places) == 1:
                place = places[0]
                found[i] = [*other[:place], f"{other[place]} and {words[place]}", *other[place + 1:]]
                break
        else:
            found.append(words)
    drawn = [" ".join(words) for words in found]
    return listed(drawn) if len(drawn) in (1, len(left)) else together(drawn)


def copies_named(pattern: Pattern, copies: Iterable[Copy]) -> str:
    """The copies by name; three or more of one piece are counted instead."""
    by_piece: dict[str, list[int]] = {}
    for name, copy in dict.fromkeys(copies):
        by_piece.setdefault(name, []).append(copy)
    names: list[str] = []
    for title, numbers in by_piece.items():
        piece = pattern.piece(title)
        if len(numbers) > 2:
            names.append(f"{len(numbers)} × {piece.title}")
        else:
            names.extend(piece.copy_name(copy) for copy in numbers)
    return together(names)


def copy_named(pattern: Pattern, part: SeamEdge) -> str:
    return pattern.piece(part.piece).copy_name(part.copy)


def side_named(pattern: Pattern, side: Sequence[SeamEdge]) -> str:
    return copies_named(pattern, map(copy_of, side))


def capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def smaller_first(pattern: Pattern, seam: Seam) -> tuple[tuple[SeamEdge, ...], tuple[SeamEdge, ...]]:
    """The two sides, the one with less cloth first."""
    def area(side: tuple[SeamEdge, ...]) -> float:
        return sum(pattern.piece(name).outline.area for name, _ in {copy_of(p) for p in side})

    return (seam.a, seam.b) if area(seam.a) <= area(seam.b) else (seam.b, seam.a)
