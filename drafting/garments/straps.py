"""Straps: narrow strips folded in four, and where their ends are sewn."""

from collections.abc import Mapping

from ..body import Body
from ..pattern import Attachment, Notch, Piece, SeamEdge
from .options import Options
from .strips import loop_strip

LOOP_JOINT = 25.0
"""mm of a strap's end sewn down inside the top edge. common practice, no source."""

Places = Mapping[str, tuple[float, float]]
"""For the top edges of front and back: mm along them to the wearer's left strap and the right."""


def strap_length(body: Body) -> float:
    """mm from the back's top edge over the shoulder to the brooch."""
    return body["brooch_strap_length"]


def straps(body: Body, options: Options) -> tuple[Piece, ...]:
    """The strips to cut: loops behind and in front, or single straps, or none."""
    if options.is_("strap_style", "none"):
        return ()
    over_shoulder = strap_length(body) + options["strap_spare"]
    if options.is_("strap_style", "single"):
        # One strip reaches on past the brooch's place to the front's top edge.
        return (_strip("strap", over_shoulder + options["front_loop"], options),)
    return (
        _strip("back strap", 2 * over_shoulder, options),
        _strip("front loop", 2 * options["front_loop"], options),
    )


def _strip(name: str, length: float, options: Options) -> Piece:
    return loop_strip(name, length, options["strap_cut_width"], LOOP_JOINT,
                      (f"left {name}", f"right {name}"))


def strap_notches(options: Options, places: tuple[float, float]) -> tuple[Notch, ...]:
    if options.is_("strap_style", "none"):
        return ()
    return tuple(Notch("top", place, "strap") for place in sorted(places))


def strap_ends(options: Options, places: Places) -> tuple[Attachment, ...]:
    if options.is_("strap_style", "none"):
        return ()
    behind, before = options.pick("strap_style", {
        "single": ("strap", "strap"), "loops": ("back strap", "front loop"),
    })
    ends = []
    for copy, side in ((1, "left"), (2, "right")):
        for strap, panel in ((behind, "back"), (before, "front")):
            ends.append(Attachment(f"{side} {strap} to {panel}", strap, copy,
                                   SeamEdge(panel, "top"), places[panel][copy - 1]))
    return tuple(ends)
