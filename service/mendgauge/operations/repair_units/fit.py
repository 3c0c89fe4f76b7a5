"""Whether a unit fits a channel: one question of the trade after another, each answered yes, no, or not settled.

A unit surely fits when every answer is yes, whatever the unknown facts turn out to be; it may fit while none is no.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from decimal import Decimal
from math import inf
from typing import Literal, TypeAlias

import msgspec

from mendgauge.case.stock import StockUnit
from mendgauge.core.interval import EITHER, NO, YES, Interval, Truth, at_most, point
from mendgauge.operations.repair_units.patch_room import Patch, between, round_patch
from mendgauge.operations.repair_units.requirements import AskedOfUnit, Where


class OnePieceIf(msgspec.Struct, frozen=True):
    """The largest lean, and the thickest crown where a house looks at it, that a one-piece unit is pulled through."""

    lean_deg: float
    crown_mm: float | None


class Miss(msgspec.Struct, frozen=True):
    """A question that a unit fails, or that is not settled.

    `has` and `needs` are what the unit has and what is asked for, `by` is how far it is off in the worst case, all in
    `unit`; where they are words, `unit` is empty. `None` is what nobody said or measured.
    """

    code: str
    answer: Truth
    has: Interval | str | None = ""
    needs: Interval | OnePieceIf | str | None = ""
    by: float | None = None
    unit: str = ""


Cost: TypeAlias = tuple[int, int, int, int, int, Decimal, int]
"""Channels unserved, questions open, pairs where one piece would do, area in thousandths of a mm², pieces without a
price, price, stem length in thousandths of a mm. Whole numbers and decimals, so that sums compare exactly."""


class Item(msgspec.Struct, frozen=True, eq=False):
    """A unit on the shelf as the search sees it, read once; `cost` is what it adds where no question is open."""

    unit: StockUnit
    index: int
    generic: bool
    patch: Patch | None
    price: Decimal | None
    on_hand: float
    cost: Cost


def item(unit: StockUnit, index: int, *, generic: bool) -> Item:
    """Return a unit as it was sent, or a generic size, with the place it has in its list."""
    patch = None
    if unit.kind != "stem":
        if unit.patch_shape == "rectangular":
            patch = Patch(False, (unit.patch_width_mm or 0.0) / 2.0, (unit.patch_length_mm or 0.0) / 2.0)
        else:
            patch = round_patch(unit.patch_mm or 0.0)
    price = None if unit.price is None else Decimal(unit.price)
    area = 0 if patch is None else round(patch.area * 1000.0)
    length = round((unit.stem_length_mm or 0.0) * 1000.0)
    cost = (0, 0, 0, area, int(price is None), price or Decimal(0), length)
    return Item(unit, index, generic, patch, price, inf if unit.on_hand is None else unit.on_hand, cost)


def misses(one: Item, requirements: AskedOfUnit, on: date) -> tuple[Miss, ...]:
    """Return every question that a unit fails for a channel, or that is not settled; what surely fails comes first."""
    return tuple(sorted(_missed(one, requirements, on), key=lambda miss: miss.answer))


def open_questions(one: Item, requirements: AskedOfUnit, on: date) -> tuple[Miss, ...] | None:
    """Return what is not settled of a unit that fits a channel or may; none where it surely does not."""
    found = []
    for miss in _missed(one, requirements, on):
        if miss.answer == NO:
            return None
        found.append(miss)
    return tuple(found)


def _missed(one: Item, requirements: AskedOfUnit, on: date) -> Iterator[Miss]:
    """Yield the questions whose answer is not yes, one after another."""
    unit = one.unit
    if unit.kind == "one_piece" and requirements.one_piece != YES:
        yield Miss("two_piece_needed", requirements.one_piece, needs=_one_piece_if(requirements))
    if unit.stem_mm is not None:
        yield from _stem_diameter(unit.stem_mm, requirements)
        yield from _stem_length(unit, requirements)
    if one.patch is not None:
        yield from _construction(unit, requirements)
        yield from _reinforced(unit, requirements)
        yield from _covers(one.patch, unit, requirements)
        yield from _clear_of_earlier(one.patch, requirements)
    yield from _at_most("largest_injury", requirements.channel, unit.largest_injury_mm, "mm")
    yield from _at_most("largest_lean", requirements.lean, unit.largest_lean_deg, "deg")
    if unit.expires_on is not None and unit.expires_on < on:
        yield Miss("expired", NO, unit.expires_on.isoformat(), by=float((on - unit.expires_on).days), unit="days")
    if one.on_hand < 1.0:
        yield Miss("none_on_hand", NO)


def _at_most(code: str, asked: Interval, most: float | None, unit: str) -> Iterator[Miss]:
    """Yield a miss where a channel exceeds what the unit's maker allows; what he does not limit is not limited."""
    if most is not None and (answer := at_most(asked, most)) != YES:
        yield Miss(code, answer, point(most), asked, asked.high - most, unit)


def _one_piece_if(requirements: AskedOfUnit) -> OnePieceIf:
    return OnePieceIf(requirements.one_piece_to_deg, requirements.one_piece_crown_to_mm)


