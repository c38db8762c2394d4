"""Every garment on every body of ANSUR II and on made-up children: what fails, and whether advice helps.

    python -m tests.sweep [--every N] [--children N] [GARMENT ...]

Prints, for each garment, how many bodies draft, how many pass every check with the default options, and
for each check that fails how often, and whether one of its remedies puts it right.
"""

import argparse
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field

from drafting.body import Body, complete
from drafting.checks.truing import Check, true_up
from drafting.garments import GARMENTS, Garment
from drafting.garments.garment import read_options
from drafting.words.problems import BadInput
from tests.bodies.made_up import made_up_children
from tests.bodies.survey import ansur_bodies


@dataclass
class Outcome:
    """How a garment fared over some bodies."""

    bodies: int = 0
    passed: int = 0
    refused: list[str] = field(default_factory=list)
    failed: Counter[str] = field(default_factory=Counter)
    not_mended: list[str] = field(default_factory=list)

    @property
    def share(self) -> float:
        """Part of the bodies that pass with default options."""
        return self.passed / self.bodies


def survey_bodies(garment: Garment, every: int = 1) -> Iterator[Body]:
    for one in ansur_bodies()[::every]:
        yield complete(one.values, garment.needs + garment.uses, sex=one.sex)


def children(garment: Garment, count: int) -> Iterator[Body]:
    for child in made_up_children(count):
        yield complete(child.values, garment.needs + garment.uses, age_months=child.age_months)


def sweep(garment: Garment, bodies: Iterable[Body]) -> Outcome:
    """Drafts the garment on each body; takes the advice of each check that fails."""
    outcome = Outcome()
    for body in bodies:
        outcome.bodies += 1
        try:
            checks = true_up(garment.draft(body, read_options(garment, {}, body)))
        except BadInput as refusal:
            outcome.refused.append(f"{refusal} {dict(body.values)}")
            continue
        failed = [check for check in checks if not check.passed]
        outcome.passed += not failed
        for check in failed:
            outcome.failed[check.name] += 1
            if not mended(garment, body, check):
                outcome.not_mended.append(f"{check.name}: {check.advice} {dict(body.values)}")
    return outcome


def mended(garment: Garment, body: Body, check: Check, options: Mapping[str, str] | None = None) -> bool:
    """Whether any remedy of the check, taken, lets it pass."""
    for remedy in check.remedies:
        changed = {**(options or {}), remedy.option: remedy.value}
        try:
            checks = true_up(garment.draft(body, read_options(garment, changed, body)))
        except BadInput:
            continue
        if all(c.passed for c in checks if c.name == check.name):
            return True
    return False


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("garments", nargs="*", default=list(GARMENTS))
    parser.add_argument("--every", type=int, default=1, help="take every Nth adult (1)")
    parser.add_argument("--children", type=int, default=2000, help="how many made-up children (2000)")
    given = parser.parse_args()
    for name in given.garments:
        garment = GARMENTS[name]
        for kind, bodies in (("adults", survey_bodies(garment, given.every)),
                             ("children", children(garment, given.children))):
            found = sweep(garment, bodies)
            print(f"{name:12} {kind:9} {found.bodies:5} bodies, {100 * found.share:6.2f} % pass; "
                  f"{len(found.refused)} refused, {len(found.not_mended)} not mended by advice")
            for check, count in found.failed.most_common():
                print(f"    fails {count:5} × {check}")
            for line in (*found.refused[:3], *found.not_mended[:3]):
                print(f"    {line[:400]}")


if __name__ == "__main__":
    main()
