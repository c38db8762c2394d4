"""What tests/bench.py measured last: kept in bench-results.json, shown in bench-results.md, its headlines in
the README.

Each part that is run replaces its own rows there, with the machine and the day it was run on.
"""

import datetime
import json
import os
import platform
from dataclasses import asdict, dataclass
from pathlib import Path
from statistics import median

ROOT = Path(__file__).resolve().parent.parent
FILE = ROOT / "tests" / "bench-results.json"
TABLES = ROOT / "tests" / "bench-results.md"
README = ROOT / "README.md"
BEGIN, END = "<!-- bench: written by tests/bench.py -->\n", "<!-- /bench -->"
HEADLINES = {  # what the README calls it: the part and the row
    "first visit: the page can be used": ("loading", "first visit: page usable"),
    "first visit: the first pattern is drawn": ("loading", "first visit: first pattern"),
    "later visit: the pattern is drawn": ("loading", "later visit: first pattern"),
    "the same with no network": ("loading", "later visit, network off: first pattern"),
    "fetched before the first pattern": ("loading", "first visit: gzip before the first pattern"),
    "memory of a first visit": ("memory", "first visit: memory of the page"),
    "a change typed, drawn": ("redraw", "a change asked for and drawn, warm"),
    "a kit of 30 wearers opened": ("kit", "its file chosen, until it is shown"),
    "10 garments laid in 5 s: cloth": ("lay", "10 garments at 5 s"),
}


@dataclass(frozen=True)
class Row:
    """`values` in `unit`, in the order measured; `ratio` of their median to the yardstick."""

    what: str
    values: list[float]
    unit: str
    ratio: float
    limit: float

    def text(self) -> str:
        verdict = "within" if self.ratio <= self.limit else "OVER"
        spread = f"({min(self.values):,.0f} to {max(self.values):,.0f})" if len(self.values) > 1 else ""
        return (f"{self.what:<46}{median(self.values):>9,.0f} {self.unit:<4}{self.ratio:>7.2f} ×"
                f"   {verdict} {self.limit:g} ×  {spread}")


@dataclass(frozen=True)
class Grid:
    """`lines[name][column]` are the values measured in `units[column]`; all is compared with line `whole`."""

    whole: str
    columns: tuple[str, ...]
    units: tuple[str, ...]
    lines: dict[str, list[list[float]]]

    def table(self) -> list[str]:
        """Medians: of the whole as they are, of every other line what it has more or less."""
        heads = [f"{what}, {unit}" for what, unit in zip(self.columns, self.units, strict=True)]
        out = [f"| | {' | '.join(heads)} |", f"| --- |{' ---: |' * len(heads)}"]
        whole = [median(values) for values in self.lines[self.whole]]
        for name, columns in self.lines.items():
            cells = [f"{value:,.0f}" for value in whole]
            if name != self.whole:
                found = [median(values) for values in columns]
                cells = [f"{got - had:+,.0f} ({got / had - 1:+.0%})"
                         for got, had in zip(found, whole, strict=True)]
            out.append(f"| {name if name == self.whole else 'without: ' + name} | {' | '.join(cells)} |")
        return out


def machine() -> str:
    """The processor, the cores this process may use, and how busy they are."""
    cores = len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count()
    model = platform.processor() or platform.machine()
    cpu = Path("/proc/cpuinfo")
    if cpu.exists():
        named = [line for line in cpu.read_text().splitlines() if line.startswith("model name")]
        model = named[0].split(":", 1)[1].strip() if named else model
    busy = f", load {os.getloadavg()[0]:.0f}" if hasattr(os, "getloadavg") else ""
    return f"{model}, {cores} cores{busy}, {platform.system()}"


def kept() -> dict:
    return json.loads(FILE.read_text(encoding="utf-8")) if FILE.exists() else {}


def keep(part: str, yardstick: str, measured: list[Row] | Grid, on: str) -> None:
    results = kept()
    found = {"yardstick": yardstick, "machine": on, "day": datetime.date.today().isoformat()}
    if isinstance(measured, Grid):
        lines = {name: [[round(v, 1) for v in values] for values in columns]
                 for name, columns in measured.lines.items()}
        found["grid"] = {**asdict(measured), "lines": lines}
    else:
        found["rows"] = [{**asdict(row), "values": [round(v, 1) for v in row.values],
                          "ratio": round(row.ratio, 2)} for row in measured]
    results[part] = found
    FILE.write_text(json.dumps(results, indent=1) + "\n", encoding="utf-8")
    TABLES.write_text(tables(results), encoding="utf-8")
    README.write_text(with_headlines(README.read_text(encoding="utf-8"), results), encoding="utf-8")


def with_headlines(readme: str, results: dict) -> str:
    """The README with the few figures that most want to know brought up to date."""
    before, rest = readme.split(BEGIN)
    return before + BEGIN + headlines(results) + END + rest.split(END, 1)[1]


def headlines(results: dict) -> str:
    out = ["| | median | ratio | 1 × is |", "| --- | ---: | ---: | --- |"]
    for said, (part, what) in HEADLINES.items():
        (row,) = (row for row in results[part]["rows"] if row["what"] == what)
        yardstick = results[part]["yardstick"].split(", ")[0].removeprefix("the renderer process of ")
        out.append(f"| {said} | {_median(row)} | {row['ratio']:.2f} × | {yardstick} |")
    return "\n".join(out) + "\n"


def tables(results: dict) -> str:
    """Everything, as the file that holds nothing else."""
    out = ["# How fast it is", "",
           "Written by tests/bench.py: what one run gave, as ratios to a yardstick on the same machine.", ""]
    for part, found in results.items():
        heading = f"1 × is {found['yardstick']}. {found['machine']}, {found['day']}."
        if "grid" in found:
            grid = Grid(**found["grid"])
            count = len(grid.lines[grid.whole][0])
            out += [f"**{part}**: medians of {count}; {heading}", "", *grid.table(), ""]
            continue
        out += [
            f"**{part}**: medians of {max(len(row['values']) for row in found['rows'])}; {heading}", "",
            "| | median | range | ratio | limit |", "| --- | ---: | ---: | ---: | ---: |",
        ]
        for row in found["rows"]:
            values = row["values"]
            out.append(
                f"| {row['what']} | {_median(row)} | {min(values):,.0f} to "
                f"{max(values):,.0f} | {row['ratio']:.2f} × | {row['limit']:g} × |"
            )
        out.append("")
    return "\n".join(out)


def _median(row: dict) -> str:
    return f"{median(row['values']):,.0f} {row['unit']}".strip()
