"""A group's own rules: a small file that says what the group shows and what it does not allow.

    {"format": "ellwand-house-rules", "version": 1, "group": "Marram Farm", "years": [850, 950],
     "regions": ["denmark"], "ranks": ["farmer"], "colours": ["brown", "weld"], "fibres": ["wool", "linen"],
     "not_allowed": ["zip", "silk", "wristwatches"], "message": "Ask Hild before you buy cloth."}

Every field after `version` may be left out. What is named in `colours` and the like is all that is
allowed of its kind. Something in `not_allowed` that this project knows is looked for in the choice;
everything else in it is only shown. The rules are the group's: they are told as theirs, never as ours.
"""

import json
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from ..garments import GARMENTS
from ..words.problems import BadInput, Problem
from ..words.reading import read_json
from .choice import Choice
from .dyes import DYES, read_colour
from .findings import best_dye
from .instead import MOST_ALTERNATIVES
from .places import (
    EARLIEST,
    LATEST,
    RANKS,
    REGIONS,
    Years,
    read_rank,
    read_region,
    read_years,
    said_years,
)
from .things import THINGS, Topic, read_thing

FORMAT, VERSION = "ellwand-house-rules", 1
LONGEST_FILE = 20_000
LONGEST_NAME, LONGEST_MESSAGE, MOST_ITEMS = 80, 500, 60
FIELD = "house_rules"

_LISTS = ("regions", "ranks", "colours", "fibres")
_FIELDS = ("format", "version", "group", "years", *_LISTS, "not_allowed", "message")


@dataclass(frozen=True)
class HouseRules:
    """A group's rules. An empty tuple, or None for the years, allows everything of its kind."""

    group: str = ""
    years: Years | None = None
    regions: tuple[str, ...] = ()
    ranks: tuple[str, ...] = ()
    colours: tuple[str, ...] = ()
    fibres: tuple[str, ...] = ()
    not_allowed: tuple[str, ...] = ()
    message: str = ""

    @property
    def name(self) -> str:
        return self.group or "Your group"


@dataclass(frozen=True)
class Ruling:
    """A rule of the group that the choice does not keep; `field` is what would have to change.

    `instead` are values of that field which the group would have, with what each is called.
    """

    field: str
    sentence: str
    instead: tuple[tuple[str, str], ...] = ()


def check(rules: HouseRules, choice: Choice) -> tuple[Ruling, ...]:
    """The rules that the choice does not keep, in the group's name.

    A colour that may mean several dyes keeps the rules when one of them does.
    """
    found = []
    name = rules.name
    first, last = choice.years
    if rules.years and not (rules.years[0] <= first and last <= rules.years[1]):
        shown, chosen = said_years(rules.years), said_years(choice.years)
        text = f"{rules.years[0]}-{rules.years[1]}"
        found.append(Ruling("year", f"{name} shows {shown}, not {chosen}.", ((text, shown),)))
    if rules.regions and choice.region not in rules.regions:
        titles = [REGIONS[region].title for region in rules.regions]
        found.append(Ruling(
            "region", f"{name} shows {_either(titles)}.", _instead(rules.regions, titles)
        ))
    if rules.ranks and choice.rank not in rules.ranks:
        titles = [RANKS[rank].title for rank in rules.ranks]
        found.append(Ruling("rank", f"{name} shows {_either(titles)}.", _instead(rules.ranks, titles)))
    if rules.colours and choice.colours and not set(choice.colours) & set(rules.colours):
        titles = [DYES[colour].title for colour in rules.colours]
        chosen = DYES[best_dye(choice)].title
        found.append(Ruling("colour", f"{name} wears {_either(titles)}, not {chosen}.", _instead(
            rules.colours, titles
        )))
    if rules.fibres and choice.fibre and choice.fibre not in rules.fibres:
        titles = [THINGS["fibre"][fibre].title for fibre in rules.fibres]
        found.append(Ruling(
            "fibre", f"{name} wears {_either(titles)}, not {THINGS['fibre'][choice.fibre].title}.",
            _instead(rules.fibres, titles),
        ))
    for item in rules.not_allowed:
        for field, values in _meant(item).items():
            picked = choice.colours if field == "colour" else (getattr(choice, field),)
            if picked and set(picked) <= values:
                found.append(Ruling(field, f"{name} does not allow {item}."))
    return tuple(dict.fromkeys(found))


def _instead(values: tuple[str, ...], titles: list[str]) -> tuple[tuple[str, str], ...]:
    return tuple(zip(values, titles, strict=True))[:MOST_ALTERNATIVES]


def in_sentences(rules: HouseRules) -> tuple[str, ...]:
    """All that the rules allow and do not, a sentence for each kind."""
    found = []
    if rules.years:
        found.append(f"Years: {said_years(rules.years)}.")
    for title, names, known in (
        ("Lands", rules.regions, REGIONS), ("Ranks", rules.ranks, RANKS), ("Colours", rules.colours, DYES),
        ("Fibres", rules.fibres, THINGS["fibre"]),
    ):
        if names:
            found.append(f"{title}: {', '.join(known[name].title for name in names)}.")
    if rules.not_allowed:
        found.append(f"Not allowed: {', '.join(rules.not_allowed)}.")
    return tuple(found)


