"""What became of a kit's garments, each in a few sentences."""

from collections.abc import Iterator

from ..both.lives import story
from .model import Kit, title_of


def stories(kit: Kit) -> Iterator[str]:
    """“Ebba's tunic: Measured: 2026-10-03. Sewn, 2026-12-06.”, for garments of which more is told."""
    for garment in kit.garments:
        if garment.life or garment.taken_up:
            measured = kit.wearer(garment.wearer).measured or ""
            told = story(garment.as_values(), measured, kit.called)  # type: ignore[no-untyped-call]
            yield f"{kit.called(garment.wearer)}'s {title_of(garment.garment)}: {' '.join(told)}"
