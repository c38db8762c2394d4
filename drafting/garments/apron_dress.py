"""The apron dress: a tube of four panels hung from two straps.

Front and back take a third of every girth, the two sides a sixth each, at the top, the waist and the
hem alike (common practice, no source). The waist level, where the flare starts, is where the tape for
the torso length ended.
"""

from dataclasses import dataclass, replace
from math import ceil

from ..body import Body
from ..geometry import Allowance, Edge, Outline, Path, Point
from ..pattern import (
    Attachment,
    Clearance,
    Hang,
    InnerLine,
    Level,
    Notch,
    Pattern,
    Piece,
    Remedy,
    Seam,
    SeamEdge,
)
from ..problems import BadInput, Problem
from ..wording import said
from .fit import depth_where_clear, girth_at, room, stride, stride_girth_needed, with_remedies_that_work
from .garment import ChoiceOption, Garment, LengthOption, Options, round_to
from .panels import STEEPEST, ConePanel, Panel, WaistedPanel

THIRD, SIXTH = 1 / 3, 1 / 6

WAIST_TO_HIP = 0.09
"""Part of stature from the top of the pelvis down to the fullest hips. common practice, no source."""

AXILLA_HEIGHT = 0.761
"""Part of stature. source: Gordon et al. 2014, NATICK/TR-15/007, women: 1239 / 1628.5."""

LEAST_TOP_EASE, LEAST_WAIST_EASE, LEAST_HIP_EASE = 20.0, 20.0, 30.0
"""mm to breathe, to sit, to step. common practice, no source."""

LOOP_JOINT = 25.0
"""mm of a strap's end sewn down inside the top edge. common practice, no source."""


def _default_length(body: Body) -> float:
    return round_to(0.69 * body["stature"], 10)


def _default_hem_girth(body: Body) -> float:
    widest = max(body["hip_girth"], body["bust_girth"], body["waist_girth"])
    return round_to(max(1.4 * body["stature"], 1.6 * widest), 10)


OPTIONS = (
    LengthOption("length", "Dress length", "From under the arms to the finished hem.",
                 _default_length, 250, 1700),
    LengthOption("hem_girth", "Hem girth", "All the way round the finished hem.",
                 _default_hem_girth, 500, 8000),
    ChoiceOption("shaping", "Waist", "How the tube runs from the top to where it flares.", "waisted",
                 {"waisted": "drawn in at the waist", "straight": "straight down to the waist",
                  "a-line": "flared from the top"}),
    ChoiceOption("opening", "Opening", "A slit left in a side seam, so that it can be put on.",
                 "as-needed",
                 {"as-needed": "side opening if needed", "side": "side opening",
                  "none": "no opening"}),
    LengthOption("scoop", "Scoop under the arm", "How far the side panels dip at the top.",
                 0.0, 0, 120),
    LengthOption("growth_tuck", "Growth tuck",
                 "Depth of a fold sewn in above the hem, to let down as a child grows.",
                 0.0, 0, 150),
    LengthOption("bust_ease", "Ease at the top", "Room over the body and the underdress.",
                 50.0, 0, 600, "Ease"),
    LengthOption("waist_ease", "Ease at the waist", "Room over the body and the underdress.",
                 50.0, 0, 800, "Ease"),
    ChoiceOption("strap_style", "Straps", "How the dress hangs from the shoulders.", "loops",
                 {"loops": "long loops behind, short loops in front, for brooches",
                  "single": "single straps, sewn at both ends", "none": "no straps"}, "Straps"),
    LengthOption("strap_cut_width", "Strap strip", "Width to cut; a quarter of it when folded.",
                 40.0, 16, 120, "Straps"),
    LengthOption("strap_spare", "Spare on each strap", "Cut long, shorten at the fitting.",
                 60.0, 0, 300, "Straps"),
    LengthOption("front_loop", "Front loop", "From the top edge to where the brooch's pin goes.",
                 50.0, 15, 200, "Straps"),
    LengthOption("seam_allowance", "Seam allowance", "Beyond the sewing line, for run-and-fell seams.",
                 25.0, 6, 60, "Allowances"),
    LengthOption("hem_depth", "Hem", "Finished depth; it is turned twice.",
                 12.0, 0, 80, "Allowances"),
    LengthOption("top_hem_depth", "Top hem", "Finished depth; it is turned twice.",
                 12.0, 0, 40, "Allowances"),
)


