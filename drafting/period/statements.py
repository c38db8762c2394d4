"""What is said of garments, cloth and colours: where, when, for whom, how sure, and who says so.

The statements stand in `statements/*.toml`, which are read when the first advice is asked for. A table
`[[topic.subject]]` holds one statement:

    years = [700, 799]                first and last year
    regions = ["norway", "-iceland"]  regions or groups of them; with a minus, left out again
    ranks, who, garments              whom and what it is about; everyone and everything where left out
    verdict                           right, unusual, wrong; or note, which does not judge
    sure                              sure, likely, disputed; sure only with a source that was looked up
    says                              one short sentence
    source                            keys of sources.toml, `memory:` before those not looked up again;
                                      or common
    dispute                           where others say otherwise
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache
from os.path import dirname, join
from typing import Any, Literal

from ..body.growth import Sex
from ..garments import GARMENTS
from .places import GROUPS, RANKS, REGIONS, Years

Verdict = Literal["right", "unusual", "wrong", "note"]
Sureness = Literal["sure", "likely", "disputed"]

FILES = ("garments", "cloth", "colours", "finishing", "hands_and_feet",
         "finds")
COMMON_PRACTICE = "common practice, no source"
FROM_MEMORY = "from memory: "

_KEYS = frozenset(
    ("years", "regions", "ranks", "who", "garments", "verdict", "sure", "says", "source", "dispute")
)
_EVERYONE: frozenset[Sex] = frozenset(("woman", "man"))


@dataclass(frozen=True, slots=True)
class Statement:
    """One sentence about a subject, and the years, regions, ranks, wearers and garments it holds for.

    `garments` is None where it holds for all of them.
    """

    topic: str
    subject: str
    years: Years
    regions: frozenset[str]
    ranks: frozenset[str]
    who: frozenset[Sex]
    garments: frozenset[str] | None
    verdict: Verdict
    sure: Sureness
    says: str
    source: str
    dispute: str = ""

    @property
    def judges(self) -> bool:
        return self.verdict != "note"


Statements = Mapping[tuple[str, str], tuple[Statement, ...]]


@cache
def statements() -> Statements:
    """Every statement, by topic and subject.

    Raises ValueError naming the statement where a file does not hold what the module docstring says.
    """
    sources = read_table("sources")
    found: dict[tuple[str, str], tuple[Statement, ...]] = {}
    for file in FILES:
        for topic, subjects in read_table(file).items():
            for subject, tables in subjects.items():
                found[topic, subject] = tuple(
                    _statement(topic, subject, table, sources) for table in tables
                )
    return found


def read_table(name: str) -> dict[str, Any]:
    """A file of the folder `statements` as it stands."""
    import tomllib

    with open(join(dirname(__file__), "statements", f"{name}.toml"), "rb") as file:
        return tomllib.load(file)


def _statement(
    topic: str, subject: str, table: dict[str, Any], sources: Mapping[str, str]
) -> Statement:
    where = f"{topic}.{subject}, {str(table.get('says', '?'))[:40]}"
    if not table.keys() <= _KEYS:
        raise ValueError(f"{where}: there is no {', '.join(table.keys() - _KEYS)}")
    unknown = _garments_named(topic, subject, table) - GARMENTS.keys()
    if unknown:
        raise ValueError(f"{where}: there is no garment {', '.join(sorted(unknown))} in the wardrobe")
    if table.get("sure") == "sure" and not _was_seen(table.get("source", "")):
        raise ValueError(f"{where}: nothing is sure on memory or common practice alone")
    try:
        first, last = table["years"]
        return Statement(
            topic, subject, (first, last), _regions(table["regions"]),
            frozenset(table.get("ranks", RANKS)), frozenset(table.get("who", _EVERYONE)),
            frozenset(table["garments"]) if "garments" in table else None,
            table["verdict"], table["sure"], table["says"], _source(table["source"], sources),
            table.get("dispute", ""),
        )
    except (KeyError, TypeError) as error:
        raise ValueError(f"{where}: {error!r} is missing or unknown") from error


def _garments_named(topic: str, subject: str, table: Mapping[str, Any]) -> set[str]:
    about = {"garment": subject, "cut": subject.partition(".")[0]}
    return {*table.get("garments", ()), *([about[topic]] if topic in about else [])}


def _regions(names: Iterable[str]) -> frozenset[str]:
    held: set[str] = set()
    for name in names:
        plain = name.removeprefix("-")
        group = GROUPS[plain] if plain in GROUPS else {REGIONS[plain].name}
        held = held - group if name != plain else held | group
    return frozenset(held)


def _was_seen(keys: str | list[str]) -> bool:
    """Whether a work that was looked up stands behind it."""
    return any(
        key != "common" and not key.startswith("memory:")
        for key in ([keys] if isinstance(keys, str) else keys)
    )


def _source(keys: str | list[str], sources: Mapping[str, str]) -> str:
    """The works in full, those remembered last."""
    known, remembered, practice = [], [], ""
    for key in [keys] if isinstance(keys, str) else keys:
        if key == "common":
            practice = COMMON_PRACTICE
        elif key.startswith("memory:"):
            remembered.append(sources[key.removeprefix("memory:")])
        else:
            known.append(sources[key])
    memory = [FROM_MEMORY + "; ".join(remembered)] if remembered else []
    return "; ".join([*known, *([practice] if practice else []), *memory])
