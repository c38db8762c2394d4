"""The hood's shape: its panels' and gores' sizes, as the options, the body and the loom make them."""

from dataclasses import dataclass, replace
from functools import cached_property
from math import degrees, pi, sin

from ..body import Body
from ..pattern import Half
from ..words.problems import BadInput, Problem
from ..words.wording import said
from .gore import SLIT_TURN, Gore, Gores, GoreSide
from .layers import OVER
from .loom import fitted_note, loom_width, share_of_loom, unfitted_note
from .options import Options
from .rounding import up_to
from .shoulders import girth_needed, way_to_shoulder_girth

SLIT_BELOW_NECK = 20.0
"""mm of whole cloth between the neck and a slit in the panel itself. common practice, no source."""

LAP_SWING = 1.5
"""How far below the chin a lap has swung out to its full width, over that width."""

COMB = 12.0
"""mm that a comb stands up from the crown. common practice, no source."""

WIDEST_GORE = 115.0
"""Degrees at the apex of a gore that can still be sewn flat. common practice, no source."""

LEAST_FLARE = 1.15
"""Of a cape's hem over twice the panel's depth, however narrow the shoulders. common practice, no source."""


@dataclass(frozen=True)
class SetGore:
    """A gore and where it goes: `below` mm under the neck its apex, `slit` when a slit is cut for it."""

    name: str
    length: float
    width: float
    below: float
    titles: tuple[str, ...]
    sides: tuple[GoreSide, GoreSide]
    slit: bool
    half: Half | None

    @property
    def angle(self) -> float:
        """Degrees at the apex."""
        return degrees(self.width / self.length)

    @property
    def spread(self) -> float:
        """Its widest, straight across, over its length."""
        return 2 * sin(min(self.width / self.length, pi) / 2)

    def gores(self, cloth: str) -> Gores:
        """The lining's right side faces inwards, so that its sides change places."""
        if cloth == "main":
            return Gores(self.name, Gore(self.length, self.width), self.sides, self.titles,
                         mirrored=len(self.titles) == 2, half=self.half)
        titles = tuple(f"lining {title}" for title in reversed(self.titles))
        paired = len(titles) == 2
        sides = self.sides if paired else (self.sides[1], self.sides[0])
        return Gores(f"lining {self.name}", Gore(self.length, self.width), sides, titles,
                     mirrored=paired, half=self.half)


@dataclass(frozen=True)
class HoodShape:
    """Finished sizes, mm; `seam` and `hem` are the allowances, `beneath` the clothes' part of the shoulders.

    A panel has its face edge at x = 0, the crown at y = 0 and the neck at y = `height`; a `comb` stands up
    from the crown.
    """

    depth: float
    height: float
    face: float
    cape: float
    overlap: float
    shoulder_gores: bool
    square_gores: bool
    hem_girth: float
    rounded: bool
    comb: float
    tail: float
    tail_width: float
    lined: bool
    seam: float
    hem: float
    beneath: float

    @property
    def neck_way(self) -> float:
        """Round both panels where no gore has begun."""
        return 2 * self.depth

    @cached_property
    def gores(self) -> tuple[SetGore, ...]:
        """Every kind of gore; the flare is shared out evenly among those round the hem."""
        short = self.cape - SLIT_BELOW_NECK
        places: list[tuple[str, tuple[str, ...], tuple[GoreSide, GoreSide], bool, Half | None]]
        if self.overlap:
            places = [("front gore", ("left front gore", "right front gore"), ("front", "back"), True,
                       "front")]
        else:
            places = [("front gore", ("front gore",), ("right", "left"), False, "front")]
        places.append(("back gore", ("back gore",), ("left", "right"), False, "back"))
        if self.shoulder_gores:
            places.append(("shoulder gore", ("left shoulder gore", "right shoulder gore"),
                           ("front", "back"), True, None))
        return tuple(
            SetGore(name, short if slit else self.cape, self._width(name, slit),
                    SLIT_BELOW_NECK if slit else 0.0, titles, sides, slit, half)
            for name, titles, sides, slit, half in places
        )

    def _width(self, name: str, slit: bool) -> float:
        """Along the hem; a slit's own edges are turned in, and the gore makes up for them."""
        if self.square_gores:
            return (self.cape - (SLIT_BELOW_NECK if slit else 0.0)) * pi / 2
        places = 4 if self.shoulder_gores else 2
        share = (self.hem_girth - self.neck_way) / places
        if name == "front gore" and self.overlap:
            share /= 2
        return share + (2 * SLIT_TURN if slit else 0.0)

    def gore_at(self, name: str) -> SetGore:
        """Raises StopIteration when the hood has no such gore."""
        return next(gore for gore in self.gores if gore.name == name)

    def girth_at(self, way: float) -> float:
        """Round the cape, `way` mm below the neck. A square set in by its corner is a quarter circle
        that far from it."""
        total = self.neck_way
        for gore in self.gores:
            beyond = max(0.0, min(way - gore.below, gore.length))
            turned_in = 2 * SLIT_TURN if gore.slit else 0.0
            total += len(gore.titles) * (gore.width - turned_in) * beyond / gore.length
        return total


