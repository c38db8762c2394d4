"""The advice, the group's own rules and the cautions as plain values, and what can be chosen."""

import json
from collections.abc import Mapping
from typing import Any

from ..words.problems import BadInput, Problem
from .advice import ORGANISER_FIRST, Advice, Ground, worst
from .cautions_due import ACTIVITIES
from .choice import Choice
from .counsel import counsel, read_rules
from .dyes import COSTS, COSTS_FROM, DEPTHS, DYES, PATTERNS, TONES_FROM, Dye, chalked
from .findings import best_dye
from .house_rules import (
    HouseRules,
    Ruling,
    as_json,
    as_link_text,
    as_typed,
    in_sentences,
    only_shown,
    typed_rules,
)
from .impression import Impression
from .places import EARLIEST, LATEST, RANKS, REGIONS, said_years
from .statements import Sureness
from .things import THINGS

SURENESS: Mapping[Sureness, str] = {
    "sure": "well attested", "likely": "likely", "disputed": "disputed, or a guess",
}


def advise_in_words(asked: Impression, *, forgiving: bool = False) -> dict[str, Any]:
    """What `counsel` says, as plain values; `choice` and `worst` are None without year and region.

    What does not read is told as `problems`. Raises BadInput instead unless it is `forgiving`.
    """
    found = counsel(asked)
    if found.problems and not forgiving:
        raise BadInput(found.problems)
    return {
        "choice": _as_read(found.choice) if found.placed else None,
        "dye": _dye_of(found.choice),
        "organiser_first": ORGANISER_FIRST,
        "worst": worst(found.advice) if found.placed else None,
        "advice": [_advice(a) for a in found.advice],
        "house": _house(found.house, found.rulings) if found.house else None,
        "cautions": [{"moment": c.moment, "sentence": c.sentence} for c in found.cautions],
        "problems": [{"field": p.field, "message": p.message} for p in found.problems],
    }


def house_rules_in_words(text: str) -> dict[str, Any]:
    """A file's or a link's rules: what they say, and what an impression can take from them.

    `fills` holds the years, and the region and the rank where there is one only; `values` is what the
    file holds. Raises BadInput.
    """
    rules = read_rules(text)
    if rules is None:
        raise BadInput([Problem("house_rules", "This file is empty: house rules are a small JSON file.")])
    fills = {
        "year": said_years(rules.years).replace("–", "-") if rules.years else "",
        "region": rules.regions[0] if len(rules.regions) == 1 else "",
        "rank": rules.ranks[0] if len(rules.ranks) == 1 else "",
    }
    return {
        **_house(rules, ()),
        "values": json.loads(as_json(rules)), "typed": as_typed(rules),
        "fills": {name: value for name, value in fills.items() if value},
    }


def house_rules_written(texts: Mapping[str, str]) -> dict[str, Any]:
    """Rules as typed in a form, told as `house_rules_in_words` tells them, and as a file. Raises BadInput."""
    text = as_json(typed_rules(texts))
    return {**house_rules_in_words(text), "text": text, "type": "application/json",
            "name": "house-rules.json"}


def _dye_of(choice: Choice) -> str | None:
    return best_dye(choice) if choice.colours else None


def _as_read(choice: Choice) -> dict[str, Any]:
    return {
        "garment": choice.garment, "years": list(choice.years), "years_text": said_years(choice.years),
        "region": choice.region, "region_title": REGIONS[choice.region].title,
        "rank": choice.rank, "rank_title": RANKS[choice.rank].title,
        "wearer": choice.wearer, "child": choice.child, "dye": _dye_of(choice),
        **{topic: choice.thing(topic) for topic in THINGS},
    }


def _advice(advice: Advice) -> dict[str, Any]:
    return {
        "topic": advice.topic, "field": advice.field, "subject": advice.subject, "title": advice.title,
        "severity": advice.severity, "years": list(advice.years), "headline": advice.headline,
        **_ground(advice.ground),
        "more": [{**_ground(g), "title": g.title} for g in advice.more],
        "alternatives": [
            {"field": a.field, "value": a.value, "label": a.label} for a in advice.alternatives
        ],
    }


def _ground(ground: Ground) -> dict[str, str]:
    return {
        "sentence": ground.says, "sure": ground.sure, "sure_text": SURENESS[ground.sure],
        "source": ground.source, "dispute": ground.dispute,
    }


def _house(rules: HouseRules, rulings: tuple[Ruling, ...]) -> dict[str, Any]:
    return {
        "group": rules.name, "message": rules.message, "link_text": as_link_text(rules),
        "shows": list(in_sentences(rules)),
        "rulings": [
            {"field": r.field, "sentence": r.sentence, "alternatives": [
                {"field": r.field, "value": value, "label": label[:1].upper() + label[1:]}
                for value, label in r.instead
            ]}
            for r in rulings
        ],
        "also_not_allowed": list(only_shown(rules)),
    }


def describe_period() -> dict[str, Any]:
    """What can be chosen, for whoever builds a form."""
    return {
        "years": [EARLIEST, LATEST],
        "organiser_first": ORGANISER_FIRST,
        "regions": [{"name": r.name, "title": r.title} for r in REGIONS.values()],
        "ranks": [{"name": r.name, "title": r.title} for r in RANKS.values()],
        "choices": {
            topic: [{"name": t.name, "title": t.title} for t in things.values()]
            for topic, things in THINGS.items()
        },
        "activities": [{"name": name, "title": title} for name, title in ACTIVITIES.items()],
        "dyes": [_dye(dye) for dye in DYES.values()],
        "tones_from": TONES_FROM,
        "costs_from": COSTS_FROM,
    }


def _dye(dye: Dye) -> dict[str, Any]:
    return {
        "name": dye.name, "title": dye.title, "made_of": dye.made_of, "cost": COSTS[dye.cost],
        "pattern": {"name": dye.pattern, "path": PATTERNS[dye.pattern]},
        "tones": {
            fibre: [
                {"depth": depth, "cloth": t.cloth, "chalk": t.chalk, "contrast": round(t.contrast, 1)}
                for depth, t in zip(DEPTHS, map(chalked, tones), strict=True)
            ]
            for fibre in ("wool", "linen") if (tones := dye.tones(fibre)) is not None
        },
    }
