"""The units there are to choose from: the caller's own, or the generic sizes of the rulebook."""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache
from itertools import chain, product

import msgspec

from mendgauge.case.stock import StockUnit
from mendgauge.operations.repair_units.fit import Item, item
from mendgauge.operations.workup import Workup, part
from mendgauge.rulebooks import Edition
from mendgauge.rulebooks.resolver import provisions_by_topic
from mendgauge.rulebooks.schema.units import GenericUnits
from mendgauge.tyre.tyre_class import TyreClass


class Shelf(msgspec.Struct, frozen=True, eq=False):
    """What there is to choose from, in the order of its list and by kind."""

    items: tuple[Item, ...]
    generic: bool
    one_piece: tuple[Item, ...]
    stems: tuple[Item, ...]
    patches: tuple[Item, ...]


@part
def shelf_of(workup: Workup) -> Shelf:
    """Return the caller's stock where the case has one, even empty; else the generic sizes for what the tyre may be."""
    stock = workup.case.stock
    if stock is not None:
        return _shelf(stock, generic=False)
    return generic_shelf(workup.edition, tuple(dict.fromkeys(use.tyre_class for use in workup.uses)))


@lru_cache(maxsize=256)
def generic_shelf(edition: Edition, classes: tuple[TyreClass, ...]) -> Shelf:
    """Return the generic sizes for some classes of tyre."""
    of_classes = [provisions_by_topic(edition, "generic_units", of).values() for of in classes]
    provisions = sorted(dict.fromkeys(chain(*of_classes)), key=edition.workshop.generic_units.index)
    units = {unit.code: unit for entry in provisions for unit in _sizes(entry)}
    return _shelf(units.values(), generic=True)


def _shelf(units: Iterable[StockUnit], *, generic: bool) -> Shelf:
    items = tuple([item(unit, index, generic=generic) for index, unit in enumerate(units)])
    one_piece, stems, patches = (
        tuple([one for one in items if one.unit.kind == kind]) for kind in ("one_piece", "stem", "patch")
    )
    return Shelf(items, generic, one_piece, stems, patches)


def _sizes(entry: GenericUnits) -> list[StockUnit]:
    """Return every size that a provision names, called by its measures."""
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
