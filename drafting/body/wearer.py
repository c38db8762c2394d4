"""A wearer as a small JSON file: whose measurements, when taken, kept as they were typed.

    {"format": "ellwand-wearer", "version": 2, "name": "Ása", "measured": "2026-11-25",
     "unit": "cm", "sex": "woman", "born": "2018-05-02", "measurements": {"bust_girth": "62,5"}}

In place of the date of birth there may be the age in whole months, "age": 102. Everything but
format, version and name may be left out. Texts stay texts: what is typed in a name is shown, never
run. Names this version does not know are refused, not dropped, so that nothing is lost.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any, get_args

from drafting.body.growth import Sex
from drafting.body.measures import MEASURES, closest, label_of
from drafting.both.texts import LONGEST, is_one_line
from drafting.words.problems import BadInput, Problem
from drafting.words.reading import read_json
from drafting.words.units import Unit, quoted

FORMAT = "ellwand-wearer"
VERSION = 2

OLDEST = 1500
"""Months, 125 years."""
LARGEST_FILE = 20_000

_KNOWN = ("format", "version", "name", "measured", "unit", "sex", "born", "age", "measurements")


@dataclass(frozen=True)
class Wearer:
    """A person as measured on one day. `measurements` holds texts as typed, by measure.

    Dates are ISO, such as 2026-11-25; `age` is in whole months, for whose birthday is not said.
    Raises BadInput, naming each field, for what is out of bounds.
    """

    name: str
    measurements: Mapping[str, str] = field(default_factory=dict)
    unit: Unit = "cm"
    measured: str | None = None
    sex: Sex | None = None
    born: str | None = None
    age: int | None = None

    def __post_init__(self) -> None:
        problems = [*_name_problems(self.name), *_measurement_problems(self.measurements)]
        problems += _choice_problems("unit", self.unit, get_args(Unit))
        problems += _choice_problems("sex", self.sex, (None, *get_args(Sex)))
        problems += _date_problems("measured", "The date of measuring", self.measured)
        problems += _date_problems("born", "The date of birth", self.born)
        problems += _age_problems(self.age)
        if problems:
            raise BadInput(problems)

    @property
    def age_months(self) -> int | None:
        """Whole months from birth to measuring, when both dates are known; else the age as said.

        Raises BadInput for a birth after the measuring: such a wearer can be kept, and not drafted for.
        """
        if self.born is None or self.measured is None:
            return self.age
        if self.born > self.measured:
            raise BadInput([Problem(
                "born", f"A date of birth of {self.born} lies after {self.measured}, the day of measuring.",
                also=("measured",),
            )])
        (year, month, day), (then, at, on) = _parts(self.born), _parts(self.measured)
        return (then - year) * 12 + at - month - (on < day)


def write_wearer(wearer: Wearer) -> str:
    """The wearer as JSON text, which `read_wearer` reads back as the same wearer."""
    import json

    content: dict[str, Any] = {"format": FORMAT, "version": VERSION, "name": wearer.name}
    for key in ("measured", "sex", "born", "age"):
        if getattr(wearer, key) is not None:
            content[key] = getattr(wearer, key)
    content["unit"] = wearer.unit
    content["measurements"] = dict(wearer.measurements)
    return json.dumps(content, ensure_ascii=False, indent=1) + "\n"


def read_wearer(text: str | bytes) -> Wearer:
    """The wearer that a file holds.

    Raises BadInput for a file that is cut off, is not ours, comes from a later version or holds
    something out of bounds.
    """
    content = _object(text)
    if content.get("format") != FORMAT:
        raise _bad_file("This file is not a wearer saved by Ellwand.")
    version = content.get("version")
    if type(version) is not int or version < 1:
        raise _bad_file("This wearer's file does not say its version.")
    if version > VERSION:
        raise _bad_file(
            f"This wearer was saved by a later Ellwand (version {str(version)[:12]} of the file; "
            f"this one reads {VERSION}): please update Ellwand, and keep the file."
        )
    if version == 1:
        from drafting.both.migrations import under_the_arms

        content = under_the_arms(content)  # type: ignore[no-untyped-call]
    strange = [key for key in content if key not in _KNOWN]
    if strange:
        raise _bad_file(f"This wearer's file holds {quoted(strange[0])}, which is not known here.")
    fields = {key: content[key] for key in _KNOWN[2:] if content.get(key) is not None}
    if "name" not in fields:
        raise _bad_file("This wearer's file holds no name.")
    return Wearer(**fields)


def _object(text: str | bytes) -> dict[str, Any]:
    if len(text) > LARGEST_FILE:
        raise _bad_file(
            f"This file is too large for a wearer's ({len(text)} bytes; {LARGEST_FILE} would do)."
        )
    try:
        plain = text.decode("utf-8-sig") if isinstance(text, bytes) else text.removeprefix("\ufeff")
        content = read_json(plain)
    except ValueError:
        raise _bad_file(
            "This file does not read: it is cut off, or it is not a wearer saved by Ellwand."
        ) from None
    if not isinstance(content, dict):
        raise _bad_file("This file is not a wearer saved by Ellwand.")
    return content


def _bad_file(sentence: str) -> BadInput:
    return BadInput([Problem("file", sentence)])


def _name_problems(name: object) -> list[Problem]:
    if not isinstance(name, str) or not name.strip():
        return [Problem("name", "A wearer needs a name.")]
    if len(name) > LONGEST:
        return [Problem("name",
            f"The name {quoted(name)} is too long: {LONGEST} letters would do.")]  # fmt: skip
    if not is_one_line(name):  # type: ignore[no-untyped-call]
        return [Problem("name", f"The name {quoted(name)} must be one line of text.")]
    return []


def _measurement_problems(texts: object) -> list[Problem]:
    if not isinstance(texts, Mapping):
        return [Problem("measurements", "The measurements must be texts by name.")]
    problems = []
    for name, text in texts.items():
        if name not in MEASURES:
            near = closest(str(name))
            hint = f": did you mean {near}?" if near else "."
            problems.append(
                Problem(
                    str(name)[:40], f"{quoted(str(name))} is not a measurement known here{hint}"
                )  # fmt: skip
            )
        elif not isinstance(text, str) or not is_one_line(text):  # type: ignore[no-untyped-call]
            problems.append(
                Problem(name, f"{label_of(name)} must be a short line of text, as typed.")
            )
    return problems


def _choice_problems(key: str, value: object, choices: tuple[object, ...]) -> list[Problem]:
    if any(value == choice and type(value) is type(choice) for choice in choices):
        return []
    offered = ", ".join(str(choice) for choice in choices if choice is not None)
    return [Problem(key, f"{quoted(str(value))} is not a {key} known here: choose {offered}.")]


def _age_problems(age: object) -> list[Problem]:
    if age is None or (type(age) is int and 0 <= age <= OLDEST):
        return []
    shown = quoted(str(age))
    return [Problem("age", f"An age of {shown} months does not read: give 0 to {OLDEST}.")]


def _date_problems(key: str, label: str, value: object) -> list[Problem]:
    if value is None or (isinstance(value, str) and is_date(value)):
        return []
    shown = quoted(str(value))
    return [Problem(key, f"{label} {shown} does not read: write it like 2026-11-25.")]


def is_date(text: str) -> bool:
    """Whether the text is a date written like 2026-11-25."""
    from datetime import date

    if len(text) != 10:
        return False
    try:
        return date.fromisoformat(text).isoformat() == text
    except ValueError:
        return False


def _parts(iso: str) -> tuple[int, int, int]:
    return int(iso[:4]), int(iso[5:7]), int(iso[8:10])