def _stem_diameter(stem: float, requirements: AskedOfUnit) -> Iterator[Miss]:
    cut, size = requirements.channel, requirements.assumed.nominal(stem)
    if not cut.low <= size <= cut.high:
        yield Miss("stem_diameter", NO, point(stem), cut, max(cut.low - size, size - cut.high), "mm")
    elif not cut.known:
        yield Miss("stem_diameter", EITHER, point(stem), cut, unit="mm")


def stem_length(requirements: AskedOfUnit, unit: StockUnit | None = None) -> tuple[Interval, Interval]:
    """Return the length that a stem needs, and what of it stands proud, by the unit's own instruction if it has one."""
    heights = [proud_height(requirements, where, unit) for where in requirements.emerges]
    proud = Interval(min(heights), max(heights))
    return requirements.length.plus(proud).plus(requirements.grip), proud


def proud_height(requirements: AskedOfUnit, where: Where, unit: StockUnit | None = None) -> float:
    """Return how far proud a stem is left where the channel comes out, before the tread left is looked at, mm."""
    own = own_height(where, unit)
    return requirements.figures.trim[where].proud_mm if own is None else own


def own_height(where: Where | Literal["inside"], unit: StockUnit | None) -> float | None:
    """Return how far proud a unit's own maker has its stem left, mm; none where he does not say."""
    if unit is None or unit.trim is None:
        return None
    trim = unit.trim
    return {"groove": trim.in_groove_mm, "lug": trim.on_lug_mm, "inside": trim.inside_mm}[where]


def _stem_length(unit: StockUnit, requirements: AskedOfUnit) -> Iterator[Miss]:
    needed, _ = stem_length(requirements, unit)
    if unit.stem_length_mm is None:
        yield Miss("stem_length", EITHER, None, needed, unit="mm")
    else:
        yield from _extent("stem_length", unit.stem_length_mm, needed)


def _construction(unit: StockUnit, requirements: AskedOfUnit) -> Iterator[Miss]:
    has = unit.construction
    if (answer := _suits(has, requirements)) != YES:
        yield Miss("construction", answer, has, requirements.carcass)


def _suits(has: str | None, requirements: AskedOfUnit) -> Truth:
    match = requirements.figures.match
    carcasses = match.values() if requirements.carcass is None else (match[requirements.carcass],)
    fits = [has in entry.patches for entry in carcasses]
    if has is None:
        return EITHER
    return YES if all(fits) else EITHER if any(fits) else NO


def _reinforced(unit: StockUnit, requirements: AskedOfUnit) -> Iterator[Miss]:
    if requirements.reinforced == NO or unit.reinforced:
        return
    answer: Truth = NO if requirements.reinforced == YES and unit.reinforced is False else EITHER
    has = "" if unit.reinforced is False else None
    yield Miss("not_reinforced", answer, has, requirements.channel, unit="mm")


def reach_of(unit: StockUnit, requirements: AskedOfUnit) -> Interval:
    """Return how far past the mouth the patch of a unit must reach."""
    if unit.reinforced is None:
        return requirements.reach.hull(requirements.reach_reinforced)
    return requirements.reach_reinforced if unit.reinforced else requirements.reach


def _covers(patch: Patch, unit: StockUnit, requirements: AskedOfUnit) -> Iterator[Miss]:
    past = reach_of(unit, requirements).times(2.0)
    if patch.is_round:
        yield from _extent("patch_too_small", 2.0 * patch.half_across, requirements.mouth_long.plus(past))
        return
    across = _extent("patch_too_small", 2.0 * patch.half_across, requirements.mouth_across.plus(past))
    along = _extent("patch_too_small", 2.0 * patch.half_along, requirements.mouth_along.plus(past))
    missed = [*across, *along]
    if missed:
        yield max(missed, key=lambda miss: (miss.answer == NO, miss.by or 0.0))


def _extent(code: str, has: float, needed: Interval) -> Iterator[Miss]:
    """Yield a miss where an extent is not surely as large as is needed."""
    if has < needed.high:
        yield Miss(code, NO if has < needed.low else EITHER, point(has), needed, needed.high - has, "mm")


def _clear_of_earlier(patch: Patch, requirements: AskedOfUnit) -> Iterator[Miss]:
    """Yield a miss where the patch may meet an earlier repair: by how far at worst, of those that it surely meets."""
    if not requirements.earlier_known:
        yield Miss("meets_earlier_repair", EITHER)
    gap, may_by, surely_by = requirements.gap, 0.0, 0.0
    for one in requirements.earlier_in_the_way:
        too_near = gap.high - between(patch, one.largest, one.sideways.low, one.along.low)
        if too_near > 0.0:
            may_by = max(may_by, too_near)
            if between(patch, one.smallest, one.sideways.high, one.along.high) < gap.low:
                surely_by = max(surely_by, too_near)
    if may_by > 0.0:
        surely = surely_by > 0.0
        yield Miss("meets_earlier_repair", NO if surely else EITHER, by=surely_by if surely else may_by, unit="mm")
