"""The model everything downstream reads: pieces, seams, and the facts a cutter checks.

A garment states facts (this seam joins these edges, this girth must clear that body part); truing
judges them. Lengths in mm; x to the right, y down, the grain of a piece along y unless it says
otherwise. Outlines show the right side of the cloth and run clockwise.
"""

from collections.abc import Iterator, Mapping, Set
from dataclasses import dataclass, field, replace
from functools import cached_property
from math import radians
from typing import Any, Literal

from .geometry import Allowance, Edge, Outline, Path, Point, cutting_line, cutting_ring
from .words.kinds import must_be

FORMAT = "ellwand-pattern"
VERSION = 1

UNSEEN = 0.05
"""mm by which something may be short and still count as large enough. common practice, no source."""

StitchKind = Literal["running", "back", "fell", "hem", "whip", "roll"]
SeamTreatment = Literal[
    "run-and-fell", "felled-open", "overcast", "plain", "butted selvedges", "felled lining", "pleat",
    "lapped", "faced", "bound", "edged", "quilted", "layered", "ridge",
]
LineKind = Literal["fold", "slit", "hole", "tuck", "level", "row"]
LineRole = Literal["neck", "hem", "cuff", "waist", "tuck foot"]
"""What an edge or a line is to the garment. A tuck's foot is the lower of its two lines."""

LevelKind = Literal["top", "waist", "hips", "hem", "leg", "between"]
"""Where on the body a level is; at a leg's its girth is that of one leg."""

Half = Literal["front", "back"]
HALVES: tuple[Half, Half] = ("front", "back")


@dataclass(frozen=True, slots=True)
class Notch:
    """A mark across an edge, `distance` mm from the edge's start (its end where `from_end`)."""

    edge: str
    distance: float
    label: str = ""
    from_end: bool = False


@dataclass(frozen=True, slots=True)
class InnerLine:
    """A line drawn on the piece: a fold, a tuck, a slit or hole that is cut, a level to measure from; or a
    row of quilting, which is ruled when the layers lie on each other.

    A slit is cut along the line itself. A hole's line is closed, runs anticlockwise, and is where one
    sews; it is cut inside that by the piece's allowance for it.
    """

    name: str
    path: Path
    kind: LineKind = "fold"
    role: LineRole | None = None

    def __post_init__(self) -> None:
        must_be(f"The line “{self.name}”, kind", self.kind, LineKind)
        if self.role is not None:
            must_be(f"The line “{self.name}”, role", self.role, LineRole)


@dataclass(frozen=True, slots=True)
class Hang:
    """How a hem hangs: every point of `hem` should be `depth` mm from `level`, along the cloth.

    `level` is the path (or the one point of a gore's apex) from which the flare falls; `below` is how
    far under the garment's own level that lies, so that gores which start lower can be compared.
    """

    hem: str
    level: Path | Point
    depth: float
    below: float = 0.0


