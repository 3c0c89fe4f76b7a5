"""The units there are to choose from: the caller's own, or the generic sizes of the rulebook."""

from __future__ import annotations

from functools import lru_cache
from itertools import product

import msgspec

from mendgauge.intake import Intake
from mendgauge.rulebooks import Edition
from mendgauge.rulebooks.unit_provisions import GenericUnits
from mendgauge.stock import StockUnit
from mendgauge.unit_fit import Item, item
from mendgauge.vehicle_class import TyreClass


class Shelf(msgspec.Struct, frozen=True, eq=False):
    """What there is to choose from."""

    items: tuple[Item, ...]
    generic: bool


def shelf_for(intake: Intake) -> Shelf:
    """The caller's stock where he sent any, an empty one too; else the generic sizes for what the tyre may be."""
    stock = intake.case.stock
    if stock is not None:
        return Shelf(tuple(item(unit, index, generic=False) for index, unit in enumerate(stock)), generic=False)
    return generic_shelf(intake.edition, tuple(dict.fromkeys(use.tyre_class for use in intake.uses)))


@lru_cache(maxsize=256)
def generic_shelf(edition: Edition, classes: tuple[TyreClass, ...]) -> Shelf:
    """The generic sizes for some classes of tyre."""
    provisions = (entry for entry in edition.workshop.generic_units if not set(classes).isdisjoint(entry.classes))
    units = {unit.code: unit for entry in provisions for unit in _sizes(entry)}
    return Shelf(tuple(item(unit, index, generic=True) for index, unit in enumerate(units.values())), generic=True)


def _sizes(entry: GenericUnits) -> list[StockUnit]:
    """Every size that a provision names, called by its measures."""
    # Left out of a kind are the measures it does not have: each stands for itself once.
    found = []
    for stem, length, patch in product(
        entry.stems_mm or (None,), entry.stem_lengths_mm or (None,), entry.patches_mm or (None,)
    ):
        measures = [f"{measure:g}" for measure in (stem, length, patch) if measure is not None]
        name = " ".join(("generic", *(("reinforced",) if entry.reinforced else ()), entry.kind.replace("_", "-")))
        found.append(
            StockUnit(
                code=f"{name} {' x '.join(measures)}",
                kind=entry.kind,
                stem_mm=stem,
                stem_length_mm=length,
                patch_mm=patch,
                construction=None if patch is None else "either",
                reinforced=None if patch is None else entry.reinforced,
            )
        )
    return found
