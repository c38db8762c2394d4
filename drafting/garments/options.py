"""The options of a garment: how they are declared, and what was chosen, read by checked names."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from typing import TypeVar

from ..body import Body
from ..words.units import LengthError, Unit, format_length, format_number, parse_length

NOTHING = 0.05
"""mm: less than that is nothing, since no chalk draws it and no curve could be made of it."""

OptionValue = float | str | int


@dataclass(frozen=True, slots=True)
class Chosen:
    """Only where the option of that name is one of these choices."""

    option: str
    choices: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Given:
    """Only where the length of that name is more than nothing."""

    option: str


When = tuple[Chosen | Given, ...]
"""What must all hold for an option to matter; one that does not is not offered."""


@dataclass(frozen=True)
class LengthOption:
    """A length in mm, between `least` and `most`; `default` may depend on the body."""

    name: str
    label: str
    help: str
    default: float | Callable[[Body], float]
    least: float
    most: float
    group: str = "Shape"
    when: When = ()

    def read(self, text: str, unit: Unit) -> float:
        """Raises ValueError with a sentence when the text is no length or out of range."""
        try:
            value = parse_length(text, unit)
        except LengthError as error:
            raise ValueError(f"{self.label}: {error}") from None
        if value < NOTHING:
            value = 0.0
        if not self.least <= value <= self.most:
            raise ValueError(
                f"{self.label} of {format_length(value, unit)} cannot be drafted: "
                f"give {self.range_text(unit)}."
            )
        return value

    def range_text(self, unit: Unit) -> str:
        return f"{format_length(self.least, unit)} to {format_length(self.most, unit)}"

    def default_for(self, body: Body) -> float:
        return self.default(body) if callable(self.default) else self.default


@dataclass(frozen=True)
class ChoiceOption:
    """One of a few named ways; `choices` maps each value to what it is called on the page."""

    name: str
    label: str
    help: str
    default: str
    choices: Mapping[str, str]
    group: str = "Shape"
    when: When = ()

    def read(self, text: str, unit: Unit) -> str:
        """Raises ValueError with a sentence when the text is none of the choices."""
        value = text.strip().lower()
        for choice, title in self.choices.items():
            if value in (choice, title.lower()):
                return choice
        raise ValueError(
            f"{self.label}: “{text.strip()[:40]}” is not one of {', '.join(self.choices)}."
        )

    def default_for(self, body: Body) -> str:
        return self.default


@dataclass(frozen=True)
class CountOption:
    """A whole number between `least` and `most`."""

    name: str
    label: str
    help: str
    default: int
    least: int
    most: int
    group: str = "Shape"
    when: When = ()

    def read(self, text: str, unit: Unit) -> int:
        """Raises ValueError with a sentence when the text is no whole number or out of range."""
        value = text.strip()
        if not (value.isascii() and value.isdigit() and len(value) < 6):
            raise ValueError(f"{self.label}: “{value[:40]}” is not a whole number.")
        if not self.least <= int(value) <= self.most:
            raise ValueError(
                f"{self.label} of {value} cannot be drafted: give {self.least} to {self.most}."
            )
        return int(value)

    def default_for(self, body: Body) -> int:
        return self.default


Option = LengthOption | ChoiceOption | CountOption


def kept(options: Iterable[Option], names: Iterable[str]) -> tuple[Option, ...]:
    """Those of these names, for a garment that has not the others: on them nothing depends any more."""
    names = frozenset(names)
    return tuple(replace(option, when=tuple(when for when in option.when if when.option in names))
                 for option in options if option.name in names)


def as_typed(value: OptionValue, unit: Unit) -> str:
    """An option's value as one would type it."""
    return format_number(value, unit) if isinstance(value, float) else str(value)


Kind = TypeVar("Kind", LengthOption, ChoiceOption, CountOption)
Picked = TypeVar("Picked")


class NoSuchOption(LookupError):
    """A garment's code asks for an option or a choice that the garment does not declare."""


@dataclass(frozen=True)
class Options:
    """What was chosen for one garment, by the names that it declares.

    `options["length"]` is a length, mm. Whoever asks for a name that is not declared, for one of another
    kind, or about a choice that there is not, gets NoSuchOption with a sentence, whatever was chosen.
    """

    declared: Mapping[str, Option]
    values: Mapping[str, OptionValue]

    def __getitem__(self, name: str) -> float:
        self._declared(name, LengthOption)
        return float(self.values[name])

    def count(self, name: str) -> int:
        self._declared(name, CountOption)
        return int(self.values[name])

    def chosen(self, name: str) -> str:
        """The choice, to be named in a sentence or to be looked up by; `is_` compares it."""
        self._declared(name, ChoiceOption)
        return str(self.values[name])

    def is_(self, name: str, *choices: str) -> bool:
        """Whether one of these was chosen."""
        self._must_offer(name, choices)
        return self.values[name] in choices

    def pick(self, name: str, by_choice: Mapping[str, Picked]) -> Picked:
        """What goes with the choice."""
        self._must_offer(name, by_choice)
        if self.values[name] not in by_choice:
            raise NoSuchOption(f"Nothing goes with {name} “{self.values[name]}”.")
        return by_choice[str(self.values[name])]

    def matters(self, name: str) -> bool:
        """Whether an option can change anything, as the others are chosen."""
        if name not in self.declared:
            raise self._unknown(name)
        return all(
            self.is_(w.option, *w.choices) if isinstance(w, Chosen) else self[w.option] > 0
            for w in self.declared[name].when
        )

    def changed(self, name: str, value: OptionValue) -> "Options":
        """The same but for one option."""
        if name not in self.declared:
            raise self._unknown(name)
        if isinstance(self.declared[name], ChoiceOption):
            self._must_offer(name, (str(value),))
        return replace(self, values={**self.values, name: value})

    def _must_offer(self, name: str, choices: Iterable[str]) -> None:
        offered = self._declared(name, ChoiceOption).choices
        for choice in choices:
            if choice not in offered:
                raise NoSuchOption(f"{name} has no choice “{choice}”: there is {', '.join(offered)}.")

    def _declared(self, name: str, kind: type[Kind]) -> Kind:
        option = self.declared.get(name)
        if not isinstance(option, kind):
            raise self._unknown(name, kind)
        return option

    def _unknown(self, name: str, kind: type[Option] | None = None) -> NoSuchOption:
        if name in self.declared and kind:
            return NoSuchOption(f"{name} is a {type(self.declared[name]).__name__}, not a {kind.__name__}.")
        return NoSuchOption(f"There is no option “{name}”: there is {', '.join(self.declared)}.")
