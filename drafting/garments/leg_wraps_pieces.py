"""The strip of a leg wrap, whole or joined from two or three lengths."""

from itertools import pairwise
from math import ceil, hypot

from ..geometry import Allowance, Edge, Outline, Path, Point
from ..pattern import Notch, Piece, SchematicPlace, Seam, SeamEdge
from ..words.problems import BadInput, Problem
from ..words.wording import said
from .leg_wraps_shape import Strip
from .options import Options

LONGEST_PART = 2000.0
MOST_PARTS = 3
JOIN_ALLOWANCE = 12.0
"""mm of strip in one length, lengths in a strip, mm at each side of a join. common practice, no source."""

COUNTED = {2: "two", 3: "three"}

ENDS = {1: ("leg wrap",), 2: ("ankle's end", "knee's end"), 3: ("ankle's end", "middle", "knee's end")}

JOINS = {2: ("join",), 3: ("lower join", "upper join")}

GAP = 40.0


def wrap_pieces(options: Options, strip: Strip) -> tuple[Piece, ...]:
    """From the start at the ankle up, each with its foot at the foot of the page. Raises BadInput for a
    strip that is shorter than its own point."""
    shoulder = strip.width if options.is_("ends", "pointed") else 0.0
    if strip.length <= shoulder + 10:
        raise BadInput([Problem(
            "band_length",
            f"A band of {said(strip.length)} is shorter than its own point: choose square ends, or "
            "give a longer band.",
            also=("ends",),
        )])
    count = _parts(options, strip)
    return tuple(_part(options, strip, n, count, shoulder) for n in range(count))


def _parts(options: Options, strip: Strip) -> int:
    """How many lengths: one where the band is at hand, or one is asked for."""
    if options["band_length"] or options.is_("joins", "one"):
        return 1
    return min(MOST_PARTS, max(2, ceil(strip.length / LONGEST_PART)))


def _part(options: Options, strip: Strip, n: int, count: int, shoulder: float) -> Piece:
    """Part `n` of `count`, from the ankle's end; the last ends `shoulder` mm below its point."""
    length = strip.length / count
    last = n == count - 1
    top = shoulder if last else 0.0

    def width(along: float) -> float:
        part = along / (strip.length - shoulder)
        return strip.ankle_width + (strip.width - strip.ankle_width) * part

    low, high = width(n * length), width((n + 1) * length - top)
    left, right = Point(-high / 2, top), Point(high / 2, top)
    foot_right, foot_left = Point(low / 2, length), Point(-low / 2, length)
    pointed = (left, Point(0, 0), right) if top else (left, right)
    hem, join = Allowance(2 * options["hem_depth"], fold=True), Allowance(JOIN_ALLOWANCE)
    long = Allowance(0.0) if strip.selvedges else hem
    name = "wrap" if count == 1 else f"wrap {n + 1}"
    title = ENDS[count][n] if count == 1 else f"leg wrap, {ENDS[count][n]}"
    return Piece(
        name=name,
        title=title,
        outline=Outline((
            Edge("upper end", Path.through(*pointed)),
            Edge("right", Path.through(right, foot_right)),
            Edge("start", Path.through(foot_right, foot_left)),
            Edge("left", Path.through(foot_left, left)),
        )),
        allowances={"upper end": hem if last else join, "right": long, "start": join if n else hem,
                    "left": long},
        cut=2,
        copies=(f"left {title}", f"right {title}"),
        notches=_marks(strip, n * length, hypot(length - top, (high - low) / 2)),
    )


def _marks(strip: Strip, below: float, edge: float) -> tuple[Notch, ...]:
    """Those of the strip that lie on a part that starts `below` mm along it and is `edge` mm long."""
    marks = ((strip.start, "the turns begin"), (strip.start + strip.wound, "under the knee"))
    return tuple(
        Notch("left", at - below, label) for at, label in marks if 0 < at - below < edge - 1
    )


def wrap_seams(pieces: tuple[Piece, ...]) -> tuple[Seam, ...]:
    """Both strips' joins. A join is sewn as one pieced on: before the long edges are turned."""
    return tuple(
        Seam(f"{JOINS[len(pieces)][n - 1]} of the {side} leg wrap",
             (SeamEdge(lower.name, "upper end", copy),), (SeamEdge(upper.name, "start", copy),),
             JOIN_ALLOWANCE, order=-1)
        for n, (lower, upper) in enumerate(pairwise(pieces), 1)
        for copy, side in ((1, "left"), (2, "right"))
    )


def wrap_places(pieces: tuple[Piece, ...], strip: Strip) -> tuple[SchematicPlace, ...]:
    """Each strip with its lengths above one another."""
    found, head = [], 0.0
    for piece in reversed(pieces):
        found += [SchematicPlace(piece.name, copy, (copy - 1) * (strip.width + GAP), head) for copy in (1, 2)]
        head += strip.length / len(pieces) + GAP
    return tuple(found)
