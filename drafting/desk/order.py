"""The order: what someone asks for, read once from plain values, every bad one named by its field."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Any

from ..body import STANDS_IN, Body, Sex, check_body, complete, label_of, read_measurements
from ..cloth.cloth import LOOKS, Cloth, read_cloth
from ..garments import GARMENTS, Garment, read_options
from ..garments.options import Options
from ..period.impression import Impression
from ..words.problems import BadInput, Gathered, Problem
from ..words.units import Unit
from .values import (
    Values,
    age_of,
    day_of,
    name_of,
    names_of,
    number_of,
    sex_of,
    stature_of,
    text_of,
    texts_of,
    unit_of,
)

if TYPE_CHECKING:
    from ..life.fits import Fit
    from ..sewing.order import GussetOrder

MAIN = "main"
ACTIVITIES_ARE_NAMES = "The activities must be a list of names."
STARTS_ARE_NAMES = "The start values must be a list of measurements."


@dataclass(frozen=True)
class Cloths:
    """The cloths a garment may be cut from, by the part that its pieces name.

    `unread` holds what is wrong with those that do not read: it is told when such a cloth is cut, for
    a lining that a garment has not got troubles nobody.
    """

    read: Mapping[str, Cloth]
    unread: Mapping[str, tuple[Problem, ...]] = field(default_factory=dict)

    def of(self, part: str) -> Cloth:
        """That part's cloth, the usual one where nothing is said of it. Raises BadInput."""
        if part in self.unread:
            raise BadInput(self.unread[part])
        return self.read.get(part) or read_cloth({}, part=part)

    def changed(self, part: str, cloth: Cloth) -> "Cloths":
        return replace(self, read={**self.read, part: cloth})


@dataclass(frozen=True)
class HandWork:
    """How the sewer works: when gussets are set in, and how many stitches were sewn in how many seconds,
    where that was timed."""

    gussets: "GussetOrder" = "first"
    timed: tuple[float, float] | None = None


@dataclass(frozen=True)
class Order:
    """One garment for one body. Lengths in mm.

    `options` are all that the garment has. `cloths` is None while nothing is said of any: no piece is
    parted then for being too wide. `measured` and `today` are ISO dates. `start` names the measurements
    that are a size's start values; `doubts` are warnings about the body. `name` is "" for nobody. `fits` is
    what a try-on changed, and is still to be made; `taken_up` what an earlier one did, with which it is cut.
    """

    garment: Garment
    body: Body
    options: Options
    cloths: Cloths | None = None
    impression: Impression = Impression()
    hand_work: HandWork = HandWork()
    unit: Unit = "cm"
    name: str = ""
    measured: str | None = None
    today: str | None = None
    start: tuple[str, ...] = ()
    doubts: tuple[Problem, ...] = ()
    fits: "tuple[Fit, ...]" = ()
    taken_up: "tuple[Fit, ...]" = ()

    def cloth(self, part: str = MAIN) -> Cloth:
        """What that part is cut from, the usual cloth where nothing is said. Raises BadInput."""
        return (self.cloths or Cloths({})).of(part)


def read_order(values: Values) -> Order:
    """The order in plain values, as requests.workbench describes them. Raises BadInput: all that is wrong."""
    garment, unit = garment_named(values.get("garment")), unit_of(values)
    found = Gathered()
    sex, age = found.read(lambda: sex_of(values), None), found.read(lambda: age_of(values), None)
    body, doubts = found.read(
        lambda: read_body(garment, texts_of(values, "measurements"), unit, sex, age), (None, ())
    )
    options = None if body is None else found.read(
        lambda: read_options(garment, texts_of(values, "options"), body, unit), None
    )
    cloths = found.read(lambda: read_cloths(values, unit), None)
    hand_work = found.read(lambda: _hand_work(values), HandWork())
    measured = found.read(lambda: day_of(values, "measured"), None)
    today = found.read(lambda: day_of(values, "today"), None)
    start = found.read(lambda: names_of(values, "start", STARTS_ARE_NAMES), ())
    fits = found.read(lambda: read_order_fits(values.get("fits"), unit), ())
    taken_up = found.read(lambda: read_order_fits(values.get("taken_up"), unit), ())
    if body is None or options is None or found.problems:
        raise BadInput(dict.fromkeys(found.problems))
    return Order(
        garment=garment,
        body=body,
        options=options,
        cloths=cloths,
        impression=read_impression(values),
        hand_work=hand_work,
        unit=unit,
        name=name_of(values),
        measured=measured,
        today=today,
        start=start,
        doubts=doubts,
        fits=fits,
        taken_up=taken_up,
    )


