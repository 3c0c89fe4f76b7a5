"""The units there are to choose from: the caller's own, or the generic sizes of the rulebook."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import lru_cache
from itertools import chain, product
from math import ceil
from operator import attrgetter

import msgspec

from mendgauge.case.stock import StockUnit, UnitKind
from mendgauge.core.interval import NO
from mendgauge.operations.repair_units.fit import Item, item, stem_length
from mendgauge.operations.repair_units.requirements import AskedOfUnit
from mendgauge.operations.workup import Workup, part
from mendgauge.rulebooks import Edition
from mendgauge.rulebooks.resolver import provisions_by_topic
from mendgauge.rulebooks.schema.units import GenericUnits
from mendgauge.tyre.tyre_class import TyreClass


class Shelf(msgspec.Struct, frozen=True, eq=False):
    """What there is to choose from, in the order of its list and by kind.

    `nominal` are the generic sizes that every case has to choose from, and nothing else.
    """

    items: tuple[Item, ...]
    generic: bool
    nominal: bool
    one_piece: tuple[Item, ...]
    stems: tuple[Item, ...]
    patches: tuple[Item, ...]


@part
def shelf_of(workup: Workup) -> Shelf:
    """Return the caller's stock where the case has one, even empty; else the generic sizes for what the tyre may be."""
    stock = workup.case.stock
    if stock is not None:
        return _shelf(stock, generic=False)
    return generic_shelf_of(workup)


def generic_shelf_of(workup: Workup) -> Shelf:
    """Return the generic sizes for what the tyre may be in use as."""
    return generic_shelf(workup.edition, tuple(dict.fromkeys(use.tyre_class for use in workup.uses)))


@lru_cache(maxsize=256)
def generic_shelf(edition: Edition, classes: tuple[TyreClass, ...]) -> Shelf:
    """Return the generic sizes for some classes of tyre."""
    of_classes = [provisions_by_topic(edition, "generic_units", of).values() for of in classes]
    provisions = sorted(dict.fromkeys(chain(*of_classes)), key=edition.workshop.generic_units.index)
    units = {unit.code: unit for entry in provisions for unit in _sizes(entry)}
    return _shelf(units.values(), generic=True, nominal=True)


def with_made_to_measure(shelf: Shelf, needs: Iterable[AskedOfUnit]) -> Shelf:
    """Return generic sizes with those that exactly meet what some channels need, for want of a nominal size."""
    made = {unit.code: unit for requirements in needs for unit in _made_to_measure(requirements)}
    items = (*shelf.items, *[item(unit, len(shelf.items) + at, generic=True) for at, unit in enumerate(made.values())])
    return _shelf_of(items, generic=True)


def first_units(shelf: Shelf, most: int) -> Shelf:
    """Return the first units of each kind in the order of the list, of each kind its share of so many."""
    if len(shelf.items) <= most:
        return shelf
    one_piece, stems, patches = (
        kind[: ceil(len(kind) * most / len(shelf.items))] for kind in (shelf.one_piece, shelf.stems, shelf.patches)
    )
    items = sorted((*one_piece, *stems, *patches), key=attrgetter("index"))
    return Shelf(tuple(items), shelf.generic, shelf.nominal, one_piece, stems, patches)


def _made_to_measure(requirements: AskedOfUnit) -> Iterator[StockUnit]:
    stem, length = requirements.channel.high, ceil(stem_length(requirements)[0].high)
    reinforced = requirements.reinforced != NO
    reach = requirements.reach_reinforced if reinforced else requirements.reach
    patch = requirements.mouth_long.high + 2.0 * reach.high
    if requirements.one_piece != NO:
        yield _generic("one_piece", reinforced, stem, length, patch)
    yield _generic("stem", None, stem, length, None)
    yield _generic("patch", reinforced, None, None, patch)


def _shelf(units: Iterable[StockUnit], *, generic: bool, nominal: bool = False) -> Shelf:
    items = tuple([item(unit, index, generic=generic) for index, unit in enumerate(units)])
    return _shelf_of(items, generic=generic, nominal=nominal)


def _shelf_of(items: tuple[Item, ...], *, generic: bool, nominal: bool = False) -> Shelf:
    one_piece, stems, patches = (
        tuple([one for one in items if one.unit.kind == kind]) for kind in ("one_piece", "stem", "patch")
    )
    return Shelf(items, generic, nominal, one_piece, stems, patches)


def _sizes(entry: GenericUnits) -> list[StockUnit]:
    """Return every size that a provision names, called by its measures."""
    # Left out of a kind are the measures it does not have: each stands for itself once.
    return [
        _generic(entry.kind, entry.reinforced, stem, length, patch)
        for stem, length, patch in product(
            entry.stems_mm or (None,), entry.stem_lengths_mm or (None,), entry.patches_mm or (None,)
        )
    ]


def _generic(
    kind: UnitKind, reinforced: bool | None, stem: float | None, length: float | None, patch: float | None
) -> StockUnit:
    measures = [f"{measure:g}" for measure in (stem, length, patch) if measure is not None]
    name = " ".join(("generic", *(("reinforced",) if reinforced else ()), kind.replace("_", "-")))
    return StockUnit(
        code=f"{name} {' x '.join(measures)}",
        kind=kind,
        stem_mm=stem,
        stem_length_mm=length,
        patch_mm=patch,
        construction=None if patch is None else "either",
        reinforced=None if patch is None else bool(reinforced),
    )