@dataclass(frozen=True)
class _Tube:
    """The garment's girths and lengths; `waist_depth` is 0 when it flares from the top."""

    top: float
    waist: float
    hem: float
    waist_depth: float
    below_waist: float
    tucked: float

    @property
    def levels(self) -> tuple[Level, ...]:
        """Girths of the finished garment, the growth tuck sewn in."""
        depth = self.waist_depth + self.below_waist
        waist = (Level("waist", self.waist_depth, self.waist),) if self.waist_depth else ()
        return (Level("top", 0.0, self.top), *waist, Level("hem", depth - self.tucked, self.hem))

    def panel(self, part: float) -> Panel:
        top, waist, hem = self.top * part, self.waist * part, self.hem * part
        if self.waist_depth:
            return WaistedPanel(top, waist, hem, self.waist_depth, self.below_waist)
        return ConePanel(top, hem, self.below_waist)


def draft(body: Body, options: Options) -> Pattern:
    """Raises BadInput when options contradict each other or the body."""
    tube = _tube(body, options)
    opening = _opening(body, options, tube)
    pieces = _panels(options, tube, opening) + _straps(body, options)
    hip_depth = _hip_depth(body)
    return Pattern(
        garment=GARMENT.name,
        title=GARMENT.title,
        pieces=pieces,
        seams=_seams(options, opening),
        attachments=_strap_ends(options, tube),
        finished=_finished(body, options, tube, opening, hip_depth),
        measurements=dict(body.values),
        estimated=dict(body.estimated),
        options=dict(options),
        clearances=with_remedies_that_work(
            GARMENT, options, _clearances(body, options), lambda changed: _clearances(body, changed)
        ),
        levels=_profile(body, tube, hip_depth),
        notes=_notes(options, tube),
        cautions=_cautions(body, options),
    )


def _tube(body: Body, options: Options) -> _Tube:
    torso, length, tuck = body["torso_length"], options["length"], 2 * options["growth_tuck"]
    if torso >= length - 30:
        raise BadInput([Problem(
            "length",
            f"Dress length {said(length)} leaves no skirt below a torso length of {said(torso)}: "
            f"give a dress length over {said(torso + 30)}, or measure the torso again.",
            also=("torso_length",),
        )])
    top = body["bust_girth"] + options["bust_ease"]
    waist = {
        "waisted": body["waist_girth"] + options["waist_ease"],
        "straight": max(top, body["waist_girth"] + options["waist_ease"]),
        "a-line": top,
    }[options["shaping"]]
    depth = 0.0 if options["shaping"] == "a-line" else torso
    tube = _Tube(top, waist, options["hem_girth"], depth, length - depth + tuck, tuck)
    if tube.hem < tube.waist + 10:
        raise BadInput([Problem(
            "hem_girth",
            f"Hem girth {said(tube.hem)} is narrower than the dress at the flare's start "
            f"({said(tube.waist)}): give at least {said(tube.waist + 10)}.",
        )])
    if (tube.hem - tube.waist) * THIRD / 2 > tube.below_waist * STEEPEST:
        most = tube.waist + 6 * tube.below_waist * STEEPEST
        raise BadInput([Problem(
            "hem_girth",
            f"Hem girth {said(tube.hem)} is more than four panels of this length can flare to: "
            f"give {said(most)} or less, or a longer dress.",
            also=("length",),
        )])
    if depth and abs(tube.top - tube.waist) * THIRD / 2 > depth * STEEPEST:
        raise BadInput([Problem(
            "torso_length",
            f"Torso length {said(torso)} is too short to get from {said(tube.top)} at the top to "
            f"{said(tube.waist)} at the waist: measure it again.",
            also=("waist_girth", "bust_girth"),
        )])
    deepest = min(0.4 * torso, 0.4 * top * SIXTH)
    if options["scoop"] > deepest:
        raise BadInput([Problem(
            "scoop",
            f"A scoop of {said(options['scoop'])} goes too deep into side panels of {said(top * SIXTH)} "
            f"by {said(torso)}: give {said(deepest)} or less.",
            also=("torso_length",),
        )])
    return tube


def _hip_depth(body: Body) -> float:
    """mm from the top edge down to the fullest hips."""
    return body["torso_length"] + WAIST_TO_HIP * body["stature"]


