"""Requests that nobody would think of, thrown at the workbench: `python -m tests.fuzz --help`.

    python -m tests.fuzz --requests 100000 --processes 2 --seed 1

Every request follows from the seed and its number, so `--first N --requests 1` makes one again. An
answer is wrong when the workbench's last resort had to answer, when it is not plain JSON (NaN
included), when a problem is no sentence, or when it took a minute of the processor.
"""

import argparse
import json
import random
import re
import sys
import time
from collections import Counter
from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor
from typing import Any

from drafting.body import MEASURES, complete
from drafting.both.link import write_link
from drafting.desk.takeaway import FILES
from drafting.garments import GARMENTS, ChoiceOption, CountOption
from drafting.garments.garment import Option
from drafting.kit import pack, parts, read_kit
from drafting.kit.marram_farm import VOLUNTEERS
from drafting.period.dyes import DYES
from drafting.period.places import RANKS, REGIONS
from drafting.requests import workbench
from drafting.sheets.page_forms import FORMS
from drafting.sheets.tiled_pdf import PAPERS
from drafting.words.units import format_number
from tests.hostile.documents import KIT, RULES, VALUES, WEARER, places, removed, replaced
from tests.hostile.texts import LENGTHS, NAMES

DOINGS = {
    "draft": 50, "advise": 14, "sew": 8, "file": 8, "lay": 3, "save": 0.2, "describe": 0.5,
    "read-wearer": 6, "write-wearer": 4, "read-house-rules": 5, "qr": 1, "share-kit": 3, "open-link": 5,
    "shop": 0.2, "bolt": 0.2, "bolt-file": 0.2, "shopping-sheet": 1, "read-kit": 4, "write-kit": 4,
    "merge-kits": 4, "demo-kit": 0.2, "sheets": 2, "wear": 0.1, "try-on": 0.5,
    "measuring-sheet": 0.5, "write-house-rules": 3, "season": 0.5, "season-sheet": 0.5,
}
"""What is asked for, and how often in a hundred or so."""

ADULT = complete({"stature": 1660.0}, tuple(MEASURES))
LISTING = {"title": "Marram Farm", "parts": [
    {"title": "Cloth", "to_buy": True, "rows": [["wool", "3.2 m", "for Hild"]], "notes": ["Wash it first."]},
]}
WRITTEN = ("name", "unit", "sex", "born", "measured", "measurements")
UNITS = ("cm", "in", "mm", "m")
TEXTS = (*LENGTHS, *(text for text in NAMES.values() if len(text) < 10_000))
CLOTH = {
    "width": ("150 cm", "60cm", "140", "22 in", "30 cm", "9 m"), "selvedge": ("1 cm", "0", "3 cm"),
    "on_hand": ("3 m", "60 cm", "20 m"), "shrinkage_warp": ("6", "0", "25"), "shrinkage_weft": ("3", "12"),
    "nap": ("yes", "no", "true"), "folded": ("yes", "no"), "weight": ("320", "1"),
    "price": ("24", "22 a yard"), "piecing": ("when-needed", "two-thirds", "half", "from-hand"),
    "fibre": ("wool", "linen", "silk", "cotton"), "weave": ("tabby", "twill"),
    "colour": tuple(DYES), "two_sided": ("yes", "no"), "washed_first": ("yes", "no"), "name": ("wool",),
}


