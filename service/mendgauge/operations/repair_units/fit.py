"""Whether a unit fits a channel: one question of the trade after another, each answered yes, no, or not settled.

A unit surely fits when every answer is yes, whatever the unknown facts turn out to be; it may fit while none is no.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from decimal import Decimal
from math import inf
from typing import Final, Literal, TypeAlias

import msgspec

from mendgauge.case.stock import StockUnit, TrimInstruction
from mendgauge.core.interval import EITHER, NO, YES, Interval, Truth, at_most, point
from mendgauge.operations.repair_units.patch_room import Patch, RoundPatches, round_patch
from mendgauge.operations.repair_units.requirements import AskedOfUnit, Where


class OnePieceIf(msgspec.Struct, frozen=True, gc=False):
    """The largest lean, and the thickest crown where a house looks at it, that a one-piece unit is pulled through."""

    lean_deg: float
    crown_mm: float | None


class Miss(msgspec.Struct, frozen=True, gc=False):
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


class Item(msgspec.Struct, frozen=True, eq=False, gc=False):
    """A unit on the shelf as the search sees it, read once; `cost` is what it adds where no question is open.

    `limited` is whether it has limits of its own: its maker's, a date, or none on hand.
    """

    unit: StockUnit
    index: int
    generic: bool
    patch: Patch | None
    price: Decimal | None
    on_hand: float
    limited: bool
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
    on_hand = inf if unit.on_hand is None else unit.on_hand
    own = (unit.largest_injury_mm, unit.largest_lean_deg, unit.expires_on)
    return Item(unit, index, generic, patch, price, on_hand, own != _NO_LIMITS or on_hand < 1.0, cost)


_NO_LIMITS: Final = (None, None, None)


class Fit:
    """What one channel asks of a unit, put to one unit after another; each is asked once.

    A shelf has up to two hundred units, and a tyre twenty channels: what all units of a kind are held against is
    worked out when it is first needed, and plain numbers are compared.
    """

    __slots__ = ("_alike", "_beside", "_found", "_lengths", "_on", "_reaches", "asked")

    def __init__(self, asked: AskedOfUnit, on: date) -> None:
        self.asked = asked
        self._on = on
        self._beside: RoundPatches | None = None
        self._found: dict[Item, tuple[Miss, ...]] = {}
        self._lengths: dict[TrimInstruction | None, Interval] = {}
        self._reaches: dict[bool | None, tuple[Interval, Interval, Interval]] = {}
        self._alike: dict[tuple[str | None, bool | None], tuple[Miss, ...]] = {}

    def missed(self, one: Item) -> tuple[Miss, ...]:
        """Return every question that a unit of a shelf fails, or that is not settled, one after another."""
        found = self._found.get(one)
        if found is None:
            found = self._found[one] = (
                *self._of_stem(one),
                *self._of_patch(one),
                *self._of_earlier(one),
                *self._of_unit(one),
            )
        return found

    def open_questions(self, one: Item) -> tuple[Miss, ...] | None:
        """Return what is not settled of a unit that fits the channel or may; none where it surely does not."""
        # Most units of a shelf fail at the first question or two: no other is put to them, nor a miss made of those.
        if not self._may_fill(one.unit):
            return None
        stem = self._of_stem(one)
        for miss in stem:
            if miss.answer == NO:
                return None
        patch = self._of_patch(one)
        for miss in patch:
            if miss.answer == NO:
                return None
        rest = (*self._of_earlier(one), *self._of_unit(one))
        for miss in rest:
            if miss.answer == NO:
                return None
        found = self._found[one] = (*stem, *patch, *rest)
        return found

    def _may_fill(self, unit: StockUnit) -> bool:
        """Return whether the stem of a unit, if it has one, is as thick as the channel may be."""
        if unit.stem_mm is None:
            return True
        cut = self.asked.channel
        return cut.low <= self.asked.assumed.nominal(unit.stem_mm) <= cut.high

    def _of_stem(self, one: Item) -> tuple[Miss, ...]:
        unit, asked = one.unit, self.asked
        stem = unit.stem_mm
        found: tuple[Miss, ...] = ()
        if unit.kind == "one_piece" and asked.one_piece != YES:
            found = (Miss("two_piece_needed", asked.one_piece, needs=_one_piece_if(asked)),)
        if stem is None:
            return found
        cut, size, length = asked.channel, asked.assumed.nominal(stem), unit.stem_length_mm
        if not cut.low <= size <= cut.high:
            by = max(cut.low - size, size - cut.high)
            found = (*found, Miss("stem_diameter", NO, point(stem), cut, by, "mm"))
        elif not cut.known:
            found = (*found, Miss("stem_diameter", EITHER, point(stem), cut, unit="mm"))
        needed = self._lengths.get(unit.trim)
        if needed is None:
            needed = self._lengths[unit.trim] = stem_length(asked, unit)[0]
        if length is None:
            return (*found, Miss("stem_length", EITHER, None, needed, unit="mm"))
        return (*found, _too_short("stem_length", length, needed)) if length < needed.high else found

    def _of_patch(self, one: Item) -> tuple[Miss, ...]:
        patch, unit = one.patch, one.unit
        if patch is None:
            return ()
        kind = unit.construction, unit.reinforced
        found = self._alike.get(kind)
        if found is None:
            found = self._alike[kind] = (*_construction(unit, self.asked), *_reinforced(unit, self.asked))
        short = self._too_small(patch, unit)
        return found if short is None else (*found, short)

    def _too_small(self, patch: Patch, unit: StockUnit) -> Miss | None:
        """Return the miss of a patch that does not surely reach past the mouth on every side; none where it does."""
        needed = self._reaches.get(unit.reinforced)
        if needed is None:
            asked = self.asked
            past = reach_of(unit, asked).times(2.0)
            needed = asked.mouth_long.plus(past), asked.mouth_across.plus(past), asked.mouth_along.plus(past)
            self._reaches[unit.reinforced] = needed
        wide, long = 2.0 * patch.half_across, 2.0 * patch.half_along
        of_round, across, along = needed
        if patch.is_round:
            return _too_short("patch_too_small", wide, of_round) if wide < of_round.high else None
        # By the direction in which it surely fails, or fails by more.
        if (wide < across.low, across.high - wide) >= (long < along.low, along.high - long):
            return _too_short("patch_too_small", wide, across) if wide < across.high else None
        return _too_short("patch_too_small", long, along) if long < along.high else None

    def _of_earlier(self, one: Item) -> tuple[Miss, ...]:
        """Return a miss where the patch may meet an earlier repair; where it surely does, by how far at worst."""
        if one.patch is None:
            return ()
        asked = self.asked
        unknown = () if asked.earlier_known else _MAY_MEET_EARLIER
        if not asked.earlier_in_the_way:
            return unknown
        if self._beside is None:
            self._beside = RoundPatches(asked.earlier_in_the_way)
        met, by = self._beside.met_by(one.patch, asked.gap)
        if met == YES:
            return (*unknown, Miss("meets_earlier_repair", NO, by=by, unit="mm"))
        return (*unknown, *_MAY_MEET_EARLIER) if met == EITHER else unknown

    def _of_unit(self, one: Item) -> tuple[Miss, ...]:
        if not one.limited:
            return ()
        unit, asked = one.unit, self.asked
        found: list[Miss] = []
        if unit.largest_injury_mm is not None:
            found += _at_most("largest_injury", asked.channel, unit.largest_injury_mm, "mm")
        if unit.largest_lean_deg is not None:
            found += _at_most("largest_lean", asked.lean, unit.largest_lean_deg, "deg")
        if unit.expires_on is not None and unit.expires_on < self._on:
            by = float((self._on - unit.expires_on).days)
            found.append(Miss("expired", NO, unit.expires_on.isoformat(), by=by, unit="days"))
        if one.on_hand < 1.0:
            found.append(Miss("none_on_hand", NO))
        return tuple(found)


def _at_most(code: str, asked: Interval, most: float | None, unit: str) -> Iterator[Miss]:
    """Yield a miss where a channel exceeds what the unit's maker allows; what he does not limit is not limited."""
    if most is not None and (answer := at_most(asked, most)) != YES:
        yield Miss(code, answer, point(most), asked, asked.high - most, unit)


def _one_piece_if(requirements: AskedOfUnit) -> OnePieceIf:
    return OnePieceIf(requirements.one_piece_to_deg, requirements.one_piece_crown_to_mm)


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


def _too_short(code: str, has: float, needed: Interval) -> Miss:
    """Return the miss of an extent that is not surely as large as is needed."""
    return Miss(code, NO if has < needed.low else EITHER, point(has), needed, needed.high - has, "mm")


_MAY_MEET_EARLIER: Final = (Miss("meets_earlier_repair", EITHER),)