def shape_for(body: Body, options: Options) -> tuple[HoodShape, tuple[str, ...]]:
    problems = []
    face, height = options["face_opening"] / 2, options["height"]
    if face > height + 0.05:
        problems.append(Problem(
            "face_opening",
            f"A face opening of {said(2 * face)} reaches below the neck of a hood {said(height)} "
            f"high: give {said(2 * height)} or less, or a height of {said(face)}.",
            also=("height",),
        ))
    if options["tail_length"] and not options.is_("crown", "pointed"):
        crown = "is rounded" if options.is_("crown", "rounded") else "has a comb"
        problems.append(Problem(
            "tail_length",
            f"A tail of {said(options['tail_length'])} grows out of the crown's point, and this "
            f"crown {crown}: choose the pointed crown, or give 0.",
            also=("crown",),
        ))
    if options["tail_length"] and options["tail_width"] > height / 2:
        problems.append(Problem(
            "tail_width",
            f"A tail {said(options['tail_width'])} wide takes up too much of a back {said(height)} "
            f"high: give {said(height / 2)} or less.",
            also=("height",),
        ))
    room = height - face + options["cape_length"] - 20
    if options.is_("front", "overlap") and LAP_SWING * options["overlap"] > room:
        problems.append(Problem(
            "overlap",
            f"Fronts that reach {said(options['overlap'])} past the middle need a longer cape than "
            f"{said(options['cape_length'])} to swing out in: give {said(room / LAP_SWING)} or less, "
            "a longer cape, or a closed front.",
            also=("cape_length", "front"),
        ))
    if problems:
        raise BadInput(problems)
    depth, fitting = _depth(options)
    shape = HoodShape(
        depth=depth,
        height=height,
        face=min(face, height),
        cape=options["cape_length"],
        overlap=options["overlap"] if options.is_("front", "overlap") else 0.0,
        shoulder_gores=options.is_("gores", "all-round"),
        square_gores=options.is_("gore_shape", "square"),
        hem_girth=options["hem_girth"],
        rounded=options.is_("crown", "rounded"),
        comb=COMB if options.is_("crown", "comb") else 0.0,
        tail=options["tail_length"],
        tail_width=options["tail_width"],
        lined=options.is_("lining", "full"),
        seam=options["seam_allowance"],
        hem=2 * options["hem_depth"],
        beneath=options.pick("over", OVER).chest,
    )
    if not shape.hem_girth:
        shape = replace(shape, hem_girth=_hem_that_fits(body, shape))
    _check_flare(shape)
    return shape, fitting


def _hem_that_fits(body: Body, shape: HoodShape) -> float:
    """Wide enough at the shoulders, and some flare in any case."""
    least = LEAST_FLARE * shape.neck_way
    way = min(way_to_shoulder_girth(body), shape.cape)
    return up_to(max(least, hem_that_clears(shape, way, girth_needed(body, way, shape.beneath))), 10)


def _depth(options: Options) -> tuple[float, tuple[str, ...]]:
    """Two panels side by side use up a narrow cloth."""
    wanted, loom = options["depth"], loom_width(options)
    if not loom:
        return wanted, ()
    beyond = 2 * options["seam_allowance"]
    if options.is_("front", "overlap"):
        beyond += options["overlap"]
    fit = share_of_loom(loom, wanted, beyond, most_across=2, less=0.0)
    if fit is None:
        return wanted, (unfitted_note("The depth", wanted, loom),)
    depth, across = fit
    if depth - wanted < 0.05:
        return wanted, ()
    return depth, (fitted_note("The panels are", wanted, depth, across, loom),)


def _check_flare(shape: HoodShape) -> None:
    if shape.square_gores:
        return
    if shape.hem_girth < shape.neck_way + 20:
        raise BadInput([Problem(
            "hem_girth",
            f"A hem girth of {said(shape.hem_girth)} leaves nothing for gores beside two panels "
            f"{said(shape.depth)} deep: give {said(shape.neck_way + 20)} or more, or less depth.",
            also=("depth",),
        )])
    widest = max(gore.angle for gore in shape.gores)
    if widest > WIDEST_GORE:
        most = shape.neck_way + (shape.hem_girth - shape.neck_way) * WIDEST_GORE / widest
        way_out = "" if shape.shoulder_gores else ", or gores over the shoulders too"
        raise BadInput([Problem(
            "hem_girth",
            f"For a hem girth of {said(shape.hem_girth)} the gores of so short a cape would be wider "
            f"than they can be sewn: give {said(most // 10 * 10)} or less, a longer cape{way_out}.",
            also=("cape_length", "gores"),
        )])


def hem_that_clears(shape: HoodShape, way: float, girth: float) -> float:
    """The hem girth at which the cape is so wide, `way` mm below the neck.

    Every gore widens evenly from its apex, so the girth there grows in step with the hem's.
    """
    wide = replace(shape, hem_girth=2 * shape.neck_way)
    part = (wide.girth_at(way) - shape.neck_way) / shape.neck_way
    return shape.neck_way + (girth - shape.neck_way) / part if part > 0 else shape.hem_girth
