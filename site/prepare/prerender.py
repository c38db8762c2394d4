"""Write into the page what need not wait for a worker: the form, and the example already drafted.

    python prerender.py DIST [MPY_CROSS]

index.html is put together from site/sections, style.css from site/style, and all of app/ becomes two
files: what the page needs before it listens, and the rest. The page's own modules make the HTML, so that
what stands there first is what they would make later. app/catalog.json is what they make it of, less the
drawings of where the tape goes, which are symbols in figures.svg. MicroPython's dicts keep no order: what
has one is a list.
"""

import json
import re
import shutil
import sys
from pathlib import Path
from typing import Any

SITE = Path(__file__).resolve().parent.parent
sys.path[:0] = [str(SITE.parent), str(SITE / "app"), str(SITE.parent / "drafting" / "both")]

import choices  # noqa: E402
import form  # noqa: E402
import results  # noqa: E402
import starting  # noqa: E402
from draft import FormDraft, request_of  # noqa: E402
from drafting.desk.drafts import draft  # noqa: E402
from drafting.desk.order import read_order  # noqa: E402
from drafting.garments import GARMENTS  # noqa: E402
from drafting.pattern import Pattern  # noqa: E402
from drafting.requests import workbench  # noqa: E402
from drafting.sheets.preview import outlines_svg  # noqa: E402
from example import EXAMPLE_MEASUREMENTS, EXAMPLE_WHO  # noqa: E402
from safe import esc  # noqa: E402
from words import words_html  # noqa: E402

_SVG = re.compile(r"<svg ([^>]*viewBox=[^>]*)>(.*)</svg>", re.DOTALL)
_SECTION = re.compile(r"<!-- section: ([a-z-]+) -->\n")
_PLACE = re.compile(r"<!-- build: ([a-z-]+) -->")


def catalogue() -> dict[str, Any]:
    described = workbench.run({"do": "describe"})
    if not described["ok"]:
        raise SystemExit(described["problems"][0]["message"])
    for garment in described["garments"]:
        for option in garment["options"]:
            if option["kind"] == "choice":
                option["choices"] = list(option["choices"].items())
    return {
        "garments": described["garments"],
        "measures": [{"name": name, **rest} for name, rest in described["measures"].items()],
        "papers": described["papers"],
        "sizes": described["sizes"],
        "shrinking": described["shrinking"],
        "dyes": choices.dyes(described["period"]),
    }


def figures(catalog: dict[str, Any]) -> str:
    """The drawings of measures, taken out of the catalogue, and of garments, as symbols of one SVG."""
    drawings = {measure["name"]: measure.pop("figure") for measure in catalog["measures"]}
    drawings |= {f"kind-{name}": outlines_svg(_example(name)) for name in GARMENTS}
    symbols = []
    for name, svg in drawings.items():
        drawn = _SVG.fullmatch(svg)
        if drawn is None:
            raise SystemExit(f"The figure of {name} is no SVG with a viewBox.")
        kept = " ".join(re.findall(r'(?:viewBox|fill|stroke[a-z-]*)="[^"]*"', drawn[1]))
        symbols.append(f'<symbol id="{name}" {kept}>{drawn[2]}</symbol>')
    return f'<svg xmlns="http://www.w3.org/2000/svg">{"".join(symbols)}</svg>'


def _example(garment: str) -> Pattern:
    measurements = {name: EXAMPLE_MEASUREMENTS["cm"][name] for name in GARMENTS[garment].needs}
    return draft(read_order({"garment": garment, "unit": "cm", "measurements": measurements})).pattern


def places(catalog: dict[str, Any]) -> dict[str, str]:
    """What goes where in index.html."""
    garment = catalog["garments"][0]
    asked = [*garment["needs"], *garment["uses"]]
    example = workbench.run(request_of(FormDraft(garment["name"]), asked, garment["needs"]))
    if not example["ok"]:
        raise SystemExit(example["problems"][0]["message"])
    return {
        "needed": form.needed_html(catalog, garment),
        "helpful": form.helpful_html(catalog, garment),
        "ages": form.ages_html(),
        "garments": form.garments_html(catalog),
        "about": form.about_html(garment),
        "options": form.options_html(garment),
        "words": words_html(("lay", "selvedge", "nap", "grain", "warp", "weft", "shrinkage")),
        "papers": form.papers_html(catalog),
        "sizes": form.sizes_html(catalog),
        "sizes-from": esc(workbench.run({"do": "describe"})["sizes_from"]),
        "who": esc(EXAMPLE_WHO),
        "preview": example["preview"],
        "peek": example["preview"],
        "wide": results.wide(example["preview"]),
        "verdict": esc(results.verdict(example)),
        **choices.places(workbench.run({"do": "describe"})["period"]),
        **results.parts(example),
    }


def main(dist: Path, mpy_cross: Path | None = None) -> None:
    catalog = catalogue()
    (dist / "figures.svg").write_text(figures(catalog), encoding="utf-8")
    text = json.dumps(catalog, ensure_ascii=False)
    (dist / "app" / "catalog.json").write_text(text, encoding="utf-8")
    (dist / "style.css").write_text(starting.style(SITE / "style"), encoding="utf-8")
    page = dist / "index.html"
    text = _SECTION.sub(
        lambda place: (SITE / "sections" / f"{place[1]}.html").read_text(encoding="utf-8"),
        page.read_text(encoding="utf-8"),
    )
    made = places(catalog) | {
        "preloads": starting.preloads(dist),
        "page-config": esc(starting.page_config()),
        "worker-config": starting.worker_config(),
    }
    wanted = set(_PLACE.findall(text))
    if wanted != set(made):
        raise SystemExit(f"index.html and prerender.py differ in: {sorted(wanted ^ set(made))}")
    page.write_text(_PLACE.sub(lambda place: made[place[1]], text), encoding="utf-8")
    program, first = starting.program(dist / "app", mpy_cross), starting.needed_first(dist / "app")
    later = {name: program.pop(name) for name in list(program) if comes_later(name, first)}
    shutil.rmtree(dist / "app")
    (dist / starting.PROGRAM).parent.mkdir()
    (dist / starting.PROGRAM).write_bytes(starting.packed(program))
    (dist / starting.LATER).write_text(starting.packed(later).hex(), encoding="ascii")


def comes_later(name: str, first: set[str]) -> bool:
    module, _, kind = name.rpartition(".")
    return kind in ("py", "mpy") and module not in first


if __name__ == "__main__":
    main(*map(Path, sys.argv[1:3]))
