"""Less cloth: changes that would shorten a lay, or make it fit the cloth on hand, each of them tried."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from .garments import GARMENTS
from .lay.bolt import BoltLay, cheaper_by_piecing
from .problems import BadInput
from .requests import Request, draft, lay
from .wording import said

WORTH_SAYING = 0.02
"""Part of the length that a change must save to be named, where no cloth is on hand."""

ROUNDS = 400
"""Search for each lay that is compared: with less, the one on the page, searched for 5 s, is shorter by
more than any change is worth."""

SMALL_ALLOWANCE = 15.0
"""mm: the least seam allowance that a run-and-fell seam is comfortable with. common practice, no source."""

NARROWER = (0.9, 0.8)
"""Parts of the hem girth that are tried."""


@dataclass(frozen=True)
class Way:
    """A change, as the fields of a request that it sets, and what it would do."""

    sentence: str
    change: Mapping[str, str]


def ways_to_save(request: Request) -> list[Way]:
    """What would shorten the lay that the request asks for, most saving first.

    With cloth on hand that is too short, only what makes it fit; else what saves a fiftieth of the
    length, and piecing when it saves a tenth. Every way is laid with little search. Raises BadInput.
    """
    quick = {**request, "max_rounds": ROUNDS, "seconds": 2.0}
    base = lay(quick)
    found: list[tuple[float, Way]] = []
    for title, change, changed in _trials(quick):
        try:
            tried = lay(changed)
        except BadInput:
            continue
        if _helps(base, tried) and _still_passes(changed):
            found.append((tried.cut_length, Way(
                f"{title}: {said(tried.cut_length)} instead of {said(base.cut_length)}.", change
            )))
    pieced = cheaper_by_piecing(base)
    if pieced and _helps(base, pieced):
        seams = len(pieced.orders[0].pattern.seams) - len(base.orders[0].pattern.seams)
        found.append((pieced.cut_length, Way(
            f"With {seams} piecing seams more: {said(pieced.cut_length)} instead of "
            f"{said(base.cut_length)}.", {},
        )))
    return [way for _, way in sorted(found, key=lambda item: item[0])]


def _helps(base: BoltLay, tried: BoltLay) -> bool:
    if base.missing is not None:
        return tried.missing is None
    return tried.cut_length < (1 - WORTH_SAYING) * base.cut_length


def _still_passes(request: Request) -> bool:
    return all(check.passed for check in draft(request)[1])


def _trials(request: Request) -> Iterator[tuple[str, dict[str, str], Request]]:
    cloth, options = request.get("cloth") or {}, request.get("options") or {}
    for field, title in (("nap", "Pieces may lie head to tail"), ("folded", "Laid on a single layer")):
        if str(cloth.get(field) or "no") != "no":
            yield (title, {"cloth": field, "value": "no"},
                   {**request, "cloth": {**cloth, field: "no"}})
    pattern = draft(request)[0]
    known = {option.name for option in GARMENTS[pattern.garment].options}
    smaller = []
    if pattern.options.get("seam_allowance", 0) > SMALL_ALLOWANCE:
        smaller.append(("seam_allowance", "Seam allowances of", SMALL_ALLOWANCE))
    if "hem_girth" in known:
        smaller += [("hem_girth", "A hem girth of", round(pattern.options["hem_girth"] * part, -1))
                    for part in NARROWER]
    for name, title, value in smaller:
        text = f"{value:g} mm"
        yield (f"{title} {said(value)}", {"option": name, "value": text},
               {**request, "options": {**options, name: text}})
    if smaller:
        texts = {name: f"{value:g} mm" for name, _, value in smaller}
        said_all = ", ".join(f"{title.lower()} {said(value)}" for name, title, value in smaller
                             if texts[name] == f"{value:g} mm")
        yield (f"Head to tail on a single layer, with {said_all}", {},
               {**request, "options": {**options, **texts},
                "cloth": {**cloth, "nap": "no", "folded": "no"}})
