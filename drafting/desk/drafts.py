"""The draft: what becomes of an order, from the garment's own lines to the checks before cutting."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import TYPE_CHECKING

from ..body import MEASURES
from ..body.growth import LAST_MONTH
from ..checks.truing import Check, true_up
from ..cloth.piecing import fit_to_width
from ..pattern import Pattern
from ..words.problems import BadInput
from .order import MAIN, HandWork, Order, label

if TYPE_CHECKING:
    from ..life.adjust import Fitted
    from ..life.fits import Fit
    from ..sewing.pace import Pace
    from ..sewing.plan import Choices


@dataclass(frozen=True)
class Draft:
    """A pattern as it will be cut: pieces wider than their cloth are pieced already.

    `pieced` says of each cloth, by part, which of its pieces are, and why. `fitted` says what became of the
    order's fits, `taken_up` of those of an earlier try-on: the order's options and its body have both in
    them, and it asks for neither any more.
    """

    order: Order
    pattern: Pattern
    pieced: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    fitted: "Fitted | None" = None
    taken_up: "Fitted | None" = None

    @property
    def as_asked(self) -> Pattern:
        """Before any fit was made."""
        first = self.taken_up or self.fitted
        return first.before.pattern if first else self.pattern

    @property
    def parts(self) -> tuple[str, ...]:
        return parts_of(self.pattern)

    @cached_property
    def checks(self) -> tuple[Check, ...]:
        """What a cutter would check, when it is asked for: a list of what to buy needs none of it."""
        return true_up(self.pattern)

    @property
    def passed(self) -> bool:
        return all(check.passed for check in self.checks)

    @property
    def failing(self) -> frozenset[str]:
        """The names of the checks that do not pass."""
        return frozenset(check.name for check in self.checks if not check.passed)


def draft(order: Order) -> Draft:
    """Drafts and pieces. Raises BadInput for options that contradict each other or the body, and
    for a cloth that does not read or is too narrow, and for fits that cannot be made."""
    order, taken_up = _taken_up(order)
    order, fitted = _with_fits(order, order.fits)
    order = replace(order, fits=(), taken_up=())
    last = fitted or taken_up
    pattern = last.after.pattern if last else order.garment.draft(order.body, order.options)
    pieced = {}
    for part in parts_of(pattern) if order.cloths else ():
        cloth, before = order.cloth(part), len(pattern.notes)
        pattern = fit_to_width(pattern, cloth.piece_width, part, cloth.wished_width, cloth.folded)
        pieced[part] = pattern.notes[before:]
    started = [label(name) for name in MEASURES if name in order.start and name in pattern.measurements]
    if started:
        note = (
            f"A size's start values, not this body's: {', '.join(started)}. Measure them before you cut."
        )
        pattern = replace(pattern, notes=(note, *pattern.notes))
    if last:
        from ..life.adjust import fits_in_sentences

        told = (*fits_in_sentences(taken_up, "Taken up from an earlier try-on"), *fits_in_sentences(fitted))
        pattern = replace(pattern, notes=(*told, *pattern.notes))
    return Draft(order, pattern, pieced, fitted, taken_up)


def _taken_up(order: Order) -> "tuple[Order, Fitted | None]":
    try:
        return _with_fits(order, order.taken_up)
    except BadInput as error:
        raise BadInput([replace(p, field="taken_up", message=f"What an earlier try-on changed: {p.message}")
                        for p in error.problems]) from None


def _with_fits(order: Order, fits: "tuple[Fit, ...]") -> "tuple[Order, Fitted | None]":
    """The order with the fits in its options and its body. Raises BadInput."""
    if not fits:
        return order, None
    from ..life.adjust import fitted, sized

    made = fitted(sized(order.garment, order.body, order.options), fits)
    return replace(order, body=made.after.body, options=made.after.options), made


def parts_of(pattern: Pattern) -> tuple[str, ...]:
    """The cloths that a garment is cut from, the main one first."""
    parts = {piece.cloth: None for piece in pattern.pieces}
    return tuple(sorted(parts, key=lambda part: part != MAIN))


def growth(drafted: Draft) -> tuple[str, ...]:
    """Sentences on how long the pattern will fit a child, with lengths as marks."""
    order = drafted.order
    age = order.body.age_months
    if age is None or age >= LAST_MONTH:
        return ()
    from ..checks.growing import growth_in_sentences

    return growth_in_sentences(
        drafted.pattern, order.body, measured=order.measured, today=order.today
    )


def sewing_choices(drafted: Draft) -> "Choices":
    """How the sewer works, and on what. Raises BadInput for stitches that time nothing."""
    from ..period.counsel import fibre_of
    from ..sewing.cloths import usual_cloths
    from ..sewing.plan import Choices

    order = drafted.order
    weight = order.cloth().weight if order.cloths else None
    return Choices(
        pace=_pace(order.hand_work),
        gussets=order.hand_work.gussets,
        cloths=usual_cloths(drafted.pattern, fibre_of(order.impression), weight),
    )


def _pace(work: HandWork) -> "Pace":
    from ..sewing.pace import TYPICAL, calibrate

    if work.timed is None:
        return TYPICAL
    try:
        return calibrate(*work.timed)
    except BadInput as error:
        raise BadInput([
            replace(p, field="stitching_seconds") if p.field == "seconds" else p
            for p in error.problems
        ]) from None
