"""A fitted draft in words: what changed, what the cloth as cut still holds, and the work of altering it."""

from math import copysign, floor
from typing import Any

from ..life.adjust import Fitted, fits_in_sentences, fitted
from ..life.alteration import Alteration, AlterStep, alteration
from ..life.as_cut import AsCut, MovedEdge, most_on_the_cloth, on_the_cloth
from ..life.fits import PLACES, Fit, fit_texts
from ..pattern import Pattern
from ..sewing.as_json import span_in_words, time_in_words
from ..sewing.naming import listed
from ..sewing.plan import Choices
from ..sheets.before_after import before_after_svg
from ..words.problems import BadInput
from ..words.units import Unit, format_length
from ..words.wording import said, spell

WORTH_DOING = 2.0
"""mm under which no seam is opened for a fit. common practice, no source."""


def altered_in_words(made: Fitted, choices: Choices, unit: Unit) -> dict[str, Any]:
    """`changes`, `as_cut` in sentences, `holds` whether all can be done on the cloth as cut, `done` what of
    it can by place, `seams` with what each still has, `picture` of the pieces before and after, `steps` of
    the work and its `time`."""
    cloth = on_the_cloth(made)
    done, held, sentences = _possible(made, cloth)
    work = alteration(made.before.pattern, done, choices) if done else Alteration((), ())
    return {
        "done": fit_texts(held, unit),
        "changes": [spell(one, unit) for one in fits_in_sentences(made)],
        "holds": cloth.holds,
        "as_cut": [spell(one, unit) for one in sentences],
        "seams": [_line(made.before.pattern, edge, unit) for edge in (done.moved() if done else ())],
        "picture": before_after_svg(made.before.pattern, done) if done else "",
        "steps": [_step(number, step, unit) for number, step in enumerate(work.steps, 1)],
        "thread": round(work.work.thread),
        "time": span_in_words(work.work.minutes) if work.steps else "",
    }


Possible = tuple[AsCut | None, tuple[Fit, ...], list[str]]


def _possible(made: Fitted, cloth: AsCut) -> Possible:
    """What is done on the cloth as cut, as much of the fits as it holds, and sentences that say so."""
    if cloth.holds:
        new = f" Cut new: {listed(cloth.new)}." if cloth.new else ""
        tuck = (f" The growth tuck gives {said(cloth.tuck_let_down)} of it." if cloth.tuck_let_down else "")
        return cloth, made.fits, [
            f"All of it can be done on the cloth as cut, while nothing is trimmed.{tuck}{new}"]
    held, sentences = [], []
    for fit in made.fits:
        most = _whole(fit.change * most_on_the_cloth(made.before, fit), fit.change)
        worth = abs(most) >= WORTH_DOING
        way = "larger" if fit.change > 0 else "smaller"
        place = PLACES[fit.place].title
        if abs(most) >= abs(fit.change) - 1e-6:
            sentences.append(f"{place}: all {said(abs(fit.change))} can be done on the cloth as cut.")
        elif worth:
            sentences.append(f"{place}: of {said(abs(fit.change))} {way} the cloth as cut holds "
                             f"{said(abs(most))}; the rest only the next one can have.")
        else:
            sentences.append(f"{place}: {said(abs(fit.change))} {way} is more than the cloth as cut holds; "
                             f"only the next one can have it.{_where(cloth)}")
        if worth:
            held.append(Fit(fit.place, most))
    if not held:
        return None, (), sentences
    try:
        partly = on_the_cloth(fitted(made.before, tuple(held)))
    except BadInput:
        return None, (), sentences
    if partly.holds:
        return partly, tuple(held), sentences
    return None, (), [*sentences, "Not all of that at once: try one on before the other."]


def _whole(most: float, asked: float) -> float:
    """To the mm below, as chalk draws it, unless it is all that was asked."""
    return most if abs(most) >= abs(asked) - 1e-6 else copysign(floor(abs(most)), asked)


def _where(cloth: AsCut) -> str:
    lacking = [piece.name for piece in cloth.pieces if not piece.holds]
    names = [cloth.pattern.piece(name).title for name in lacking] + list(cloth.missing)
    return f" It lacks cloth at: {', '.join(names)}." if names else ""


def _line(pattern: Pattern, edge: MovedEdge, unit: Unit) -> dict[str, Any]:
    seams = [seam.name for seam in pattern.seams
             if any((part.piece, part.edge) == (edge.piece, edge.edge) for part in (*seam.a, *seam.b))]
    return {
        "piece": pattern.piece(edge.piece).title, "edge": edge.edge, "seam": listed(seams),
        "out": [round(mm, 1) for mm in edge.out], "left": round(edge.left, 1),
        "text": f"{format_length(abs(edge.most), unit)} {'out' if edge.most > 0 else 'in'}",
        "left_text": format_length(edge.left, unit),
    }


def _step(number: int, step: AlterStep, unit: Unit) -> dict[str, Any]:
    return {
        "number": number, "kind": step.kind, "title": step.title,
        "sentences": [spell(one, unit) for one in step.sentences],
        "length": round(step.length), "text": format_length(step.length, unit) if step.length else "",
        "thread": round(step.work.thread), "stitches": step.work.stitches,
        "minutes": round(step.work.minutes, 1), "time": time_in_words(step.work.minutes),
    }
