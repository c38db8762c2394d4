"""The orders that a kit's garments are, each from its own wearer and cloths."""

from collections.abc import Mapping
from dataclasses import replace
from typing import TYPE_CHECKING

from ..body import Body, Wearer
from ..desk.order import MAIN, Cloths, Order, cloths_from, garment_named, read_body, read_order_fits
from ..garments import Garment, read_options
from ..period.impression import Impression
from ..words.problems import Problem
from .model import Kit, KitGarment

if TYPE_CHECKING:
    from ..life.fits import Fit


def body_of(owner: Wearer, kind: Garment) -> tuple[Body, tuple[Problem, ...]]:
    """A wearer's body with all that a garment needs, and doubts about it. Raises BadInput."""
    return read_body(kind, owner.measurements, owner.unit, owner.sex, owner.age_months)


def order_of(kit: Kit, garment: KitGarment) -> Order:
    """One garment of the kit. Raises BadInput, as `read_order` does.

    A part for which no cloth was chosen is cut from the usual one, so that its pieces are drafted for
    the bolt that they are laid on.
    """
    owner = kit.wearer(garment.wearer)
    start = next(entry.start for entry in kit.wearers if entry.id == garment.wearer)
    kind = garment_named(garment.garment)
    body, doubts = body_of(owner, kind)
    texts = {part: kit.cloth(cloth_id).texts for part, cloth_id in garment.cloths.items()}
    main = texts.get(MAIN, {})
    return Order(
        garment=kind,
        body=body,
        options=read_options(kind, garment.options, body, owner.unit),
        cloths=_naming(cloths_from(texts, kit.unit), texts),
        impression=Impression(garment=kind.name, fibre=main.get("fibre", "")),
        unit=owner.unit,
        name=owner.name,
        measured=owner.measured,
        start=start,
        doubts=doubts,
        taken_up=read_order_fits(garment.taken_up, owner.unit),
    )


def altered_fits(kit: Kit, garment: KitGarment) -> "tuple[Fit, ...]":
    """What was done on the garment's own cloth since it was cut. Raises BadInput."""
    texts = [pair for event in garment.life if event.what == "altered" for pair in event.fits.items()]
    return read_order_fits(texts, kit.wearer(garment.wearer).unit)


def _naming(cloths: Cloths, texts: Mapping[str, Mapping[str, str]]) -> Cloths:
    """What is wrong with a cloth begins with its name: a kit has many."""
    unread = {
        part: tuple(replace(p, message=f"{name}: {p.message}") for p in problems)
        if (name := texts[part].get("name")) else problems
        for part, problems in cloths.unread.items()
    }
    return replace(cloths, unread=unread)
