"""An order for a garment that was measured flat, in place of a body or beside one."""

from collections.abc import Mapping
from dataclasses import replace

from ..body import read_measurements
from ..garments.options import as_typed
from ..life.measured_flat import FlatGarment, flat_in_sentences, from_flat, read_flat
from ..pattern import Pattern
from ..words.problems import BadInput, Problem
from ..words.units import Unit
from .order import MAIN, Cloths, Order, garment_named, read_cloths, read_order
from .values import Values, age_of, sex_of, texts_of, unit_of

LARGEST_MISS = 60.0
"""mm by which what was measured may be at odds with itself; beyond, something was measured wrongly. common
practice, no source."""


def read_flat_order(values: Values) -> Order:
    """The order in plain values whose `from_garment` has flat measures as texts: `half_chest`, `length`, ….

    Measures of the body may be given too: they stay, and the garment is compared with them. What was found
    stands among the order's doubts. Raises BadInput.
    """
    garment, unit = garment_named(values.get("garment")), unit_of(values)
    options, flat_texts = texts_of(values, "options"), texts_of(values, "from_garment")
    given, problems = read_measurements(texts_of(values, "measurements"), unit)
    errors = [p for p in problems if p.severity == "error"]
    if errors:
        raise BadInput(errors)
    flat = read_flat(garment, flat_texts.items(), options, unit)
    found = from_flat(garment, flat, options, given=given, unit=unit, sex=sex_of(values),
                      age_months=age_of(values))
    _must_agree(found)
    made = found.sized
    _must_come_out_of(read_cloths(values, unit), made.pattern, unit)
    order = read_order({**values, "from_garment": None, "measurements": {**_texts(made.body.values)},
                        "options": {**options, **{name: _text(value)
                                                  for name, value in made.options.values.items()}}})
    told = tuple(Problem("from_garment", sentence, "warning") for sentence in flat_in_sentences(found, given))
    return replace(order, body=made.body, options=made.options, doubts=(*told, *order.doubts))


def _must_agree(found: FlatGarment) -> None:
    far = {name: mm for name, mm in found.misses.items() if abs(mm) > LARGEST_MISS}
    if far:
        raise BadInput([Problem("from_garment", sentence)
                        for sentence in flat_in_sentences(replace(found, ease={}, misses=far), {})])


def _must_come_out_of(cloths: Cloths | None, pattern: Pattern, unit: Unit) -> None:
    """Raises BadInput where the pieces alone, without their seams, are larger than the cloth there is."""
    cloth = cloths.read.get(MAIN) if cloths else None
    there = cloth.area_on_hand if cloth else None
    asked = sum(piece.outline.area * piece.cut for piece in pattern.pieces if piece.cloth == MAIN)
    if cloth and there is not None and asked > there:
        raise BadInput([Problem(
            "from_garment", f"Measured so, its pieces are {_area(asked, unit)} without their seams, "
            f"and the cloth on hand is {_area(there, unit)}: it cannot be cut from that. Measure the garment "
            "again, or the cloth.")])


def _area(mm2: float, unit: Unit) -> str:
    """source: International yard and pound agreement 1959 for the inch."""
    return f"{mm2 / 25.4**2:,.0f} square inches" if unit == "in" else f"{mm2 / 1e6:.2f} m²"


def _texts(values: Mapping[str, float]) -> dict[str, str]:
    return {name: f"{mm:.4f} mm" for name, mm in values.items()}


def _text(value: float | str | int) -> str:
    return f"{value:.4f} mm" if isinstance(value, float) else as_typed(value, "mm")
