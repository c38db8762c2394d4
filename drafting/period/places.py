"""Where, when and of what rank: the impression someone wants to give, read from what they typed."""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from difflib import get_close_matches

from ..words.problems import BadInput, Problem

EARLIEST, LATEST = 600, 1100
"""Years of the common era that this project speaks of."""

Years = tuple[int, int]


@dataclass(frozen=True)
class Region:
    """A land; `title` reads after “in”. `aliases` are what else people type for it, in small letters."""

    name: str
    title: str
    groups: tuple[str, ...]
    aliases: tuple[str, ...] = ()


@dataclass(frozen=True)
class Rank:
    """A rank; `title` reads after “for”."""

    name: str
    title: str
    aliases: tuple[str, ...] = ()


_REGIONS = (
    Region("england", "England", ("britain", "west"),
           ("wessex", "mercia", "kent", "northumbria", "london", "winchester", "anglo-saxon england",
            "saxon england", "anglo-saxon", "engla land")),
    Region("danelaw", "the Danelaw", ("britain", "west", "settled"),
           ("york", "jorvik", "jórvík", "lincoln", "east anglia", "five boroughs", "viking england",
            "anglo-scandinavian")),
    Region("wales", "Wales", ("britain", "west"), ("gwynedd", "powys", "dyfed", "cymru")),
    Region("ireland", "Ireland", ("gaels", "west", "settled"),
           ("dublin", "waterford", "leinster", "munster", "ulster", "connacht", "éire", "eire")),
    Region("scotland", "Scotland and the isles", ("gaels", "west", "settled"),
           ("orkney", "shetland", "hebrides", "isle of man", "man", "picts", "pictland", "dalriada",
            "alba", "scotland")),
    Region("norway", "Norway", ("scandinavia", "north"),
           ("norge", "noreg", "oseberg", "kaupang", "vestfold", "trøndelag", "lofoten")),
    Region("denmark", "Denmark", ("scandinavia",),
           ("danmark", "hedeby", "haithabu", "ribe", "jutland", "jelling", "fyn", "zealand", "scania",
            "skåne")),
    Region("sweden", "Sweden", ("scandinavia", "north"),
           ("sverige", "birka", "svealand", "uppland", "gotland", "götaland", "sigtuna")),
    Region("iceland", "Iceland", ("north",),
           ("ísland", "island", "faroes", "faroe islands", "greenland", "north atlantic")),
    Region("low-countries", "Frisia and the Low Countries", ("continent", "west"),
           ("frisia", "friesland", "dorestad", "netherlands", "holland", "flanders", "low countries",
            "frisians")),
    Region("franks", "the Frankish lands", ("continent", "west"),
           ("francia", "france", "frankish lands", "neustria", "austrasia", "aquitaine", "normandy",
            "carolingian", "merovingian", "burgundy", "west francia")),
    Region("germany", "Saxony and Germany", ("continent", "west"),
           ("saxony", "bavaria", "alamannia", "thuringia", "swabia", "east francia", "ottonian",
            "deutschland", "cologne", "mainz")),
    Region("slavs", "the western Slavic lands", ("east",),
           ("poland", "wolin", "bohemia", "moravia", "great moravia", "pomerania", "wends", "obotrites",
            "slavic lands", "slavic", "slavs", "mikulčice", "gniezno")),
    Region("rus", "Rus", ("east",),
           ("kiev", "kyiv", "novgorod", "ladoga", "staraya ladoga", "gnezdovo", "pskov", "kievan rus",
            "garðaríki", "gardariki", "russia", "ukraine", "varangians")),
)
REGIONS: Mapping[str, Region] = {region.name: region for region in _REGIONS}

