"""What one tyre may carry on a vehicle of a top speed: by the moulded maximum load if given, else by the index.

The load is taken at the vehicle's top speed, or at the tyre's own where that is lower, since the vehicle may not be
driven faster on it. It falls for V, W and Y tyres as UN R30 says, an additional service description is a single point,
and nothing is added at low speeds (see `mendgauge.tyre.load`). A moulded load stands in the index's place; where
nobody read that of a light truck tyre, which is often moulded below its index, the load is a range.
"""

from __future__ import annotations

from typing import Final, Literal, TypeAlias

import msgspec

from mendgauge.core import geometry as crown
from mendgauge.core.interval import EITHER, NO, YES, Interval, Truth, at_most, both
from mendgauge.rulebooks.schema.limits import MouldedLoad
from mendgauge.tyre.load import load_at_speed, load_of
from mendgauge.tyre.marking import Marking
from mendgauge.tyre.speed import kmh_of
from mendgauge.tyre.tables import LOAD_SPEED_R30

RestsOn: TypeAlias = Literal["moulded", "load_index", "nothing"]

LOAD: Final = Interval(0.0, 150_000.0)
"""The widest a moulded load can be by the contract, kg."""

FULL_LOAD_TO_KMH: Final = min(row.vehicle_max_speed_km_h for row in LOAD_SPEED_R30)
"""Up to this top speed of the vehicle the load of no symbol falls (UN R30)."""

_WHOLE: Final = Interval(1.0, 1.0)
_ANY_SHARE: Final = Interval(0.0, 1.0)


class Loading(msgspec.Struct, frozen=True, gc=False):
    """What one tyre may carry, kg, fitted singly and in a dual pair, at a speed in km/h; and what that rests on.

    `agrees` says whether the moulded load is one that can belong to the load index.
    """

    single: Interval
    dual: Interval
    at_kmh: Interval
    rests_on: RestsOn
    agrees: Truth


def loading(
    marking: Marking,
    vehicle_kmh: Interval,
    moulded_single: Interval | None,
    moulded_dual: Interval | None,
    moulded: MouldedLoad,
) -> Loading:
    """Return the load of one tyre by all that is known of it."""
    at_kmh = _speed(marking, vehicle_kmh)
    index = load_of(marking)
    if index is None:
        return _moulded_alone(at_kmh, moulded_single, moulded_dual)
    single_share, dual_share = _shares(marking, at_kmh, index.single_kg, index.dual_kg)
    single, agrees = _base(index.single_kg, moulded_single, marking, moulded)
    if index.dual_kg is None:
        dual, agrees_dual = Interval(0.0, single.high) if moulded_dual is None else moulded_dual, agrees
    else:
        dual, agrees_dual = _base(index.dual_kg, moulded_dual, marking, moulded)
    dual = Interval(min(dual.low, single.low), min(dual.high, single.high))
    agrees = both(agrees, agrees_dual)
    given = moulded_single is not None or moulded_dual is not None
    return Loading(
        crown.product(single, single_share),
        crown.product(dual, dual_share),
        at_kmh,
        "moulded" if given and agrees != NO else "load_index",
        agrees,
    )


def _speed(marking: Marking, vehicle_kmh: Interval) -> Interval:
    """Return the vehicle's top speed, or the tyre's where that is lower and no floor."""
    if marking.bracketed:
        return vehicle_kmh
    said = [more.speed for more in marking.extra_service if more.speed]
    if marking.speed:
        said.append(marking.speed)
    if not said:
        return vehicle_kmh
    top = max(map(kmh_of, said))
    return Interval(min(vehicle_kmh.low, top), min(vehicle_kmh.high, top))


def _shares(marking: Marking, at_kmh: Interval, single_kg: float, dual_kg: float | None) -> tuple[Interval, Interval]:
    """Return the shares of the index that hold between two speeds; down to none where nothing published grants any."""
    slowest, fastest = load_at_speed(marking, at_kmh.low), load_at_speed(marking, at_kmh.high)
    if slowest is None:
        # Faster than its symbol, a floor: nothing is granted, and its maker grants no more than at that speed.
        last = None if marking.speed is None else load_at_speed(marking, kmh_of(marking.speed))
        most = 1.0 if last is None else last.single_kg / single_kg
        return Interval(0.0, most), Interval(0.0, most)
    least, most = 0.0 if fastest is None else fastest.single_kg / single_kg, slowest.single_kg / single_kg
    if dual_kg is None:
        return Interval(least, most), Interval(least, most)
    least_dual = 0.0 if fastest is None or fastest.dual_kg is None else fastest.dual_kg / dual_kg
    most_dual = most if slowest.dual_kg is None else slowest.dual_kg / dual_kg
    return Interval(least, most), Interval(least_dual, most_dual)


def _base(index_kg: float, given: Interval | None, marking: Marking, moulded: MouldedLoad) -> tuple[Interval, Truth]:
    """Return the load at full share, and whether what is moulded can belong to the index; if not, the index holds."""
    if given is None:
        least = moulded.light_truck_least_share_of_index if marking.light_truck else 1.0
        return Interval(index_kg * least, index_kg), YES
    most = index_kg * moulded.most_share_of_index
    agrees = at_most(given, most)
    if agrees == YES:
        return given, YES
    if agrees == NO:
        return Interval(index_kg, index_kg), NO
    return Interval(min(given.low, index_kg), most), EITHER


def _moulded_alone(at_kmh: Interval, single: Interval | None, dual: Interval | None) -> Loading:
    """Return the load without an index: the moulded one, up to the speed where every symbol has its whole."""
    share = _WHOLE if at_kmh.high <= FULL_LOAD_TO_KMH else _ANY_SHARE
    carried = LOAD if single is None else single
    in_pair = Interval(0.0, carried.high) if dual is None else dual
    return Loading(
        Interval(0.0, LOAD.high) if single is None else crown.product(carried, share),
        crown.product(in_pair, share),
        at_kmh,
        "nothing" if single is None else "moulded",
        YES,
    )
