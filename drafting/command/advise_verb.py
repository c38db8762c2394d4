"""The command line's verb `advise`: is it right for the time, the place and the rank?"""

import argparse
import json
from pathlib import Path
from textwrap import fill
from typing import Any

from ..cloth.in_the_shop import usual_in_words
from ..desk.order import read_impression
from ..garments import GARMENTS
from ..period.cautions_due import ACTIVITIES
from ..period.places import EARLIEST, LATEST, RANKS, REGIONS
from ..period.telling import advise_in_words
from ..period.things import THINGS
from ..words.problems import BadInput, Problem
from .body_verb import pairs

_MARKS = {"right": "ok", "note": "note", "unknown": "?", "unusual": "unusual", "wrong": "WRONG"}
_WIDTH, _INDENT = 100, 9


def add_advise_verb(verbs: Any) -> None:
    """`advise`: exit status 1 when something is wrong for the time or against the group's rules."""
    parser = verbs.add_parser(
        "advise", help="is it right for the time, the place and the rank?",
        description="Advice with its sources. It forbids nothing: the organiser's own rules come first.",
        epilog=_known(), formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("garment", choices=tuple(GARMENTS))
    parser.add_argument("--year", required=True, metavar="YEAR",
                        help=f"a year or a span such as 900-1000, from {EARLIEST} to {LATEST}")
    parser.add_argument("--region", required=True, help="a land, or a place in it that is well known")
    parser.add_argument("--rank", help=f"{', '.join(RANKS)} (farmer)")
    parser.add_argument("--colour", "--dye", help="a colour or a dye")
    for topic in THINGS:
        parser.add_argument(f"--{topic}")
    parser.add_argument("--wearer", help="woman, man, girl, boy or child")
    parser.add_argument("--age-months", help="a child's age, for the cautions")
    parser.add_argument("-o", "--option", action="append", default=[], metavar="NAME=VALUE",
                        help="an option of the garment; may repeat")
    parser.add_argument("--activity", action="append", default=[], metavar="WHAT",
                        help=f"{', '.join(ACTIVITIES)}: for the cautions; may repeat")
    parser.add_argument("--house-rules", metavar="FILE", help="the group's own rules, as JSON")
    parser.add_argument("--json", action="store_true", help="print everything as JSON")
    parser.set_defaults(act=_advise)


def add_impression_arguments(parser: argparse.ArgumentParser) -> None:
    """The flags that add advice on time, place and rank to a draft's booklet."""
    group = parser.add_argument_group("who is shown", "what of it is right stands in the booklet")
    group.add_argument("--year", help=f"a year or a span such as 900-1000, from {EARLIEST} to {LATEST}")
    group.add_argument("--region", help="a land, or a place in it that is well known")
    group.add_argument("--rank", help=f"{', '.join(RANKS)} (farmer)")
    group.add_argument("--colour", "--dye", help="a colour or a dye")
    group.add_argument("--fibre", help=f"{', '.join(THINGS['fibre'])}; for care and thread as well")
    group.add_argument("--weave", help=", ".join(THINGS["weave"]))
    group.add_argument("--house-rules", metavar="FILE", help="the group's own rules, as JSON")


def impression_texts(given: argparse.Namespace) -> dict[str, str | None]:
    """Those flags as a request gives them. Raises BadInput for a file that cannot be read."""
    return {
        **{name: getattr(given, name)
           for name in ("year", "region", "rank", "colour", "fibre", "weave")},
        "house_rules": file_text(given.house_rules) if given.house_rules else None,
    }


def _known() -> str:
    lines = [f"regions:    {', '.join(REGIONS)}"]
    lines += [f"{topic + ':':11} {', '.join(things)}" for topic, things in THINGS.items()]
    return "\n".join(lines)


def _advise(given: argparse.Namespace) -> int:
    result = advise_in_words(read_impression({
        "garment": given.garment, "year": given.year, "region": given.region,
        "rank": given.rank, "colour": given.colour, "wearer": given.wearer,
        "age_months": given.age_months, "options": pairs(given.option, "-o"),
        "activities": given.activity,
        "house_rules": file_text(given.house_rules) if given.house_rules else None,
        **{topic: getattr(given, topic) for topic in THINGS},
    }))
    if given.json:
        print(json.dumps({"ok": True, **result}, ensure_ascii=False, indent=1))
    else:
        print_advice(result)
    broken = result["house"] and result["house"]["rulings"]
    return 1 if result["worst"] == "wrong" or broken else 0


def file_text(name: str) -> str:
    """Raises BadInput when there is no such file to read, or nothing in it."""
    try:
        text = Path(name).read_text(encoding="utf-8-sig")
    except (OSError, ValueError) as error:
        reason = error.strerror if isinstance(error, OSError) else "it is not text in UTF-8"
        raise BadInput([Problem("house_rules", f"Cannot read {name[:80]}: {reason}.")]) from None
    if not text.strip():
        raise BadInput([Problem("house_rules", f"{name[:80]} is empty: house rules are a small JSON file.")])
    return text


def print_advice(result: dict[str, Any]) -> None:
    """What `advise` answered, in lines; without year and region that is the rules and the cautions."""
    choice = result["choice"]
    if choice:
        print(f"For {choice['rank_title']} in {choice['region_title']}, {choice['years_text']}")
        if choice["fibre"]:
            print(fill(usual_in_words(choice["fibre"], THINGS["fibre"][choice["fibre"]].title), _WIDTH))
    for advice in result["advice"]:
        print(f"\n{_MARKS[advice['severity']]:{_INDENT}}{advice['headline']}")
        _print_ground(advice)
        for ground in advice["more"]:
            _print_ground(ground, f"{ground['title']}. " if ground["title"] else "")
        if advice["alternatives"]:
            _say("Right instead: " + "; ".join(
                f"{a['label']} ({_as_argument(a)})" for a in advice["alternatives"]
            ))
    if result["house"]:
        _print_house(result["house"])
    print("\nMind")
    for caution in result["cautions"]:
        _say(f"{caution['moment'].capitalize()}: {caution['sentence']}")
    print()
    print(fill(result["organiser_first"], _WIDTH))


def _print_ground(ground: dict[str, str], title: str = "") -> None:
    _say(title + ground["sentence"])
    if ground["dispute"]:
        _say(f"But: {ground['dispute']}")
    _say(f"({ground['sure_text']}; {ground['source']})")


def _print_house(house: dict[str, Any]) -> None:
    print(f"\n{house['group']} says")
    for ruling in house["rulings"]:
        _say(ruling["sentence"])
    if house["also_not_allowed"]:
        _say(f"Not allowed either: {', '.join(house['also_not_allowed'])}.")
    if house["message"]:
        _say(house["message"])
    if not (house["rulings"] or house["also_not_allowed"] or house["message"]):
        _say("Nothing against it.")


def _as_argument(alternative: dict[str, str]) -> str:
    field, value = alternative["field"], alternative["value"]
    if field == "garment":
        return value
    return f"-o {field.partition('.')[2]}={value}" if "." in field else f"--{field} {value}"


def _say(sentence: str) -> None:
    print(fill(sentence, _WIDTH, initial_indent=" " * _INDENT, subsequent_indent=" " * _INDENT))
