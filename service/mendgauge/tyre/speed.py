"""The speed a marking permits. Symbols rank by km/h and never by letter: H (210) lies between U (200) and V (240).

Two places of a marking may speak: the service description, and the size itself (`ZR`, `VR`, `HR`). The service
description governs where it lies within what the size says; where the two contradict each other (`205/55ZR16 91T`),
nothing is settled and the answers stay wide. `ZR`, `VR` and a bracketed service description are floors: the tyre is
faster than that, and only its maker knows by how much.

>>> from mendgauge.tyre.marking import read_marking
>>> speed_of(read_marking("205/55R16 91V"))
SpeedRating(symbol='V', kmh=240.0, is_floor=False)
>>> speed_of(read_marking("255/40ZR17"))
SpeedRating(symbol='ZR', kmh=240.0, is_floor=True)
>>> at_least_symbol(read_marking("205/55R16 91H"), "V")
2
>>> rated_speed(read_marking("205/55R16"))
Interval(low=80.0, high=inf)
"""

from __future__ import annotations

import math
from typing import Final

import msgspec

from mendgauge.core.interval import Interval, Truth, at_least, point
from mendgauge.tyre.marking import Marking
from mendgauge.tyre.tables import SPEED_SYMBOL

SYMBOLS_BY_SPEED: Final = tuple(
    sorted(
        (symbol for symbol in SPEED_SYMBOL if len(symbol) == 1 or symbol.startswith("A")),
        key=lambda symbol: SPEED_SYMBOL[symbol].km_h,
    )
)
"""The symbols of a service description, slowest first."""

_KMH: Final = {symbol: SPEED_SYMBOL[symbol].km_h for symbol in SYMBOLS_BY_SPEED}

SLOWEST_ROAD_SYMBOL: Final = "F"
"""Below it lie the symbols of field, industrial and other slow tyres."""

ANY_ROAD_SPEED: Final = Interval(SPEED_SYMBOL[SLOWEST_ROAD_SYMBOL].km_h, math.inf)


class SpeedRating(msgspec.Struct, frozen=True):
    """What a marking says of speed: `kmh` is the highest permitted, or where `is_floor` is surpassed by the tyre."""

    symbol: str
    kmh: float
    is_floor: bool

    @property
    def interval(self) -> Interval:
        """The rated speed, km/h; over it, and without an upper end, where it is a floor."""
        return Interval(math.nextafter(self.kmh, math.inf), math.inf) if self.is_floor else point(self.kmh)


def kmh_of(symbol: str) -> float:
    """Return the speed of a service description's symbol, km/h. Raise `ValueError` for what is none."""
    kmh = _KMH.get(symbol)
    if kmh is None:
        raise ValueError(f"{symbol!r} is no speed symbol: they are {', '.join(SYMBOLS_BY_SPEED)}")
    return kmh


def speed_of(marking: Marking) -> SpeedRating | None:
    """Return the speed rating: the service description's, else that in the size, else `None`."""
    return _by_service(marking) or _by_size(marking)


def rated_speed(marking: Marking) -> Interval:
    """Return every rated speed that the marking leaves possible, km/h.

    A point where the symbol says it; from the floor without an upper end (`math.inf`) for ZR, VR and brackets; from the
    slowest road symbol without an upper end where the marking says nothing; both words, and what is between, where the
    size and the service description contradict each other.
    """
    service, size = _by_service(marking), _by_size(marking)
    return _settled(service.interval if service else None, size.interval if size else None)


def at_least_symbol(marking: Marking, symbol: str) -> Truth:
    """Return whether the tyre's speed symbol is this one or a faster one; `EITHER` where the marking leaves it open.

    ZR counts as over V, and V in the size counts as V. Raise `ValueError` for an unknown symbol.
    """
    service, in_size = _by_service(marking), None
    if marking.zr:
        in_size = Interval(kmh_of("V"), math.inf)
    elif marking.speed_in_size:
        kmh = kmh_of(marking.speed_in_size)
        in_size = Interval(kmh, math.inf if marking.speed_in_size == "V" else kmh)
    return at_least(_settled(service.interval if service else None, in_size), kmh_of(symbol))


def _by_service(marking: Marking) -> SpeedRating | None:
    if marking.speed is None:
        return None
    kmh = SPEED_SYMBOL[marking.speed].km_h
    return SpeedRating(f"({marking.speed})" if marking.bracketed else marking.speed, kmh, marking.bracketed)


def _by_size(marking: Marking) -> SpeedRating | None:
    if not marking.zr and not marking.speed_in_size:
        return None
    symbol = "ZR" if marking.zr else f"{marking.speed_in_size}R"
    row = SPEED_SYMBOL.get(symbol) or SPEED_SYMBOL[marking.speed_in_size or ""]
    return SpeedRating(symbol, row.km_h, row.relation == "exceeds")


def _settled(service: Interval | None, size: Interval | None) -> Interval:
    """Return what the two together leave possible."""
    if service is None:
        return size or ANY_ROAD_SPEED
    if size is None or size.low <= service.low <= size.high:
        return service
    return service.hull(size)