def _way_in(body: Body) -> str:
    """The measure that the closed dress must pass: it is stepped into or pulled over the head."""
    return "shoulder_girth" if body["shoulder_girth"] <= body["hip_girth"] else "hip_girth"


def _opening(body: Body, options: Options, tube: _Tube) -> float:
    """mm of side seam left open from the top; 0 for none."""
    levels = tube.levels
    wanted = min(depth_where_clear(levels, body[_way_in(body)]), levels[-1].depth * 0.8)
    choice = options["opening"]
    if choice == "side":
        return _up_to_ten(max(wanted, 0.35 * body["torso_length"]))
    return _up_to_ten(wanted) if choice == "as-needed" else 0.0


def _clearances(body: Body, options: Options) -> tuple[Clearance, ...]:
    tube = _tube(body, options)
    return (*_rooms(body, options, tube, _hip_depth(body)), _entry(body, options, tube))


def _entry(body: Body, options: Options, tube: _Tube) -> Clearance:
    measure = _way_in(body)
    must_pass = body[measure]
    way = ("pulled over the shoulders" if measure == "shoulder_girth"
           else "stepped into, over the hips")
    levels, opening = tube.levels, _opening(body, options, tube)
    narrowest = min(level.girth for level in levels)
    below = [level.girth for level in levels if level.depth >= opening]
    closed = min(girth_at(levels, opening), *below)
    if closed < must_pass:
        advice = (f"The narrowest closed girth, {said(closed)}, does not pass {said(must_pass)} when "
                  f"{way}.")
    elif opening:
        advice = (f"With a side opening of {said(opening)} it can be {way} ({said(must_pass)}); "
                  f"the narrowest girth is {said(narrowest)}.")
    else:
        advice = f"It can be {way} ({said(must_pass)}) without an opening."
    ease = _up_to_ten(must_pass - body["bust_girth"])
    remedies = (
        Remedy("Leave a side seam open at the top", "opening", "side"),
        Remedy("No shaping at the waist", "shaping", "straight"),
        Remedy(f"More ease at the top: {said(ease)}", "bust_ease", f"{ease:g} mm"),
    )
    return Clearance("a way in", closed, must_pass, advice, remedies, body.is_estimated(measure))


def _up_to_ten(value: float) -> float:
    """Up to the next whole centimetre."""
    return ceil(value / 10 - 1e-9) * 10.0


def _panels(options: Options, tube: _Tube, opening: float) -> tuple[Piece, ...]:
    seam = Allowance(options["seam_allowance"])
    hem = Allowance(2 * options["hem_depth"], fold=True)
    top = Allowance(2 * options["top_hem_depth"], fold=True)
    wide, narrow = tube.panel(THIRD), tube.panel(SIXTH)
    slit = "opening, left side only" if opening else ""

    def piece(name: str, shape: Panel, left: str, right: str, **more: object) -> Piece:
        scoop = options["scoop"] if name == "side" else 0.0
        panel = Piece(
            name=name,
            title=name,
            outline=shape.outline(left, right, scoop),
            allowances={"top": top, left: seam, right: seam, "hem": hem},
            inner_lines=_level_and_tuck(shape, options["growth_tuck"]),
            hang=Hang("hem", shape.level, shape.hem_length),
        )
        return replace(panel, **more)  # type: ignore[arg-type]

    at_waist = tube.waist_depth
    waist = lambda edge, back=False: (  # noqa: E731
        (Notch(edge, at_waist, "waist", back),) if at_waist else ()
    )
    slit_at = lambda edge, back: (Notch(edge, opening, slit, back),) if opening else ()  # noqa: E731
    straps = _strap_notches(options, wide)
    # Left and right are the wearer's; the pieces show their outer side. So the front's left edge
    # stands on the right of the drawing, and the left side's front edge on the left of it.
    return (
        piece("front", wide, "right", "left",
              notches=(*waist("left"), *waist("right", True), *slit_at("left", False), *straps)),
        piece("back", wide, "left", "right",
              notches=(*waist("right"), *waist("left", True), *straps)),
        piece("side", narrow, "front", "back", cut=2, mirrored=True,
              copies=("left side", "right side"),
              notches=(*waist("back"), *waist("front", True), *slit_at("front", True))),
    )


