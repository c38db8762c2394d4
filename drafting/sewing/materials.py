"""What to have at hand besides the cloth: thread, needles, cord, brooches; and what the whole weighs."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from math import ceil

from ..geometry import area
from ..pattern import Pattern, Piece
from ..words.cautions import CHILD_STATURE
from ..words.wording import said
from .cloths import HANDLED_AS, SewnCloth
from .finishing import is_strip
from .plan import SewingPlan
from .work import LOOP_CORD, fastenings, strip_length

REEL = 100_000.0
"""mm of thread on a reel. common practice, no source."""

SPARE_THREAD = 0.15
"""Part to buy over what the stitches take, for basting and mistakes. common practice, no source."""

THREAD: dict[str, str] = {
    "wool": "wool thread, two-ply", "linen": "linen thread, waxed", "silk": "silk thread",
}
NEEDLE: dict[str, str] = {
    "wool": "a needle with an eye that passes the wool thread easily",
    "linen": "a fine sharp needle",
}


@dataclass(frozen=True)
class Material:
    """One thing to have: what, how much (lengths as marks), and a remark.

    What several garments ask for is added up: `number` of things, at least so many where it is `open`, or
    `lengths` in mm, each in one piece.
    """

    what: str
    amount: str
    remark: str = ""
    number: int = 0
    open: bool = False
    lengths: tuple[float, ...] = ()


def things(what: str, number: int, remark: str = "", *, open: bool = False) -> Material:
    """So many things, or more."""
    return Material(what, f"{number} or more" if open else str(number), remark, number, open)


@dataclass(frozen=True)
class ThreadNeed:
    """Thread of one kind: mm that the stitches take, mm to buy, and reels of that."""

    kind: str
    taken: float
    to_buy: float
    reels: int


def finished_weight(plan: SewingPlan) -> float:
    """Grams: the cloth within the cutting lines of every copy, times its weight."""
    return sum(
        _cloth_area(piece) * piece.cut * plan.cloths[piece.cloth].weight / 1e6
        for piece in plan.pattern.pieces
    )


def _cloth_area(piece: Piece) -> float:
    """mm² of one copy with its allowances, less the holes cut in it."""
    return area(piece.cutting_line) - sum(abs(area(h)) for h in piece.hole_cutting_lines.values())


def thread_needed(plan: SewingPlan, reel: float = REEL) -> tuple[ThreadNeed, ...]:
    """Thread by the main cloth's fibre: everything in a garment is sewn with the one kind."""
    main = plan.cloths.get("main") or next(iter(plan.cloths.values()))
    to_buy = plan.work.thread * (1 + SPARE_THREAD)
    kind = THREAD.get(main.fibre) or THREAD[HANDLED_AS[main.fibre]]
    return (ThreadNeed(kind, plan.work.thread, to_buy, max(1, ceil(to_buy / reel))),)


def materials(plan: SewingPlan, reel: float = REEL) -> tuple[Material, ...]:
    """The list, in the order one would gather it."""
    pattern = plan.pattern
    return (
        *_cloths(plan),
        *_threads(plan, reel),
        *(things(NEEDLE[fibre], 1) for fibre in _handled_as(plan.cloths.values())),
        Material("pins, chalk, a tape and shears", ""),
        *_strips(pattern),
        *_by_option(pattern),
    )


def _handled_as(cloths: Iterable[SewnCloth]) -> list[str]:
    return list(dict.fromkeys(HANDLED_AS[cloth.fibre] for cloth in cloths))


def _cloths(plan: SewingPlan) -> Iterator[Material]:
    for name, cloth in plan.cloths.items():
        pieces = [piece for piece in plan.pattern.pieces if piece.cloth == name]
        square = sum(_cloth_area(piece) * piece.cut for piece in pieces) / 1e6
        fibre = cloth.fibre.replace("-", " ")
        called = fibre if name == "main" else f"{name}, {fibre}"
        yield Material(
            f"cloth: {called}, about {cloth.weight:.0f} g/m²",
            f"{square:.2f} m² of pieces",
            "The lay tells the length to buy; wash a sample first to learn what it shrinks.",
        )


def _threads(plan: SewingPlan, reel: float) -> Iterator[Material]:
    for need in thread_needed(plan, reel):
        reels = f"{need.reels} reel{'s' if need.reels > 1 else ''} of {reel / 1000:.0f} m"
        yield Material(
            need.kind, f"{need.to_buy / 1000:.0f} m",
            f"{reels}; the stitches take {need.taken / 1000:.0f} m, the rest is spare for basting.",
        )
    if any(need.kind == THREAD["linen"] for need in thread_needed(plan, reel)):
        yield Material("beeswax", "a little", "Draw linen thread over it: it frays less.")


def _strips(pattern: Pattern) -> Iterator[Material]:
    for piece in pattern.pieces:
        if is_strip(pattern, piece):
            yield Material(
                f"or ready-made braid or cord in place of the {piece.title}",
                f"{piece.cut} × {said(strip_length(piece))}",
                lengths=(strip_length(piece),) * piece.cut,
            )


def _by_option(pattern: Pattern) -> Iterator[Material]:
    """Things that no piece of cloth stands for: the option that calls for them says so."""
    options = pattern.options
    if options.get("strap_style") == "loops":
        yield things("brooches", 2, "Or large pins; their size is a matter of time and place.")
        yield Material("beads to hang between the brooches", "to taste")
    if "opening_length" in pattern.finished:
        yield from _closing(pattern)
    closure = str(options.get("closure", ""))
    if closure == "brooch":
        yield things("a brooch or a large pin", 1, open=True)
    elif closure == "two-brooches":
        yield things("brooches or large pins, a pair", 2)
    elif closure.startswith("toggle"):
        yield things("toggles of wood, bone or horn", int(options.get("toggles", 1)))
    yield from _shut(pattern)
    waist = options.get("waist")
    if closure == "belt" or waist == "belt-loops":
        yield things("a belt", 1)
    if waist == "drawstring":
        cord = pattern.finished["drawstring_length"]
        yield Material("cord or braid for the drawstring", said(cord), lengths=(cord,))
    lines = [line for piece in pattern.pieces for line in piece.inner_lines]
    if any(line.role == "neck" and line.kind == "slit" for line in lines):
        child = pattern.measurements.get("stature", CHILD_STATURE + 1) <= CHILD_STATURE
        yield things("a button and a sewn loop for the neck slit" if child
                     else "a bead and a thread loop, or a small brooch, for the neck slit", 1)


def _shut(pattern: Pattern) -> Iterator[Material]:
    """What holds the ends of a belt, or the mouth of a bag."""
    closes = pattern.options.get("closes")
    if closes == "buckle":
        yield things("a buckle as wide as the band", 1, "A strap end of metal is usual, not needed.")
    elif closes == "frame":
        yield things("slotted handles of wood, bone or antler", 2)
    elif closes == "cord":
        half = pattern.finished["cord_length"] / 2
        yield Material("cord or braid to draw the mouth shut", f"2 × {said(half)}", lengths=(half, half))


def _closing(pattern: Pattern) -> Iterator[Material]:
    """What closes an opening in a seam."""
    count = fastenings(pattern.finished["opening_length"])
    lace = pattern.finished.get("lace_length")
    if lace is None:
        yield things("hooks and eyes for the side opening", count)
        return
    loops = 2 * count * LOOP_CORD
    yield Material("cord or braid for the loops of the side opening", said(loops), lengths=(loops,))
    yield Material("cord or braid to lace the side opening", said(lace), lengths=(lace,))
