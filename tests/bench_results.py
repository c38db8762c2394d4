"""What tests/bench.py measured last, kept in bench-results.json and quoted by the README.

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
README = ROOT / "README.md"
BEGIN, END = "<!-- bench: written by tests/bench.py -->\n", "<!-- /bench -->"


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


def keep(part: str, yardstick: str, rows: list[Row], on: str) -> None:
    results = kept()
    results[part] = {
        "yardstick": yardstick, "machine": on, "day": datetime.date.today().isoformat(),
        "rows": [{**asdict(row), "values": [round(v, 1) for v in row.values],
                  "ratio": round(row.ratio, 2)} for row in rows],
    }
    FILE.write_text(json.dumps(results, indent=1) + "\n", encoding="utf-8")
    README.write_text(with_table(README.read_text(encoding="utf-8"), results), encoding="utf-8")


def with_table(readme: str, results: dict) -> str:
    """The README with its table of results brought up to date."""
    before, rest = readme.split(BEGIN)
    return before + BEGIN + table(results) + END + rest.split(END, 1)[1]


def table(results: dict) -> str:
    out = []
    for part, found in results.items():
        out += [
            f"**{part}**: medians of {max(len(row['values']) for row in found['rows'])}; 1 × is "
            f"{found['yardstick']}. {found['machine']}, {found['day']}.", "",
            "| | median | range | ratio | limit |", "| --- | ---: | ---: | ---: | ---: |",
        ]
        for row in found["rows"]:
            values = row["values"]
            out.append(
                f"| {row['what']} | {median(values):,.0f} {row['unit']} | {min(values):,.0f} to "
                f"{max(values):,.0f} | {row['ratio']:.2f} × | {row['limit']:g} × |"
            )
        out.append("")
    return "\n".join(out)