def _level_and_tuck(shape: Panel, tuck: float) -> tuple[InnerLine, ...]:
    waisted = isinstance(shape, WaistedPanel)
    lines = [InnerLine("waist" if waisted else "top level", shape.level, "level")]
    if tuck:
        # The tuck's two stitched lines lie 2 × its depth apart, the lower one clear of the hem.
        lower = shape.hem_length - max(tuck, 40.0) - 20.0
        lines.append(InnerLine("tuck, lower line", shape.line_below(lower), "tuck"))
        lines.append(InnerLine("tuck, upper line", shape.line_below(lower - 2 * tuck), "tuck"))
    return tuple(lines)


STRAP_PLACE = 0.22
"""Part of the panel's top width from its edge to the strap. common practice, no source."""


def _strap_notches(options: Options, panel: Panel) -> tuple[Notch, ...]:
    if options["strap_style"] == "none":
        return ()
    place = STRAP_PLACE * panel.top_edge().length
    return (Notch("top", place, "strap"), Notch("top", place, "strap", from_end=True))


def _strap_length(body: Body) -> float:
    """mm from the back's top edge over the shoulder to the brooch."""
    return body["brooch_strap_length"]


def _straps(body: Body, options: Options) -> tuple[Piece, ...]:
    if options["strap_style"] == "none":
        return ()
    over_shoulder = _strap_length(body) + options["strap_spare"]
    if options["strap_style"] == "single":
        # One strip reaches on past the brooch's place to the front's top edge.
        return (_strip("strap", over_shoulder + options["front_loop"], options),)
    return (
        _strip("back strap", 2 * over_shoulder, options),
        _strip("front loop", 2 * options["front_loop"], options),
    )


def _strip(name: str, length: float, options: Options) -> Piece:
    width = options["strap_cut_width"]
    a, b, c, d = Point(0, 0), Point(width, 0), Point(width, length), Point(0, length)
    return Piece(
        name=name,
        title=name,
        outline=Outline((
            Edge("end", Path.through(a, b)), Edge("right", Path.through(b, c)),
            Edge("other end", Path.through(c, d)), Edge("left", Path.through(d, a)),
        )),
        allowances={"end": Allowance(LOOP_JOINT), "other end": Allowance(LOOP_JOINT)},
        cut=2,
        copies=(f"left {name}", f"right {name}"),
        inner_lines=tuple(
            InnerLine(fold, Path.through(Point(width * part, 0), Point(width * part, length)))
            for fold, part in (("fold in", 0.25), ("fold in half", 0.5), ("fold in again", 0.75))
        ),
    )


def _strap_ends(options: Options, tube: _Tube) -> tuple[Attachment, ...]:
    style = options["strap_style"]
    if style == "none":
        return ()
    top = tube.panel(THIRD).top_edge().length
    near, far = STRAP_PLACE * top, (1 - STRAP_PLACE) * top
    behind, before = ("strap", "strap") if style == "single" else ("back strap", "front loop")
    ends = []
    for copy, side in ((1, "left"), (2, "right")):
        # The wearer's left is the end of the front's top edge, and the start of the back's.
        ends.append(Attachment(f"{side} {behind} to back", behind, copy, SeamEdge("back", "top"),
                               near if side == "left" else far))
        ends.append(Attachment(f"{side} {before} to front", before, copy, SeamEdge("front", "top"),
                               far if side == "left" else near))
    return tuple(ends)


def _seams(options: Options, opening: float) -> tuple[Seam, ...]:
    def seam(name: str, a: SeamEdge, b: SeamEdge, open_from_top: float = 0.0) -> Seam:
        return Seam(name, (a,), (b,), options["seam_allowance"], open_from_top=open_from_top)

    left, right = 1, 2
    return (
        seam("front to left side", SeamEdge("front", "left"), SeamEdge("side", "front", left),
             opening),
        seam("front to right side", SeamEdge("front", "right"), SeamEdge("side", "front", right)),
        seam("back to left side", SeamEdge("back", "left"), SeamEdge("side", "back", left)),
        seam("back to right side", SeamEdge("back", "right"), SeamEdge("side", "back", right)),
    )


def _finished(
    body: Body, options: Options, tube: _Tube, opening: float, hip_depth: float
) -> dict[str, float]:
    found = {
        "bust_girth": tube.top,
        "waist_girth": girth_at(tube.levels, body["torso_length"]),
        "hip_girth": girth_at(tube.levels, hip_depth),
        "hem_girth": tube.hem,
        "length": options["length"],
    }
    if opening:
        found["opening_length"] = opening
    if options["strap_style"] != "none":
        found["strap_length"] = _strap_length(body)
        found["strap_width"] = options["strap_cut_width"] / 4
    return found


