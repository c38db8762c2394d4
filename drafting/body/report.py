"""What is known of a body, in lines for a terminal: given, estimated, still to be measured."""

from collections.abc import Iterable, Mapping

from drafting.body.bodies import complete, in_words
from drafting.body.growth import FIRST_MONTH, LAST_MONTH, Sex, centile, expected
from drafting.body.measures import MEASURES, STANDS_IN, label_of
from drafting.body.plausibility import check_body
from drafting.words.problems import BadInput, Problem
from drafting.words.units import Unit, format_length
from drafting.words.wording import spell


def report(
    values: Mapping[str, float],
    needs: Iterable[str] = (),
    uses: Iterable[str] = (),
    *,
    unit: Unit = "cm",
    sex: Sex | None = None,
    age_months: int | None = None,
    problems: Iterable[Problem] = (),
) -> str:
    """The report on measures in mm.

    `needs` are measures that a garment must have measured, `uses` those it may have estimated; with
    neither, every measure is reported. `problems`, such as those from reading the measurements, are
    told after those that `check_body` finds. Nothing is estimated from a measure that cannot be.
    """
    found = (*check_body(values, sex=sex, age_months=age_months, unit=unit), *problems)
    wrong = {problem.field for problem in found if problem.severity == "error"}
    sound = {name: mm for name, mm in values.items() if name not in wrong}
    needed, used = tuple(needs), tuple(uses)
    if not needed and not used:
        used = tuple(MEASURES)
    stood_in = {name for name in needed if STANDS_IN.get(name) in values}
    missing = [name for name in _in_order(needed) if name not in values and name not in stood_in]
    guessed = [
        name for name in _in_order((*used, *stood_in)) if name not in values and name not in missing
    ]
    lines = _section(
        "Given", [(label_of(n), format_length(values[n], unit)) for n in _in_order(values)]
    )
    try:
        body = complete(sound, guessed, sex=sex, age_months=age_months)
    except BadInput:
        missing += guessed
    else:
        lines += _section("Estimated", [(label_of(n), in_words(body, n, unit)) for n in guessed])
    lines += _section(
        "Still to be measured", [(label_of(n), MEASURES[n].instruction) for n in missing]
    )
    lines += _growth(sound, unit, sex, age_months)
    lines += ["Please look again", *(f"  {spell(p.message, unit)}" for p in found)] if found else []
    return "\n".join(lines)


def _in_order(names: Iterable[str]) -> list[str]:
    wanted = set(names)
    return [name for name in MEASURES if name in wanted]


def _section(title: str, rows: list[tuple[str, str]]) -> list[str]:
    if not rows:
        return []
    width = max(len(label) for label, _ in rows)
    return [title, *(f"  {label:<{width}}  {text}" for label, text in rows), ""]


def _growth(
    values: Mapping[str, float], unit: Unit, sex: Sex | None, age_months: int | None
) -> list[str]:
    if age_months is None or not FIRST_MONTH <= age_months < LAST_MONTH or "stature" not in values:
        return []
    on = centile(values["stature"], sex, age_months)
    rows = []
    for then in expected(values, sex, age_months):
        known = [n for n in ("bust_girth", "arm_length") if n in then.values]
        others = "".join(
            f", {label_of(n).lower()} {format_length(then.values[n], unit)}" for n in known
        )
        label = f"in {then.months} months"
        rows.append((label, f"height {format_length(then.stature, unit)}{others}"))
    title = (
        f"Growth, staying taller than {min(max(round(on), 1), 99)} in 100 of that age (CDC 2000)"
    )
    return _section(title, rows)