_RANKS = (
    Rank("poor", "a thrall or the poor",
         ("thrall", "slave", "cottar", "beggar", "unfree", "servant", "theow")),
    Rank("farmer", "a farmer or craftsperson",
         ("craftsperson", "craftsman", "craftswoman", "free", "freeman", "bondi", "bóndi", "ceorl",
          "churl", "smith", "weaver", "fisher", "peasant", "middling", "common")),
    Rank("well-off", "the well-off",
         ("well off", "wealthy", "rich", "merchant", "trader", "thegn", "thane", "landowner", "hersir",
          "warrior", "hirdman", "freeholder")),
    Rank("highest", "the highest",
         ("earl", "jarl", "king", "queen", "noble", "nobility", "royal", "royalty", "count", "duke",
          "chieftain", "ealdorman", "prince", "princess", "elite", "bishop")),
)
RANKS: Mapping[str, Rank] = {rank.name: rank for rank in _RANKS}
ORDINARY = "farmer"
"""The rank taken where none is given. common practice, no source: most people were."""

GROUPS: Mapping[str, frozenset[str]] = {
    group: frozenset(r.name for r in _REGIONS if group in (*r.groups, "everywhere"))
    for group in ("everywhere", *sorted({g for r in _REGIONS for g in r.groups}))
}
"""Names that statements use for several regions at once."""


def read_region(text: str) -> str:
    """The region's name. Raises BadInput naming `region`."""
    return _read(text, "region", {r.name: (r.title, *r.aliases) for r in _REGIONS},
                 [r.title.removeprefix("the ") for r in _REGIONS])


def read_rank(text: str) -> str:
    """The rank's name. Raises BadInput naming `rank`."""
    return _read(text, "rank", {r.name: (r.title, *r.aliases) for r in _RANKS}, list(RANKS))


def _read(
    text: str, field: str, known: Mapping[str, tuple[str, ...]], names: Iterable[str]
) -> str:
    words = plain(text)
    for name, others in known.items():
        if words in (plain(name), *(plain(other) for other in others)):
            return name
    everything = {plain(other): name for name, others in known.items() for other in (name, *others)}
    near = get_close_matches(words, everything, n=1, cutoff=0.75)
    hint = f" Did you mean {near[0]}?" if near else ""
    what = f"“{text.strip()[:40]}” is no {field} that this knows." if words else f"Which {field}?"
    raise BadInput([Problem(field, f"{what}{hint} Give one of: {', '.join(names)}.")])


def plain(text: str) -> str:
    """Small letters, no article, hyphens as spaces: how names that people type are compared."""
    words = text[:200].casefold().replace("-", " ").replace("_", " ").split()
    return " ".join(words[1:] if words[:1] == ["the"] else words)


_CENTURY = re.compile(r"(\d{1,2})(?:st|nd|rd|th)?\s*(?:c|c\.|cent\.?|century)", re.ASCII)
_SPAN = re.compile(r"(\d{3,4})(?:\s*(?:-|–|—|to|until|/)\s*(\d{3,4}))?", re.ASCII)
_AROUND = re.compile(r"^(?:ad|ce|c\.|ca\.?|circa|about|around|year)\s*|\s*(?:ad|ce)$")


def read_years(text: str) -> Years:
    """`980`, `c. 980`, `900-1000`, `900 to 1000`, `10th century`; from and to, both included.

    Raises BadInput naming `year`.
    """
    words = text[:60].strip().casefold()
    while (shorter := _AROUND.sub("", words)) != words:
        words = shorter
    if (match := _CENTURY.fullmatch(words)) and 7 <= int(match[1]) <= 11:
        return int(match[1]) * 100 - 100, int(match[1]) * 100
    match = _SPAN.fullmatch(words)
    if not match:
        given = f"“{text.strip()[:30]}” does not read as a year." if words else "Which year?"
        raise BadInput([Problem("year", f"{given} Give one such as 980, or a span such as 900-1000.")])
    first = int(match[1])
    last = int(match[2]) if match[2] else first
    if first > last:
        raise BadInput([Problem("year", f"{first} to {last} runs backwards: give the earlier year first.")])
    if first < EARLIEST or last > LATEST:
        outside = first if first < EARLIEST else last
        raise BadInput([Problem(
            "year", f"{outside} lies outside what this knows of: give years from {EARLIEST} to {LATEST}."
        )])
    return first, last


def said_years(years: Years) -> str:
    return f"{years[0]}" if years[0] == years[1] else f"{years[0]}–{years[1]}"