def _rooms(
    body: Body, options: Options, tube: _Tube, hip_depth: float
) -> tuple[Clearance, ...]:
    levels = tube.levels
    straight = Remedy("No shaping at the waist", "shaping", "straight")
    more_top = Remedy(f"Ease of {said(50)} at the top", "bust_ease", "50 mm")
    more_waist = Remedy(f"Ease of {said(50)} at the waist", "waist_ease", "50 mm")
    hem_height = AXILLA_HEIGHT * body["stature"] - options["length"]
    found = [
        room("room at the top", body, "bust_girth", tube.top, LEAST_TOP_EASE, (more_top,)),
        room("room at the waist", body, "waist_girth", girth_at(levels, body["torso_length"]),
             LEAST_WAIST_EASE, (more_waist, straight)),
    ]
    if hip_depth < options["length"]:
        wider = _up_to_ten(_hem_that_clears_the_hips(body, tube, hip_depth))
        found.append(room(
            "room at the hips", body, "hip_girth", girth_at(levels, hip_depth), LEAST_HIP_EASE,
            (Remedy(f"A hem girth of {said(wider)}", "hem_girth", f"{wider:g} mm"), straight),
        ))
    wider = _up_to_ten(stride_girth_needed(body, hem_height))
    found.append(stride(
        body, tube.hem, hem_height,
        (Remedy(f"A hem girth of {said(wider)}", "hem_girth", f"{wider:g} mm"),),
    ))
    return tuple(found)


def _hem_that_clears_the_hips(body: Body, tube: _Tube, hip_depth: float) -> float:
    start, hem = tube.levels[-2:]
    part = (hip_depth - start.depth) / (hem.depth - start.depth)
    needed = start.girth + (body["hip_girth"] + LEAST_HIP_EASE - start.girth) / part
    return max(needed, tube.hem)


def _profile(body: Body, tube: _Tube, hip_depth: float) -> tuple[Level, ...]:
    levels = tube.levels
    bodies = {"top": body["bust_girth"], "waist": body["waist_girth"]}
    found = [replace(level, body_girth=bodies.get(level.name)) for level in levels]
    if not tube.waist_depth:
        torso = body["torso_length"]
        found.append(Level("waist", torso, girth_at(levels, torso), body["waist_girth"]))
    if hip_depth < levels[-1].depth:
        found.append(Level("hips", hip_depth, girth_at(levels, hip_depth), body["hip_girth"]))
    return tuple(sorted(found, key=lambda level: level.depth))


def _notes(options: Options, tube: _Tube) -> tuple[str, ...]:
    notes = [
        "Left and right are the wearer's. Panels show their outer side.",
        "Hang the dress for a day before hemming: the slanted edges drop.",
    ]
    spare = options["seam_allowance"] - 10
    if spare > 0:
        notes.append(f"The seam allowances hold up to {said(8 * spare)} of girth to let out.")
    if options["growth_tuck"]:
        notes.append(f"The tuck holds {said(tube.tucked)} of length to let down.")
    if tube.panel(THIRD).hem_lean * 2 > 50 / 57.3:
        notes.append("The front and back flare so far that their edges hang on the bias and stretch; "
                     "a narrower hem hangs better.")
    return tuple(notes)


def _cautions(body: Body, options: Options) -> tuple[str, ...]:
    cautions = [
        "A long hem near an open fire or hearth can catch or trip: keep it clear, and follow the "
        "event's own rules.",
    ]
    if options["strap_style"] == "loops":
        cautions.append(
            "Brooch pins are sharp. For a small child sew the straps down instead, with no pins and "
            "no loose cords at the neck, and follow the event's rules and your local code on "
            "children's clothing."
        )
    return tuple(cautions)


GARMENT = Garment(
    name="apron-dress",
    title="Apron dress",
    summary="Four panels in thirds and sixths of the girth, hung from straps over an underdress.",
    needs=("bust_girth", "waist_girth", "torso_length"),
    uses=("hip_girth", "shoulder_girth", "stature", "brooch_strap_length"),
    options=OPTIONS,
    draft=draft,
    history="Worn from the 7th or 8th century to about 900–950 in western Europe, to about 1000 in "
            "Scandinavia; mostly of wool, less often linen.",
    provenance="common practice, no source",
    usual_wearer="woman",
)