@dataclass(frozen=True)
class Piece:
    """A shape to cut: sewing lines, allowances, grain, and how many.

    `mirrored` means that copies are cut in pairs, every second one turned over. `copies` names them
    where the sewer must tell them apart. `hangs` says how each hem hangs: a piece folded over the
    shoulder has two. `roles` says what edges are to the garment; one that hangs is a hem without saying
    so. `half` is the half of the body that the piece lies on, where it lies on one; `faces` says which
    half an edge or a slit is on or looks to.

    Raises ValueError for a role or a half that is none, and for a line that the piece does not have.
    """

    name: str
    title: str
    outline: Outline
    allowances: Mapping[str, Allowance]
    cut: int = 1
    mirrored: bool = False
    copies: tuple[str, ...] = ()
    grain: tuple[Point, Point] | None = None
    notches: tuple[Notch, ...] = ()
    inner_lines: tuple[InnerLine, ...] = ()
    hangs: tuple[Hang, ...] = ()
    cloth: str = "main"
    roles: Mapping[str, LineRole] = field(default_factory=dict)
    half: Half | None = None
    faces: Mapping[str, Half] = field(default_factory=dict)

    def __post_init__(self) -> None:
        if self.half is not None:
            must_be(f"The piece “{self.name}”, half", self.half, Half)
        lines = {edge.name for edge in self.outline.edges} | {line.name for line in self.inner_lines}
        said: tuple[tuple[str, Mapping[str, str], Any], ...] = (
            ("roles", self.roles, LineRole), ("faces", self.faces, Half))
        for what, by_line, kind in said:
            for line, given in by_line.items():
                must_be(f"The piece “{self.name}”, {what} of “{line}”", given, kind)
                if line not in lines:
                    raise ValueError(f"The piece “{self.name}”, {what}: it has no line “{line}”.")

    @cached_property
    def cutting_line(self) -> tuple[Point, ...]:
        """A closed polygon, each point once."""
        return cutting_line(self.outline, self.allowances)

    @cached_property
    def hole_cutting_lines(self) -> dict[str, tuple[Point, ...]]:
        """For each hole by name, the polygon to cut, each point once."""
        return {
            inner.name: cutting_ring(
                [Edge(inner.name, Path((segment,))) for segment in inner.path.segments],
                self.allowances,
            )
            for inner in self.inner_lines
            if inner.kind == "hole"
        }

    @cached_property
    def grain_line(self) -> tuple[Point, Point]:
        """The grain as it is drawn: as given, else down the middle over three fifths of the piece."""
        if self.grain:
            return self.grain
        left, top, right, bottom = self.outline.bounds
        x, margin = (left + right) / 2, (bottom - top) / 5
        return Point(x, top + margin), Point(x, bottom - margin)

    def line(self, name: str) -> Path:
        """The edge or inner line of that name. Raises KeyError when there is none."""
        for inner in self.inner_lines:
            if inner.name == name:
                return inner.path
        return self.outline[name].path

    @property
    def marked_lines(self) -> tuple[InnerLine, ...]:
        """Its inner lines but those that are ruled only when it is sewn."""
        return tuple(inner for inner in self.inner_lines if inner.kind != "row")

    def role(self, name: str) -> LineRole | None:
        """What the edge or inner line of that name is to the garment; None for no more than a line."""
        for inner in self.inner_lines:
            if inner.name == name:
                return inner.role
        return "hem" if any(hang.hem == name for hang in self.hangs) else self.roles.get(name)

    def allowance(self, edge: str) -> float:
        return self.allowances[edge].width if edge in self.allowances else 0.0

    def copy_name(self, copy: int) -> str:
        """What to call copy number `copy` (from 1)."""
        if self.copies:
            return self.copies[copy - 1]
        return self.title if self.cut == 1 else f"{self.title} {copy}"


@dataclass(frozen=True, slots=True)
class SeamEdge:
    """An edge (or a slit) of one copy of a piece, as it takes part in a seam."""

    piece: str
    edge: str
    copy: int = 1


@dataclass(frozen=True, slots=True)
class Seam:
    """Edges sewn to edges. `ease` is how much longer side a is, taken up in the sewing.

    `open_from_top` mm at the start of the seam stay unsewn (an opening). `order` ranks seams that the
    seam graph alone leaves free. Raises ValueError for a stitch or a treatment that is none.
    """

    name: str
    a: tuple[SeamEdge, ...]
    b: tuple[SeamEdge, ...]
    allowance: float
    ease: float = 0.0
    stitch: StitchKind = "running"
    treatment: SeamTreatment = "run-and-fell"
    open_from_top: float = 0.0
    order: int = 0

    def __post_init__(self) -> None:
        must_be(f"The seam “{self.name}”, stitch", self.stitch, StitchKind)
        must_be(f"The seam “{self.name}”, treatment", self.treatment, SeamTreatment)


@dataclass(frozen=True, slots=True)
class Attachment:
    """A piece sewn on at a point of an edge: a strap's end, a loop, a tie."""

    name: str
    piece: str
    copy: int
    to: SeamEdge
    distance: float