def read_order_fits(given: Any, unit: Unit) -> "tuple[Fit, ...]":
    """What a try-on changed: texts such as `+3 cm` by place, or pairs of both. Raises BadInput."""
    if not given:
        return ()
    from ..life.fits import read_fits

    pairs = given.items() if isinstance(given, Mapping) else given
    if not isinstance(given, (Mapping, list, tuple)) or not all(
            isinstance(pair, (list, tuple)) and len(pair) == 2 for pair in pairs):
        raise BadInput([Problem("fits", "The fits must be places, each with its change.")])
    return read_fits(((str(place), str(change)) for place, change in pairs), unit)


def garment_named(name: object) -> Garment:
    """Raises BadInput naming those there are."""
    if not isinstance(name, str) or name not in GARMENTS:
        raise BadInput([Problem(
            "garment",
            f"There is no garment “{str(name)[:40]}”: choose one of {', '.join(GARMENTS)}.",
        )])
    return GARMENTS[name]


def read_body(
    garment: Garment, texts: Mapping[str, str], unit: Unit, sex: Sex | None = None,
    age_months: int | None = None,
) -> tuple[Body, tuple[Problem, ...]]:
    """The body with all that the garment needs and uses, and warnings about it. Raises BadInput."""
    values, problems = read_measurements(texts, unit, garment.needs)
    errors = [p for p in problems if p.severity == "error"]
    if errors:
        raise BadInput(errors)
    checked = check_body(values, sex=sex, age_months=age_months, unit=unit)
    errors = [p for p in checked if p.severity == "error"]
    missing = [
        Problem(name, f"{label(name)} is needed for this garment: please measure it.")
        for name in garment.needs
        if name not in values and STANDS_IN.get(name) not in values
    ]
    if errors or missing:
        raise BadInput([*missing, *errors])
    body = complete(
        values, garment.needs + garment.uses, sex=sex or garment.estimated_as, age_months=age_months,
        never_estimate=frozenset(name for name in garment.needs if STANDS_IN.get(name) not in values),
    )
    return Body(body.values, body.estimated, sex, age_months), tuple(
        p for p in (*problems, *checked) if p.severity == "warning"
    )


def read_cloths(values: Values, unit: Unit) -> Cloths | None:
    """None where nothing is said but how a cloth looks. Raises BadInput for what are no cloths at all."""
    main, others = texts_of(values, "cloth"), values.get("cloths") or {}
    if not isinstance(others, Mapping):
        raise BadInput([Problem("cloths", "The further cloths must be names, each with its texts.")])
    texts = {str(part): texts_of(others, part) for part in others}
    texts[MAIN] = {**texts.get(MAIN, {}), **main}
    if not (texts[MAIN].keys() - set(LOOKS) or texts.keys() - {MAIN}):
        return None
    return cloths_from(texts, unit)


def cloths_from(texts: Mapping[str, Mapping[str, str]], unit: Unit) -> Cloths:
    """The cloths whose fields were typed so, by part."""
    read, unread = {}, {}
    for part, fields in texts.items():
        try:
            read[part] = read_cloth(fields, unit, part)
        except BadInput as error:
            unread[part] = tuple(error.problems)
    return Cloths(read, unread)


def read_impression(values: Values) -> Impression:
    """What is shown, and in what; a cloth's looks may stand with the cloth. Raises BadInput."""
    cloth = _main_cloth(values)
    looks = {name: text_of(values, name) or text_of(cloth, name) for name in LOOKS}
    fields = ("year", "region", "rank", "thread", "trim", "fastening", "making")
    rules = values.get("house_rules") or ""
    if not isinstance(rules, str):
        raise BadInput([Problem("house_rules", "The house rules must be the text of their file or link.")])
    return Impression(
        garment=text_of(values, "garment"),
        **{name: text_of(values, name) for name in fields},
        **looks,
        wearer=text_of(values, "wearer") or text_of(values, "sex"),
        options=texts_of(values, "options"),
        house_rules=rules,
        activities=names_of(values, "activities", ACTIVITIES_ARE_NAMES),
        age_months=age_of(values),
        stature=stature_of(values),
    )


def _main_cloth(values: Values) -> Mapping[str, Any]:
    others = values.get("cloths")
    further = others.get(MAIN) if isinstance(others, Mapping) else None
    found: dict[str, Any] = {}
    for texts in (further, values.get("cloth")):
        found.update(texts if isinstance(texts, Mapping) else {})
    return found


def _hand_work(values: Values) -> HandWork:
    gussets: Any = values.get("gussets") or "first"
    if gussets not in ("first", "last"):
        raise BadInput([Problem(
            "gussets", f"“{str(gussets)[:20]}” is no order for gussets: give first or last."
        )])
    if values.get("stitches") in (None, ""):
        return HandWork(gussets)
    return HandWork(gussets, (
        number_of(values, "stitches", 0, 1e5), number_of(values, "stitching_seconds", 0, 1e6)
    ))


def label(name: str) -> str:
    """A field's name for people: its measure's label where it is one."""
    words = label_of(name)
    return words[:1].upper() + words[1:]
