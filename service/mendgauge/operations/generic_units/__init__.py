"""What a price book needs prices for where a shop sends no stock: the answer of `GET /v1/generic-units`."""

from __future__ import annotations

from typing import Final, get_args

from mendgauge.answers.bound_edition import bound_edition
from mendgauge.operations.generic_units.answer import GenericUnit, GenericUnits, PricedConsumable
from mendgauge.operations.quotes.pricing import CHARGED_AS_UNIT
from mendgauge.operations.repair_units.shelf import generic_shelf
from mendgauge.rulebooks import UnknownRulebookError, find_edition
from mendgauge.tyre.tyre_class import TyreClass

__all__ = ["UnknownRulebookError", "list_generic_units"]

_CLASSES: Final[tuple[TyreClass, ...]] = get_args(TyreClass)


def list_generic_units(rulebook: str, tyre_class: TyreClass | None = None) -> GenericUnits:
    """Return the generic sizes and the consumables of an edition, for one class of tyre or for all.

    Raises:
        UnknownRulebookError: No edition answers to the reference.

    >>> list_generic_units("gb@2026.1", "motorcycle").units[0].code
    'generic one-piece 3 x 65 x 35'
    """
    edition = find_edition(rulebook)
    bound = bound_edition(edition, "brief")
    wanted = _CLASSES if tyre_class is None else (tyre_class,)
    used_on = {of: {item.unit for item in generic_shelf(edition, (of,)).items} for of in wanted}
    return GenericUnits(
        rulebook=bound.used,
        units=tuple(
            GenericUnit(
                code=unit.code,
                kind=unit.kind,
                stem_mm=unit.stem_mm,
                stem_length_mm=unit.stem_length_mm,
                patch_mm=unit.patch_mm,
                reinforced=unit.reinforced,
                classes=tuple(of for of in wanted if unit in used_on[of]),
            )
            for unit in (item.unit for item in generic_shelf(edition, wanted).items)
        ),
        consumables=tuple(
            PricedConsumable(
                code=rule.code,
                title=bound.in_language(rule.title),
                unit=rule.unit,
                classes=tuple(of for of in wanted if of in rule.classes),
            )
            for rule in edition.procedure.consumables
            if rule.code != CHARGED_AS_UNIT and set(wanted).intersection(rule.classes)
        ),
    )