@dataclass(frozen=True, slots=True)
class Remedy:
    """A change of one option that would put something right: the page offers it as one tap."""

    label: str
    option: str
    value: str


@dataclass(frozen=True, slots=True)
class Clearance:
    """Something that must be at least so large: a girth, an opening, a stride. mm, or counted in `unit`.

    `fits` is to be said when it is, `short` when it is not: truing judges, and picks the sentence.
    `at_side_seams`: letting out the side seams makes it larger.
    """

    name: str
    value: float
    limit: float
    fits: str
    short: str
    remedies: tuple[Remedy, ...] = ()
    estimated: bool = False
    at_side_seams: bool = False
    unit: str = "mm"

    @property
    def clears(self) -> bool:
        """Whether it is large enough, but for what no tape can show."""
        return self.value >= self.limit - UNSEEN


@dataclass(frozen=True, slots=True)
class Level:
    """One height of the finished garment: `depth` mm below its top, and its girth there.

    Raises ValueError for a kind that is none.
    """

    name: str
    depth: float
    girth: float
    body_girth: float | None = None
    kind: LevelKind = field(kw_only=True)

    def __post_init__(self) -> None:
        must_be(f"The level “{self.name}”, kind", self.kind, LevelKind)


@dataclass(frozen=True, slots=True)
class SchematicPlace:
    """Where one copy of a piece lies in the schematic of how the pieces go together.

    About the piece's own origin it is first turned over (x to −x) if `mirrored`, then turned by `turn`
    degrees clockwise, then moved by `x` and `y` mm.
    """

    piece: str
    copy: int
    x: float
    y: float
    turn: float = 0.0
    mirrored: bool = False

    def motion(self, p: Point) -> Point:
        """Where the schematic has a point of the piece."""
        turned = Point(-p.x if self.mirrored else p.x, p.y).turned(radians(self.turn))
        return Point(turned.x + self.x, turned.y + self.y)


@dataclass(frozen=True)
class Pattern:
    garment: str
    title: str
    pieces: tuple[Piece, ...]
    seams: tuple[Seam, ...]
    finished: Mapping[str, float]
    measurements: Mapping[str, float]
    options: Mapping[str, Any]
    estimated: Mapping[str, float] = field(default_factory=dict)
    clearances: tuple[Clearance, ...] = ()
    attachments: tuple[Attachment, ...] = ()
    levels: tuple[Level, ...] = ()
    notes: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    schematic: tuple[SchematicPlace, ...] = ()

    def piece(self, name: str) -> Piece:
        """Raises KeyError when there is no piece of that name."""
        for piece in self.pieces:
            if piece.name == name:
                return piece
        raise KeyError(name)

    def side_length(self, side: tuple[SeamEdge, ...]) -> float:
        """mm of one side of a seam."""
        return sum(self.piece(part.piece).line(part.edge).length for part in side)

    def copies(self) -> Iterator[tuple[Piece, int]]:
        """Every piece to cut, copy by copy."""
        for piece in self.pieces:
            for copy in range(1, piece.cut + 1):
                yield piece, copy

    def with_pieces(self, pieces: tuple[Piece, ...]) -> "Pattern":
        return replace(self, pieces=pieces)