class Maker:
    """Makes requests from one source of chance."""

    def __init__(self, rng: random.Random) -> None:
        self.rng = rng
        self.wild = self.rng.random() < 0.35
        """Whether there may be nonsense in it. A tame request gets further."""

    def request(self, do: str = "") -> Any:
        """A request for `do`, or for anything."""
        rng = self.rng
        do = do or rng.choices(list(DOINGS), list(DOINGS.values()))[0]
        request: dict[str, Any] = {"do": do, "today": "2026-11-25"}
        if do in ("draft", "sew", "file", "lay", "save", "advise", "sheets", "wear", "try-on"):
            request |= self.draft()
        if do == "file":
            request["kind"] = rng.choice(list(FILES))
            request["paper"] = rng.choice(list(PAPERS))
            request["booklet_paper"] = rng.choice(list(FORMS))
        if do in ("lay", "save") or (do == "file" and "lay" in request["kind"]) or rng.random() < 0.15:
            request |= {"cloth": self.cloth(), "seconds": 20}
            request["max_rounds"] = {"main": 3, "lining": 3}
            torn = {} if do == "save" else {"tearable": True}  # what saves on it is searched for by the clock
            request |= rng.choice([{}, {"cloths": {"lining": self.cloth()}}, torn])
        if do == "advise" or rng.random() < 0.1:
            request |= self.impression()
        request |= self.documents(do)
        while self.wild and rng.random() < 0.4:
            request = self.spoil(request)
        return request

    def draft(self) -> dict[str, Any]:
        rng = self.rng
        garment = GARMENTS[rng.choice(list(GARMENTS))]
        who = rng.choice(VOLUNTEERS)
        unit = rng.choice(UNITS)
        measurements = {
            name: text for name, text in who.measurements.items()
            if name in garment.needs or rng.random() < 0.6
        }
        for name in garment.needs:
            measurements.setdefault(name, f"{rng.uniform(10, 180):.1f} cm")
        if rng.random() < 0.5:
            share, jitter = (rng.uniform(0.3, 2.2), 0.1) if self.wild else (rng.uniform(0.75, 1.3), 0.02)
            measurements = {
                name: f"{float(text.split()[0]) * share * rng.uniform(1 - jitter, 1 + jitter):.2f} cm"
                for name, text in measurements.items()
            }
        while self.wild and rng.random() < 0.3:
            measurements[rng.choice(list(MEASURES))] = self.length(1, 2500)
        options = {}
        while rng.random() < 0.75:
            option = rng.choice(garment.options)
            options[option.name] = self.option(option)
        return {
            "garment": garment.name, "measurements": measurements, "options": options, "unit": unit,
            "sex": rng.choice([None, "woman", "man", who.sex]),
            "age_months": rng.choice([None, None, who.age_months, rng.randrange(0, 300)]),
            "name": rng.choice([None, who.name, rng.choice(TEXTS)]),
            **rng.choice([{}, {}, {"born": "2018-08-01", "measured": "2026-10-03"}]),
            **({"born": "2026-12-31"} if self.wild else {}),
            **rng.choice([{}, {}, {"gussets": "last", "stitches": 50, "stitching_seconds": 120}]),
        }

    def length(self, least: float, most: float) -> str:
        if self.wild and self.rng.random() < 0.1:
            return self.rng.choice(TEXTS)
        mm = self.rng.choice([least, most, *(self.rng.uniform(least, most) for _ in range(6))])
        unit = self.rng.choice(UNITS)
        return f"{format_number(mm, unit)} {unit}"

    def option(self, option: Option) -> Any:
        rng = self.rng
        if self.wild and rng.random() < 0.06:
            return rng.choice([*TEXTS, *VALUES])
        if isinstance(option, ChoiceOption):
            return rng.choice(list(option.choices))
        if isinstance(option, CountOption):
            return str(rng.randint(option.least - self.wild, min(option.most, 12) + self.wild))
        usual = option.default_for(ADULT)
        if rng.random() < 0.6 and usual:
            return self.length(max(option.least, 0.7 * usual), min(option.most, 1.5 * usual))
        return self.length(option.least, option.most)

    def cloth(self) -> dict[str, str]:
        rng = self.rng
        cloth = {"width": rng.choice(CLOTH["width"])}
        while rng.random() < 0.6:
            name = rng.choice(list(CLOTH))
            cloth[name] = rng.choice([*CLOTH[name], *([rng.choice(TEXTS)] if self.wild else [])])
        return cloth

    def impression(self) -> dict[str, Any]:
        rng = self.rng
        fields = {
            "year": ("980", "600-700", "10th century", "1100", "850-950", 980),
            "region": tuple(REGIONS), "rank": tuple(RANKS), "colour": tuple(DYES), "fibre": CLOTH["fibre"],
            "weave": CLOTH["weave"], "activities": (["fire"], [], []),
            "house_rules": (json.dumps(RULES), "", ""),
        }
        return {
            name: rng.choice([*values, *([rng.choice(TEXTS)] if self.wild else [])])
            for name, values in fields.items() if not self.wild or rng.random() < 0.7
        }

    def document(self, right: dict[str, Any]) -> str:
        rng = self.rng
        spoiled: Any = right
        while rng.random() < 0.6 and isinstance(spoiled, dict):
            path = rng.choice(list(places(spoiled)))
            chance = rng.random()
            if chance < 0.3 and path:
                spoiled = removed(spoiled, path)
            else:
                spoiled = replaced(spoiled, path, rng.choice([*VALUES, *TEXTS]))
        text = json.dumps(spoiled)
        return text if rng.random() < 0.9 else text[: rng.randrange(len(text) + 1)]

    def documents(self, do: str) -> dict[str, Any]:
        rng = self.rng
        if do == "read-wearer":
            return {"text": self.document(WEARER)}
        if do == "write-wearer":
            try:
                plain = json.loads(self.document({k: v for k, v in WEARER.items() if k in WRITTEN}))
                return {"wearer": plain}
            except ValueError:
                return {"wearer": None}
        if do == "read-house-rules":
            return {"text": self.document(RULES)}
        if do == "write-house-rules":
            typed = {"group": "Marram Farm", "years": "900-1000", "message": "Ask at the gate."}
            return {"rules": {name: rng.choice([text, *TEXTS]) for name, text in typed.items()}}
        if do == "measuring-sheet":
            return {"garments": [rng.choice([*GARMENTS, *TEXTS]) for _ in range(rng.randint(0, 3))],
                    "people": rng.choice([1, 4, *VALUES]), "paper": rng.choice(list(FORMS))}
        if do == "try-on":
            places = rng.sample(["chest", "waist", "length", "sleeve-length", *TEXTS], 2)
            changes = ["+2 cm", "-1 cm", "tight 3 cm", "loose pinch 1.5 cm", *TEXTS]
            return {"fits": [[place, rng.choice(changes)] for place in places if rng.random() < 0.7]}
        if do == "qr":
            return {"link": "https://marram-farm.example/#" + rng.choice([*TEXTS, self.link()])}
        if do == "share-kit":
            return {"kit": self.document(KIT), "names": rng.random() < 0.5}
        if do == "read-kit":
            return {"text": self.document(KIT)}
        if do == "write-kit":
            return {"kit": self.values(KIT)}
        if do == "merge-kits":
            return {"mine": self.values(KIT), "theirs": self.values(KIT)}
        if do == "shop":
            one = {**self.draft(), "cloth": self.cloth()} if rng.random() < 0.7 else {}
            return {**one, **({} if one else {"kit": self.document(KIT)}), "seconds": 0.02}
        if do in ("bolt", "bolt-file"):
            kinds = ("chalk-plan.pdf", "chalk-plan.json", "lay.svg", "lay.json", "booklet.pdf")
            return {"kit": self.document(KIT), "bolt": rng.choice(["brown wool", "linen", *TEXTS]),
                    "kind": rng.choice(kinds), "seconds": 0.02}
        if do == "season":
            dates = ["2027-04-01", "2019-01-01", *TEXTS]
            return {"kit": self.document(KIT), "date": rng.choice(dates), "steps": rng.random() < 0.5}
        if do in ("shopping-sheet", "season-sheet"):
            return {"listing": self.values(LISTING), "paper": rng.choice(list(FORMS))}
        if do == "open-link":
            whole = self.link() if rng.random() < 0.5 else pack(read_kit(json.dumps(KIT)), names=True)
            pieces = parts(whole, rng.choice([200, 400, 800])) if len(whole) > 200 else [whole]
            return {"fragments": [self.scratch(piece) for piece in pieces if rng.random() < 0.95]}
        return {}

    def values(self, right: dict[str, Any]) -> Any:
        """A spoiled document read again; None where it does not read."""
        try:
            return json.loads(self.document(right))
        except ValueError:
            return None

    def link(self) -> str:
        draft = self.draft()
        texts = {key: {k: str(v) for k, v in draft[key].items()} for key in ("measurements", "options")}
        clean = json.loads(json.dumps({**draft, **texts}).encode("utf-8", "replace"))
        try:
            return write_link({k: v for k, v in clean.items() if v is not None and k != "gussets"})
        except (UnicodeEncodeError, TypeError, AttributeError):
            return "apron-dress&v=2"

    def scratch(self, text: str) -> str:
        """The text, now and then with a character lost or another in its place."""
        rng = self.rng
        while text and rng.random() < 0.2:
            at = rng.randrange(len(text))
            text = text[:at] + rng.choice(["", "%", "\0", "&", "x", "\u202e"]) + text[at + 1:]
        return text

    def spoil(self, request: dict[str, Any]) -> dict[str, Any]:
        """The request with something else in one place."""
        rng = self.rng
        found = [p for p in places(request) if p and len(p) <= 2]
        if not found:
            return request
        path = rng.choice(found)
        if path[0] in ("seconds", "max_rounds"):  # or it would search for as long as it may
            return request
        if rng.random() < 0.3:
            return dict(removed(request, path))
        return dict(replaced(request, path, rng.choice([*VALUES, *TEXTS])))