def only_shown(rules: HouseRules) -> tuple[str, ...]:
    """What the group does not allow and this project cannot look for."""
    return tuple(item for item in rules.not_allowed if not _meant(item))


def _either(titles: list[str]) -> str:
    return titles[0] if len(titles) == 1 else f"{', '.join(titles[:-1])} or {titles[-1]}"


@lru_cache(maxsize=4 * MOST_ITEMS)
def _meant(item: str) -> Mapping[str, frozenset[str]]:
    """For each field of a choice, the values that something not allowed may mean."""
    named = item.strip().casefold()
    found: dict[str, frozenset[str]] = {
        "garment": frozenset(
            name for name, garment in GARMENTS.items() if named in (name, garment.title.casefold())
        ),
        "colour": frozenset(_tried(read_colour, item)),
    }
    for topic in THINGS:
        found[topic] = frozenset(_tried(_one_of(topic), item)) - {"none"}
    return {field: values for field, values in found.items() if values}


def _one_of(topic: Topic) -> Callable[[str], tuple[str, ...]]:
    return lambda text: (read_thing(topic, text),)


def _tried(reader: Callable[[str], tuple[str, ...]], text: str) -> tuple[str, ...]:
    try:
        return reader(text)
    except BadInput:
        return ()


# --- Reading --------------------------------------------------------------------------------------


def read_house_rules(text: str | bytes) -> HouseRules:
    """The rules in a file's text. Raises BadInput, `house_rules`, with a sentence for all that is wrong."""
    if len(text) > LONGEST_FILE:
        raise _bad(f"This file is {len(text):,} characters long: house rules never need more than "
                   f"{LONGEST_FILE:,}.")
    try:
        if isinstance(text, bytes):
            text = text.decode("utf-8-sig")
        content = read_json(text.removeprefix("\ufeff"), parse_constant=_no_number)
    except UnicodeDecodeError:
        raise _bad("This file is not text in UTF-8: save it again as plain text.") from None
    except json.JSONDecodeError as error:
        raise _bad(f"This file does not read as JSON, line {error.lineno}: {error.msg}.") from None
    except ValueError:
        raise _bad("This file does not read as house rules: it holds something that is no text, no "
                   "year and no list.") from None
    return _rules(content)


def typed_rules(texts: Mapping[str, str]) -> HouseRules:
    """The rules as typed in a form: lists parted by commas, years as in an impression. Raises BadInput, the
    problems under `rules_group` and the like."""
    content: dict[str, Any] = {"format": FORMAT, "version": VERSION}
    problems: list[Problem] = []
    for name in _FIELDS[2:]:
        text = texts.get(name, "").strip()
        if not text:
            continue
        try:
            content[name] = _typed(name, text)
            _rules({"format": FORMAT, "version": VERSION, name: content[name]})
        except BadInput as error:
            problems += [
                Problem(f"rules_{name}", p.message.removeprefix(f"{name}: ")) for p in error.problems
            ]
    if not problems and len(content) == 2:
        problems.append(Problem("rules_group", "House rules that say nothing are none: fill in a field."))
    if problems:
        raise BadInput(problems)
    return _rules(content)


def _typed(name: str, text: str) -> Any:
    if name in ("group", "message"):
        return text
    if name == "years":
        return list(read_years(text))
    return [item.strip() for item in text.split(",") if item.strip()]


def as_typed(rules: HouseRules) -> dict[str, str]:
    """The rules as `typed_rules` takes them."""
    texts = {"group": rules.group, "message": rules.message}
    if rules.years:
        texts["years"] = f"{rules.years[0]}-{rules.years[1]}"
    for name in (*_LISTS, "not_allowed"):
        texts[name] = ", ".join(getattr(rules, name))
    return {name: text for name, text in texts.items() if text}


def _no_number(_: str) -> float:
    raise ValueError


def _bad(sentence: str) -> BadInput:
    return BadInput([Problem(FIELD, sentence)])


def _rules(content: Any) -> HouseRules:
    if not isinstance(content, dict) or content.get("format") != FORMAT:
        raise _bad(f"This is no file of house rules: it must begin with \"format\": \"{FORMAT}\".")
    version = content.get("version")
    if isinstance(version, bool) or version != VERSION:
        raise _bad(f"These house rules are version {str(version)[:12]}; this reads version {VERSION}. "
                   "Update the page while online, or save them again.")
    problems: list[Problem] = []
    for name in content:
        if name not in _FIELDS:
            problems.append(Problem(
                FIELD, f"House rules have no “{clean(str(name), 40)}”: they have {', '.join(_FIELDS[2:])}."
            ))

    def take(name: str, reader: Callable[[str, Any], Any], empty: Any) -> Any:
        value = content.get(name)
        if value is None:
            return empty
        try:
            return reader(name, value)
        except BadInput as error:
            problems.extend(Problem(FIELD, f"{name}: {p.message}") for p in error.problems)
            return empty

    rules = HouseRules(
        group=take("group", _text(LONGEST_NAME), ""),
        years=take("years", _years, None),
        regions=take("regions", _list(lambda text: (read_region(text),)), ()),
        ranks=take("ranks", _list(lambda text: (read_rank(text),)), ()),
        colours=take("colours", _list(read_colour), ()),
        fibres=take("fibres", _list(_one_of("fibre")), ()),
        not_allowed=take("not_allowed", _list(lambda text: (text,)), ()),
        message=take("message", _text(LONGEST_MESSAGE), ""),
    )
    if problems:
        raise BadInput(problems)
    return rules