def as_json(pattern: Pattern, checks: tuple[Any, ...] = ()) -> dict[str, Any]:
    """The outside contract `pattern.json`, version 1: mm, polylines within 0.1 mm of the curve."""
    sewn = {(part.piece, part.edge) for seam in pattern.seams for part in (*seam.a, *seam.b)}
    return {
        "format": FORMAT,
        "version": VERSION,
        "unit": "mm",
        "garment": pattern.garment,
        "title": pattern.title,
        "measurements": {k: _mm(v) for k, v in pattern.measurements.items()},
        "estimated": {k: _mm(v) for k, v in pattern.estimated.items()},
        "options": {k: _mm(v) if isinstance(v, float) else v for k, v in pattern.options.items()},
        "pieces": [_piece_json(piece, sewn) for piece in pattern.pieces],
        "seams": [_seam_json(pattern, seam) for seam in pattern.seams],
        "attachments": [
            {"name": a.name, "piece": a.piece, "copy": a.copy, "to": [a.to.piece, a.to.edge],
             "to_copy": a.to.copy, "distance": _mm(a.distance)}
            for a in pattern.attachments
        ],
        "finished": {k: _mm(v) for k, v in pattern.finished.items()},
        "levels": [
            {"name": level.name, "depth": _mm(level.depth), "girth": _mm(level.girth),
             "body_girth": None if level.body_girth is None else _mm(level.body_girth)}
            for level in pattern.levels
        ],
        "notes": list(pattern.notes),
        "cautions": list(pattern.cautions),
        "schematic": [
            {"piece": p.piece, "copy": p.copy, "x": _mm(p.x), "y": _mm(p.y), "turn": _mm(p.turn),
             "mirrored": p.mirrored}
            for p in pattern.schematic
        ],
        "checks": [check.as_json() for check in checks],
    }


def _piece_json(piece: Piece, sewn: Set[tuple[str, str]]) -> dict[str, Any]:
    """`sewn` names the pieces' edges and inner lines that take part in a seam."""
    edges = [
        {"name": edge.name, "length": _mm(edge.length), "allowance": piece.allowance(edge.name),
         "fold": edge.name in piece.allowances and piece.allowances[edge.name].fold,
         "line": _points(edge.path.points())}
        for edge in piece.outline.edges
    ]
    inside = [
        {"name": inner.name, "length": _mm(inner.path.length),
         "allowance": piece.allowance(inner.name), "inner": True,
         "line": _points(inner.path.points())}
        for inner in piece.inner_lines
        if inner.kind in ("slit", "hole") or (piece.name, inner.name) in sewn
    ]
    return {
        "name": piece.name,
        "title": piece.title,
        "cut": piece.cut,
        "mirrored": piece.mirrored,
        "copies": list(piece.copies),
        "cloth": piece.cloth,
        "sewing_line": _points(piece.outline.polygon),
        "cutting_line": _points(piece.cutting_line),
        "grain": _points(piece.grain_line),
        "holes": [_points(polygon) for polygon in piece.hole_cutting_lines.values()],
        "edges": edges + inside,
        "notches": [
            {"edge": notch.edge, "at": _point(notch_point(piece, notch)), "label": notch.label}
            for notch in piece.notches
        ],
        "inner_lines": [
            {"name": inner.name, "kind": inner.kind, "line": _points(inner.path.points())}
            for inner in piece.inner_lines
        ],
    }


def _seam_json(pattern: Pattern, seam: Seam) -> dict[str, Any]:
    return {
        "name": seam.name,
        "a": [[part.piece, part.edge] for part in seam.a],
        "b": [[part.piece, part.edge] for part in seam.b],
        "copies_a": [part.copy for part in seam.a],
        "copies_b": [part.copy for part in seam.b],
        "length_a": _mm(pattern.side_length(seam.a)),
        "length_b": _mm(pattern.side_length(seam.b)),
        "ease": _mm(seam.ease),
        "allowance": _mm(seam.allowance),
        "stitch": seam.stitch,
        "treatment": seam.treatment,
        "open_from_top": _mm(seam.open_from_top),
    }


def notch_point(piece: Piece, notch: Notch) -> Point:
    """Where on the sewing line the notch stands."""
    path = piece.outline[notch.edge].path
    return path.point_along(path.length - notch.distance if notch.from_end else notch.distance)


def _mm(value: float) -> float:
    return round(float(value), 3)


def _point(p: Point) -> list[float]:
    return [_mm(p.x), _mm(p.y)]


def _points(points: Any) -> list[list[float]]:
    return [_point(p) for p in points]
