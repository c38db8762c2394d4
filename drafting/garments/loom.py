"""Cutting to the cloth's width: what a weaver sent, or the loom in the corner makes, is not cut up
without need."""

from collections.abc import Iterable

from ..geometry import bounds
from ..pattern import Piece
from ..words.problems import BadInput, Problem
from ..words.wording import said
from .options import LengthOption, Options

NARROWEST_LOOM = 50.0

SELVEDGE = 10.0
"""mm at each edge that is not laid on, as of a cloth of which nothing is said. common practice, no
source."""

FINEST = 0.05
"""mm to which a width is measured."""

WIDER_PANEL = 80.0
WIDER_SLEEVE = 40.0
"""mm that a panel or a sleeve may gain to use the loom's width. common practice, no source."""

GORE_CHANGE = 0.15
"""Part of its width that a gore may gain or lose for that. common practice, no source."""

LOOM_WIDTH = LengthOption(
    "loom_width", "Fit to cloth of this width",
    "Prefer sizes that use the whole width of your cloth; 0 for any cloth.",
    0.0, 0, 3000, "Cloth",
)


def loom_width(options: Options) -> float:
    """mm between the selvedges, or 0 for any cloth. Raises BadInput for a width no cloth has."""
    width = options["loom_width"]
    if 0 < width < NARROWEST_LOOM:
        raise BadInput([Problem(
            "loom_width",
            f"Cloth {said(width)} wide is a ribbon: give {said(NARROWEST_LOOM)} or more, "
            "or 0 for any cloth.",
        )])
    return max(0.0, width - 2 * SELVEDGE)


def wider_than_the_loom(options: Options, pieces: Iterable[Piece]) -> tuple[str, ...]:
    """What is said of each piece of the garment's own cloth that no size of its kind got on to the loom."""
    if not options.values.get("loom_width"):
        return ()
    whole, room = options["loom_width"], loom_width(options)
    found = []
    for piece in pieces:
        left, _, right, _ = bounds(piece.cutting_line)
        if piece.cloth == "main" and right - left > (whole if _has_selvedges(piece) else room) + FINEST:
            found.append(f"The {piece.title} is {said(right - left)} wide with its allowances, more than the "
                         f"{said(room)} between the selvedges: it must be pieced.")
    return tuple(found)


def _has_selvedges(piece: Piece) -> bool:
    """Whether its outermost lines are uncut edges of the cloth: it has no allowance to either side."""
    left, _, right, _ = piece.outline.bounds
    cut_left, _, cut_right, _ = bounds(piece.cutting_line)
    return cut_left > left - FINEST and cut_right < right + FINEST


def share_of_loom(
    loom: float, wanted: float, allowances: float, *, most_across: int = 99,
    less: float = 0.2, more: float = 0.2,
) -> tuple[float, int] | None:
    """The finished width that lets a whole number of pieces use up the loom, and that number.

    `allowances` is what one piece needs beyond its finished width. None when no number comes within
    the parts `less` and `more` of the wanted width.
    """
    near = max(1, min(most_across, round(loom / (wanted + allowances))))
    counts = range(max(1, near - 1), min(most_across, near + 1) + 1)
    widths = [(loom / count - allowances, count) for count in counts]
    fitting = [fit for fit in widths if wanted * (1 - less) <= fit[0] <= wanted * (1 + more)]
    return min(fitting, key=lambda fit: abs(fit[0] - wanted), default=None)


def fitted_note(what: str, before: float, after: float, across: int, loom: float) -> str:
    """What was changed to use the loom's width."""
    many = "one uses" if across == 1 else f"{across} side by side use"
    return (f"{what} {said(after)} instead of {said(before)}: with its allowances {many} "
            f"the {said(loom)} between the cloth's selvedges.")


def unfitted_note(what: str, wanted: float, loom: float) -> str:
    """That nothing near what was wanted would use the loom's width."""
    return (f"{what} stays {said(wanted)}: nothing near it uses up cloth {said(loom)} wide between its "
            "selvedges.")


def fill_the_loom(width: float, across: float) -> float:
    """The panel's width when it takes all of `across`, if it nearly does; else `width`. mm."""
    return across if width <= across <= width + WIDER_PANEL else width


def gores_across(width: float, loom: float, allowances: float, count: int) -> float:
    """The hem width at which all gores, head to tail, fill the loom once or more; else `width`.

    `count` wedges of one width laid head to tail take (count + 1)/2 of it. source: plane geometry.
    """
    strip = (count + 1) / 2
    times = max(1, round(strip * (width + allowances) / loom))
    filled = times * loom / strip - allowances
    return filled if abs(filled - width) <= GORE_CHANGE * width else width
