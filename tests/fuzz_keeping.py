"""Nothing lost: merges of kits in all units, and runs killed while they write.

    python -m tests.fuzz_keeping --merges 5000 --kills 40 --seed 1

A merge is wrong when a wearer, a garment, a step done or the meaning of a cloth's length is gone; a kill,
when the files that are there are not all of one run's.
"""

import argparse
import random
import shutil
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from drafting.body.wearer import Wearer
from drafting.cloth.cloth import LENGTHS
from drafting.kit import Kit, KitCloth, KitGarment, KitWearer, merge, read_kit, write_kit
from drafting.words.units import LengthError, parse_length
from tests.hostile.texts import NAMES
from tests.terminal import start

UNITS: Any = ("cm", "in", "mm", "m")
TEXTS = ("60", "60 cm", "1,500", "12½", "36 1/4", "1.125", "about 60", "", "5'4\"", "115\u00a0cm", "1 m 12")
WORN = ("tunic", "hood", "cap", "apron-dress")
CALLED = ("Hild", "Wulf", "Ebba", "👩‍👩‍👧 Runa", "می‌خواهم", *(n for n in NAMES.values() if len(n) < 90))


def made_kit(rng: random.Random) -> Kit:
    people = [
        KitWearer(f"w{i}", Wearer(rng.choice([n for n in CALLED if n.strip() and n.isprintable()]),
                                  {"bust_girth": rng.choice(TEXTS)}, rng.choice(UNITS)))
        for i in range(1, rng.randrange(2, 5))
    ]
    cloths = [
        KitCloth(f"c{i}", {"name": rng.choice(("wool", "linen")),
                           **{name: rng.choice(TEXTS) for name in LENGTHS if rng.random() < 0.6}})
        for i in range(1, rng.randrange(1, 5))
    ]
    garments = [
        KitGarment(f"g{i}", rng.choice(people).id, rng.choice(WORN), {"length": rng.choice(TEXTS)},
                   {"main": rng.choice(cloths).id} if cloths else {},
                   tuple(rng.sample(("s1", "s2", "s3"), rng.randrange(3))))
        for i in range(1, rng.randrange(1, 6))
    ]
    return Kit(unit=rng.choice(UNITS), wearers=tuple(people), cloths=tuple(cloths), garments=tuple(garments))


def meaning(cloth: KitCloth, kit: Kit) -> list[tuple[str, object]]:
    """A cloth's fields, its lengths in mm."""
    found: list[tuple[str, object]] = []
    for name, text in sorted(cloth.texts.items()):
        try:
            found.append((name, round(parse_length(text, kit.unit), 2) if name in LENGTHS else text))
        except LengthError:
            found.append((name, _unread(text)))
    return found


def _unread(text: str) -> str:
    """A text that is no length, with or without a unit written behind it."""
    return next((text.removesuffix(f" {unit}") for unit in UNITS if text.endswith(f" {unit}")), text)


def lost_in(mine: Kit, theirs: Kit) -> str | None:
    """What a merge of the two loses; None where it loses nothing."""
    made = merge(mine, theirs).kit
    if read_kit(write_kit(made)) != made:
        return "it does not come back from its file"
    cloths = {cloth.id: meaning(cloth, made) for cloth in made.cloths}
    for kit in (mine, theirs):
        before = {cloth.id: meaning(cloth, kit) for cloth in kit.cloths}
        if any(cloth not in cloths.values() for cloth in before.values()):
            return "a cloth means something else"
        for one in kit.garments:
            if not any(
                made.wearer(g.wearer) == kit.wearer(one.wearer) and g.garment == one.garment
                and g.options == one.options and set(one.done) <= set(g.done)
                and {part: cloths[c] for part, c in g.cloths.items()}
                == {part: before[c] for part, c in one.cloths.items()}
                for g in made.garments
            ):
                return f"{one.id} is gone or cut from another cloth"
    return None


def merges(seed: int, count: int) -> Iterator[str]:
    """What was lost, a sentence each."""
    for number in range(count):
        rng = random.Random(f"{seed}:{number}")
        mine, theirs = made_kit(rng), made_kit(rng)
        wrong = lost_in(mine, theirs)
        if wrong:
            yield f"merge {number}: {wrong}"


def kills(seed: int, count: int) -> Iterator[str]:
    """Runs that write over an earlier run's files, each killed at some time; what of them was left mixed."""
    rng = random.Random(seed)
    folder = Path(tempfile.mkdtemp())
    try:
        whole = [_written(folder / f"whole {girth}", girth) for girth in (56, 60)]
        for number in range(count):
            out = folder / "out"
            _written(out, 56)
            process = start("draft", "cap", "-m", "head_girth=60", "--out", str(out))
            try:
                process.wait(rng.uniform(0.1, 2.5))
            except Exception:  # noqa: BLE001 - it still runs: that is when it is killed
                process.kill()
            process.communicate()
            if _files(out) not in whole:
                yield f"kill {number}: the files are not one run's"
    finally:
        shutil.rmtree(folder)


def _written(out: Path, girth: int) -> dict[str, bytes]:
    start("draft", "cap", "-m", f"head_girth={girth}", "--out", str(out)).communicate()
    return _files(out)


def _files(out: Path) -> dict[str, bytes]:
    """The two files that are the same at each run; a PDF carries its time."""
    return {name: (out / name).read_bytes() for name in ("pattern.json", "pieces.svg")}


def main() -> int:
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("--merges", type=int, default=500)
    parser.add_argument("--kills", type=int, default=5)
    parser.add_argument("--seed", type=int, default=1)
    given = parser.parse_args()
    wrong = [*merges(given.seed, given.merges), *kills(given.seed, given.kills)]
    print("\n".join(wrong))
    print(f"{given.merges:,} merges and {given.kills:,} kills, {len(wrong)} with a loss")
    return int(bool(wrong))


if __name__ == "__main__":
    sys.exit(main())