def made(seed: int, number: int) -> Any:
    return Maker(random.Random(f"{seed}:{number}")).request()


def wrong_with(request: Any) -> str | None:
    """What is wrong with the workbench's answer; None when nothing is."""
    began = time.process_time()
    try:
        result = workbench.run(request)
    except BaseException as error:  # noqa: BLE001 - this is what is looked for
        return f"run raised {type(error).__name__}: {error}"
    if time.process_time() - began > LONGEST:
        return "it took more than a minute of the processor"
    try:
        json.dumps({k: v for k, v in result.items() if k != "bytes"}, allow_nan=False)
    except (TypeError, ValueError) as error:
        return f"the answer is not plain JSON: {error}"
    shown = str({k: v for k, v in result.items() if k != "bytes"})
    typed = re.sub(r"\\+u(27e[89])", lambda code: chr(int(code[1], 16)), str(request))  # as JSON may have it
    if set(MARKS.findall(shown)) - set(MARKS.findall(typed)):  # what was typed may look like one
        return "a length is shown as its mark"
    for problem in [] if result["ok"] else result["problems"]:
        if "went wrong" in problem["message"]:
            return str(problem["message"])
        if not problem["message"].strip().endswith((".", "!", "?", ")", "”")):
            return f"no sentence: {problem['message']!r}"
        if len(problem["message"]) > 1500:
            return f"a sentence of {len(problem['message'])} characters"
    if not result["ok"] and not result["problems"]:
        return "refused without a reason"
    return None