def clean(text: str, longest: int) -> str:
    """One line without control characters, spaces drawn together, no longer than `longest`."""
    printable = "".join(char if char.isprintable() else " " for char in text[: 4 * longest])
    return " ".join(printable.split())[:longest].strip()


def _text(longest: int) -> Callable[[str, Any], str]:
    def read(name: str, value: Any) -> str:
        if not isinstance(value, str):
            raise _bad("this must be text in quotes.")
        if len(value) > longest:
            raise _bad(f"{len(value)} characters are too many: give {longest} at most.")
        return clean(value, longest)

    return read


def _years(name: str, value: Any) -> Years:
    right = isinstance(value, list) and len(value) == 2 and all(
        isinstance(year, int) and not isinstance(year, bool) and 0 <= year <= 9999 for year in value
    )
    if not right:
        raise _bad(f"give two whole years from {EARLIEST} to {LATEST}, such as [850, 950].")
    return read_years(f"{value[0]}-{value[1]}")


def _list(reader: Callable[[str], tuple[str, ...]]) -> Callable[[str, Any], tuple[str, ...]]:
    def read(name: str, value: Any) -> tuple[str, ...]:
        if not isinstance(value, list) or not all(isinstance(item, str) for item in value):
            raise _bad("this must be a list of texts, such as [\"…\", \"…\"].")
        if len(value) > MOST_ITEMS:
            raise _bad(f"{len(value)} are too many: give {MOST_ITEMS} at most.")
        problems: list[Problem] = []
        found: list[str] = []
        for item in value:
            words = clean(item, LONGEST_NAME)
            try:
                found.extend(reader(words) if words else ())
            except BadInput as error:
                problems.extend(error.problems)
        if problems:
            raise BadInput(problems)
        return tuple(dict.fromkeys(found))

    return read


# --- Writing --------------------------------------------------------------------------------------


def as_json(rules: HouseRules) -> str:
    """The rules as a file that `read_house_rules` reads back the same."""
    content: dict[str, Any] = {"format": FORMAT, "version": VERSION}
    for name in _FIELDS[2:]:
        value = getattr(rules, name)
        if value:
            content[name] = list(value) if isinstance(value, tuple) else value
    return json.dumps(content, ensure_ascii=False, indent=1) + "\n"


_LETTERS: Mapping[str, str] = {
    "g": "group", "y": "years", "r": "regions", "k": "ranks", "c": "colours", "f": "fibres",
    "n": "not_allowed", "m": "message",
}
_ESCAPES = (("_", "__"), ("~", "_t"), (",", "_c"))


def as_link_text(rules: HouseRules) -> str:
    """The rules on one line for a link: `1~gMarram Farm~y850,950~rdenmark,norway~nzip,silk`.

    Parts begin with a letter and are parted by ~; `_t`, `_c` and `__` stand for ~, comma and _ in texts.
    """
    parts = [str(VERSION)]
    for letter, name in _LETTERS.items():
        value = getattr(rules, name)
        if value:
            items = [value] if isinstance(value, str) else [str(item) for item in value]
            parts.append(letter + ",".join(_escape(item) for item in items))
    return "~".join(parts)


def read_link_text(text: str) -> HouseRules:
    """The rules that a link carries. Raises BadInput, `house_rules`."""
    if len(text) > LONGEST_FILE:
        raise _bad("The house rules in this link are longer than any group needs: ask for it again.")
    version, *parts = text.split("~")
    content: dict[str, Any] = {"format": FORMAT, "version": VERSION if version == str(VERSION) else version}
    for part in parts:
        name = _LETTERS.get(part[:1])
        items = [_unescape(item) for item in part[1:].split(",")]
        one = name in ("group", "message")
        if name is None or name in content or (one and len(items) > 1):
            raise _bad("The house rules in this link were damaged on their way: ask for it again.")
        if one:
            content[name] = items[0]
        elif name == "years":
            content[name] = [int(i) if i.isascii() and i.isdigit() and len(i) < 5 else i for i in items]
        else:
            content[name] = items
    return _rules(content)


def _escape(text: str) -> str:
    for plain, escaped in _ESCAPES:
        text = text.replace(plain, escaped)
    return text


def _unescape(text: str) -> str:
    letters = {escaped[1]: plain for plain, escaped in _ESCAPES}
    out, i = [], 0
    while i < len(text):
        if text[i] == "_" and text[i + 1 : i + 2] in letters and i + 1 < len(text):
            out.append(letters[text[i + 1]])
            i += 2
        else:
            out.append(text[i])
            i += 1
    return "".join(out)
