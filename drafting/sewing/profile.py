"""The girth profile: the finished garment round the body, from its top to its hem, at a glance.

On the left the body is hatched and the garment a thick line about it, both as wide as if laid flat. On
the right, at each height, a bar as long as the room there: black where it is tight, hatched where it
is close, empty where it is easy or loose; and the same in words.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from ..geometry import Point
from ..pattern import Level, Pattern
from ..words.wording import said
from .picture import Caption, Item, Picture, PictureLine, hatched

Fit = Literal["too small", "tight", "close", "easy", "loose"]

FITS: tuple[tuple[float, Fit], ...] = (
    (0.0, "too small"), (20.0, "tight"), (70.0, "close"), (200.0, "easy"),
)
"""mm of room up to which a girth is so called; over the last it is loose. common practice, no source."""

FIGURE = 150.0
HEIGHT = 190.0
BAR = 9.0
ROW = 33.0
LONGEST_BAR = 120.0
WIDTH = 340.0


@dataclass(frozen=True, slots=True)
class Room:
    """A level's girth against the body's: `spare` mm of room, and what to call it."""

    level: Level
    spare: float | None
    fit: Fit | None


def rooms(pattern: Pattern) -> tuple[Room, ...]:
    """Every level from the top down; room only where the body's girth is known."""
    return tuple(_room(level) for level in sorted(pattern.levels, key=lambda level: level.depth))


def _room(level: Level) -> Room:
    if level.body_girth is None:
        return Room(level, None, None)
    spare = level.girth - level.body_girth
    return Room(level, spare, next((fit for most, fit in FITS if spare < most), "loose"))


def girth_profile(pattern: Pattern) -> Picture | None:
    """The picture; None for a garment that states fewer than two levels."""
    found = rooms(pattern)
    if len(found) < 2 or found[-1].level.depth <= found[0].level.depth:
        return None
    items: list[Item] = []
    widest = max(room.level.girth * _legs(room.level) for room in found)
    scale = min((FIGURE - 16) / (widest / 2),
                (HEIGHT - 24) / (found[-1].level.depth - found[0].level.depth))
    top, middle = 14.0, FIGURE / 2

    def at(level: Level, girth: float, side: int) -> Point:
        return Point(middle + side * girth * _legs(level) / 4 * scale,
                     top + (level.depth - found[0].level.depth) * scale)

    body = [room.level for room in found if room.level.body_girth is not None]
    if len(body) > 1:
        shape = [at(level, level.body_girth or 0.0, 1) for level in body]
        shape += [at(level, level.body_girth or 0.0, -1) for level in reversed(body)]
        items.extend(hatched(shape, 3.5))
        items.append(PictureLine(tuple(shape), "guide", closed=True))
    for side in (-1, 1):
        items.append(PictureLine(tuple(at(r.level, r.level.girth, side) for r in found), "outline"))
    for room in (found[0], found[-1]):
        items.append(PictureLine((at(room.level, room.level.girth, -1), at(room.level, room.level.girth, 1)),
                          "guide"))
    height = max(at(found[-1].level, 0, 1).y + 12, top + ROW * len(found))
    rows = _spread([at(room.level, 0, 1).y for room in found], ROW, height - ROW * 0.35)
    most = max((room.spare or 0.0 for room in found), default=0.0)
    for room, y in zip(found, rows, strict=True):
        edge = at(room.level, room.level.girth, 1)
        items.append(PictureLine((Point(edge.x + 4, edge.y), Point(FIGURE + 8, y), Point(FIGURE + 16, y)),
                          "guide"))
        items.extend(_row(room, y, most))
    return Picture(_in_words(found), WIDTH, height, tuple(items))


def _legs(level: Level) -> int:
    """Below the crotch a level tells the girth of one leg, and the picture shows both."""
    return 2 if level.kind == "leg" else 1


def _row(room: Room, y: float, most: float) -> list[Item]:
    x = FIGURE + 20.0
    level = room.level
    if room.spare is None or room.fit is None:
        return [Caption(f"{level.name}: {said(level.girth)}", Point(x, y + 4), anchor="start")]
    if room.spare < 0:
        told = f"{level.name}: {said(-room.spare)} too small"
    else:
        told = f"{level.name}: {said(room.spare)}, {room.fit}"
    items: list[Item] = [Caption(told, Point(x, y - 3), anchor="start", bold=room.spare < FITS[1][0])]
    length = max(4.0, LONGEST_BAR * max(room.spare, 0.0) / max(most, FITS[2][0]))
    box = (Point(x, y + 2), Point(x + length, y + 2), Point(x + length, y + 2 + BAR),
           Point(x, y + 2 + BAR))
    if room.fit in ("too small", "tight"):
        items.append(PictureLine(box, "fill", closed=True))
    else:
        items.append(PictureLine(box, "cloth", closed=True))
        if room.fit == "close":
            items.extend(hatched(box, 3.5))
    return items


def _spread(wanted: Sequence[float], apart: float, lowest: float) -> list[float]:
    """Heights near those wanted, at least so far apart and none below `lowest`."""
    found: list[float] = []
    for y in wanted:
        found.append(max(y, found[-1] + apart if found else y))
    over = max(0.0, found[-1] - lowest)
    found[-1] -= over
    for i in range(len(found) - 2, -1, -1):
        found[i] = min(found[i], found[i + 1] - apart)
    return found


def _in_words(found: Sequence[Room]) -> str:
    told = []
    for room in found:
        if room.spare is None:
            told.append(f"{room.level.name} {said(room.level.girth)} round")
        elif room.spare < 0:
            told.append(f"{room.level.name} {said(-room.spare)} too small")
        else:
            told.append(f"{room.level.name} {said(room.spare)} of room ({room.fit})")
    return f"The garment round the body: {', '.join(told)}."