LONGEST = 60
MARKS = re.compile(r"⟨\d+\.\d⟩")
Failure = tuple[int, str, str]


def stretch(seed: int, first: int, count: int) -> tuple[Counter[str], list[Failure]]:
    """How often what was done, and the failures (number, what is wrong, the request)."""
    done: Counter[str] = Counter()
    failures = []
    for number in range(first, first + count):
        request = made(seed, number)
        done[str(request.get("do"))[:12]] += 1
        wrong = wrong_with(request)
        if wrong:
            failures.append((number, wrong, repr(request)[:1500]))
    return done, failures


def stretches(seed: int, first: int, count: int, size: int = 250) -> Iterator[tuple[int, int, int]]:
    for start in range(first, first + count, size):
        yield seed, start, min(size, first + count - start)


def main() -> int:
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("--requests", type=int, default=1000)
    parser.add_argument("--first", type=int, default=0)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--processes", type=int, default=1)
    given = parser.parse_args()
    began, total, failures = time.perf_counter(), Counter[str](), 0
    with ProcessPoolExecutor(given.processes) as pool:
        jobs = [pool.submit(stretch, *s) for s in stretches(given.seed, given.first, given.requests)]
        for job in jobs:
            done, found = job.result()
            total += done
            failures += len(found)
            for number, wrong, request in found:
                print(f"request {number}: {wrong}\n    {request}", flush=True)
    seconds = time.perf_counter() - began
    print(f"{total.total():,} requests in {seconds:.0f} s, {failures} wrong answers")
    print(", ".join(f"{do} {count:,}" for do, count in total.most_common(14)))
    return int(failures > 0)


if __name__ == "__main__":
    sys.exit(main())
