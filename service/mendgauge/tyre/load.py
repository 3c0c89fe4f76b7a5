"""The load a tyre carries: by its load index, and at the top speed of the vehicle.

The index gives kilograms by the published table. Above 210 km/h the load of V, W and Y tyres falls (UN R30, definition
of the maximum load rating): V from 100 % at 210 to 91 % at 240, W from 100 % at 240 to 85 % at 270, Y from 100 % at
270 to 85 % at 300, linear between. No other variation with speed is applied: that of commercial tyres at low speeds
(UN R54) would grant more than the index and is not used. A maximum load moulded on the sidewall outranks the index.

>>> from mendgauge.tyre.marking import read_marking
>>> load_of(read_marking("315/80R22.5 156/150L"))
Load(single_kg=4000.0, dual_kg=3350.0)
>>> load_at_speed(read_marking("205/55R16 91V"), 240.0)
Load(single_kg=559.65, dual_kg=None)
>>> load_at_speed(read_marking("315/80R22.5 156/150L (154/150M)"), 130.0)
Load(single_kg=3750.0, dual_kg=3350.0)
"""

from __future__ import annotations

from typing import Final

import msgspec

from mendgauge.tyre.marking import Marking
from mendgauge.tyre.speed import kmh_of
from mendgauge.tyre.tables import LOAD_INDEX, LOAD_SPEED_R30


class Load(msgspec.Struct, frozen=True):
    """What one tyre may carry, kg: fitted single, and as one of a dual pair (`None` where no index is given for it)."""

    single_kg: float
    dual_kg: float | None


def load_kg(index: int) -> float:
    """Return the load of a load index, kg. Raise `ValueError` for an index that is not in the table."""
    if index not in LOAD_INDEX:
        raise ValueError(f"load index {index} is unknown: indices go from 0 to {max(LOAD_INDEX)}")
    return LOAD_INDEX[index].kg


def load_of(marking: Marking) -> Load | None:
    """Return the load by the first service description; `None` where the marking has none."""
    return None if marking.li_single is None else _load(marking.li_single, marking.li_dual)


def load_at_speed(marking: Marking, vehicle_kmh: float) -> Load | None:
    """Return the load the marking grants on a vehicle of this top speed, single and dual each, kg.

    The greatest that any of its service descriptions grants. An additional one is a single point: it holds up to its
    own speed and no variation is applied to it. `None` where none grants any: no load index or speed symbol; a vehicle
    faster than every symbol (a floor included: there the tyre maker is to be asked); a motorcycle tyre above the speed
    where its load begins to fall (UN R75 has its own figures, which are not held here).
    """
    loads = [
        _load(more.li_single, more.li_dual)
        for more in marking.extra_service
        if more.speed and vehicle_kmh <= kmh_of(more.speed)
    ]
    share = _share(marking.speed, vehicle_kmh, motorcycle=marking.motorcycle)
    if marking.li_single is not None and share is not None:
        loads.append(_load(marking.li_single, marking.li_dual, share))
    if len(loads) <= 1:
        return loads[0] if loads else None
    duals = [load.dual_kg for load in loads if load.dual_kg is not None]
    return Load(max(load.single_kg for load in loads), max(duals, default=None))


def _load(li_single: int, li_dual: int | None, share: float = 1.0) -> Load:
    return Load(load_kg(li_single) * share, None if li_dual is None else load_kg(li_dual) * share)


def _line(symbol: str) -> tuple[float, float, float, float]:
    """Speed and percent where the load begins to fall, and where it ends: the published points alone."""
    points = sorted(
        (row.vehicle_max_speed_km_h, row.percent_of_LI_load)
        for row in LOAD_SPEED_R30
        if row.symbol == symbol and row.basis == "published"
    )
    return (*points[0], *points[-1])


_FALLING: Final = {symbol: _line(symbol) for symbol in ("V", "W", "Y")}


def _share(symbol: str | None, vehicle_kmh: float, *, motorcycle: bool) -> float | None:
    """Return the share of the load index that holds at this speed, or `None` where nothing published grants any."""
    if symbol is None or vehicle_kmh > kmh_of(symbol):
        return None
    if symbol not in _FALLING or vehicle_kmh <= _FALLING[symbol][0]:
        return 1.0
    if motorcycle:
        return None
    from_kmh, from_percent, to_kmh, to_percent = _FALLING[symbol]
    fallen = (vehicle_kmh - from_kmh) / (to_kmh - from_kmh)
    return (from_percent + fallen * (to_percent - from_percent)) / 100.0
