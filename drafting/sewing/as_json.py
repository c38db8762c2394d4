"""The plan as plain values, for the page and the command line."""

from dataclasses import replace
from typing import Any

from ..pattern import Pattern
from ..words.units import Unit, format_length
from ..words.wording import spell
from .care import MAKING, care_for
from .materials import Material, finished_weight, materials, thread_needed
from .naming import copies_named
from .pace import Pace, span_of
from .picture import Picture, svg
from .plan import Choices, SeamLine, SewingPlan, Step, sewing_plan
from .profile import girth_profile
from .step_pictures import step_pictures
from .stitches import STITCHES
from .together import together_picture
from .work import Work

FORMAT = "ellwand-sewing"
VERSION = 1

SHORT = 90.0
"""Minutes up to which a total is told in minutes, not in hours."""


def plan_json(
    pattern: Pattern,
    *,
    unit: Unit = "cm",
    pace: Pace | None = None,
    choices: Choices | None = None,
    pictures: bool = True,
) -> dict[str, Any]:
    """Steps with SVG pictures, seam table, materials, times, the girth profile
    and `together`, how the pieces lie.

    Texts have their lengths in `unit`; numbers are mm, minutes and grams. A step's `id` stays the same
    while its work does, so that ticks outlive a changed measurement.
    """
    chosen = choices or Choices()
    plan = sewing_plan(pattern, replace(chosen, pace=pace) if pace else chosen)
    drawn = step_pictures(plan) if pictures else (None,) * len(plan.steps)
    profile = girth_profile(pattern) if pictures else None
    together = together_picture(pattern) if pictures else None
    return {
        "format": FORMAT,
        "version": VERSION,
        "steps": [_step(plan, step, picture, unit)
                  for step, picture in zip(plan.steps, drawn, strict=True)],
        "seams": [_seam(line, unit) for line in plan.seam_table],
        "materials": [_material(item, unit) for item in materials(plan)],
        "thread": [
            {"kind": need.kind, "taken": round(need.taken), "to_buy": round(need.to_buy),
             "reels": need.reels}
            for need in thread_needed(plan)
        ],
        "care": list(care_for(cloth.fibre for cloth in plan.cloths.values())),
        "cautions": list(MAKING),
        "weight": round(finished_weight(plan)),
        "work": {**_work(plan.work), "time": span_in_words(plan.work.minutes)},
        "pace": {"per_minute": {name: round(rate, 2)
                                for name, rate in plan.choices.pace.per_minute.items()},
                 "timed": plan.choices.pace.timed},
        "stitches": [
            {"name": stitch.name, "title": stitch.title, "how": stitch.how,
             "iso_4915": stitch.iso_4915, "length": stitch.length}
            for stitch in STITCHES.values()
            if any(row.stitch == stitch.name for step in plan.steps for row in step.rows)
        ],
        "profile": svg(profile, unit) if profile else "",
        "together": svg(together, unit) if together else "",
    }


def _step(plan: SewingPlan, step: Step, picture: Picture | None, unit: Unit) -> dict[str, Any]:
    return {
        "id": step_id(step),
        "number": step.number,
        "kind": step.kind,
        "title": step.title,
        "sentences": [spell(sentence, unit) for sentence in step.sentences],
        "seams": list(step.seams),
        "fells": list(step.fells),
        "pieces": copies_named(plan.pattern, step.copies),
        "lines": [
            {"label": m.label, "length": round(m.length, 1), "allowance": round(m.allowance, 1),
             "text": format_length(m.length, unit),
             "allowance_text": format_length(m.allowance, unit)}
            for m in step.measures
        ],
        **_work(step.work),
        "time": time_in_words(step.work.minutes),
        "cautions": list(step.cautions),
        "picture": svg(picture, unit) if picture else "",
    }


def step_id(step: Step) -> str:
    """A name for the step that does not depend on its number or on any length."""
    lines = ",".join(sorted({f"{part.piece}.{part.edge}" for part in step.task.lines}))
    names = ",".join(sorted(seam.name for seam in step.task.seams))
    return f"{step.kind}:{names or lines}".replace(" ", "-")


def _seam(line: SeamLine, unit: Unit) -> dict[str, Any]:
    return {
        "name": line.name,
        "length": round(line.length, 1),
        "text": format_length(line.length, unit),
        "allowance": round(line.allowance, 1),
        "allowance_text": format_length(line.allowance, unit),
        "ease": round(line.ease, 1),
        "stitch": STITCHES[line.stitch].title,
        "treatment": line.treatment,
        "towards": line.towards,
        "step": line.step,
        "felled": line.felled,
    }


def _material(item: Material, unit: Unit) -> dict[str, str]:
    return {"what": spell(item.what, unit), "amount": spell(item.amount, unit),
            "remark": spell(item.remark, unit)}


def _work(work: Work) -> dict[str, Any]:
    least, most = span_of(work.minutes)
    return {"stitches": work.stitches, "thread": round(work.thread),
            "minutes": round(work.minutes, 1),
            "least_minutes": round(least, 1), "most_minutes": round(most, 1)}


def span_in_words(minutes: float) -> str:
    """What a total of so many minutes is told as: `8 to 12 h`, `2½ to 4 h`, `40 to 60 min`."""
    least, most = span_of(minutes)
    if most <= SHORT:
        low, high = (5 * max(1, round(end / 5)) for end in (least, most))
        return f"{low} to {high} min" if low < high else f"{low} min"
    halves = [max(1, round(end / 30)) for end in (least, most)]
    return f"{_half_hours(halves[0])} to {_half_hours(halves[1])} h"


def _half_hours(halves: int) -> str:
    return (str(halves // 2) if halves > 1 else "") + ("½" if halves % 2 else "")


def time_in_words(minutes: float) -> str:
    """`25 min`, `1 h 40 min`; to five minutes from half an hour on; nothing for no time."""
    if minutes <= 0:
        return ""
    if minutes < 30:
        return f"{max(1, round(minutes))} min"
    hours, rest = divmod(5 * round(minutes / 5), 60)
    if not hours:
        return f"{rest} min"
    return f"{hours} h {rest} min" if rest else f"{hours} h"
