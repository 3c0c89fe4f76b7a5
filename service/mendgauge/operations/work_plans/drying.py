"""How cement dries at the bench's climate: as usual, slowly, or not at all.

Temperatures in °C, relative humidity in %. What nobody measured is the widest range it can have, so an answer holds for
all that the climate may be.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cached_property, lru_cache
from math import log
from typing import Final

from mendgauge.case.shop import Bench
from mendgauge.core.interval import EITHER, NO, YES, Interval, Truth, any_of, at_least, at_most, negate
from mendgauge.facts.given import measured
from mendgauge.rulebooks import Edition
from mendgauge.rulebooks.schema.procedure import DryingRule

# Magnus formula over water, B in °C: WMO-No. 8, Guide to Instruments and Methods of Observation, annex 4.B, as
# instrument makers quote it. In tests/reference it is held against the formulas of the ASHRAE handbook.
_A: Final = 17.62
_B: Final = 243.12

# What the contract admits, for a climate that nobody measured.
AIR: Final = Interval(-40.0, 60.0)
HUMIDITY: Final = Interval(1.0, 100.0)
LINER: Final = Interval(-40.0, 90.0)


def dew_point_c(air_c: float, humidity_percent: float) -> float:
    """Return the temperature at which moist air begins to leave water on a surface, °C, by the Magnus formula.

    `humidity_percent` is over 0 and at most 100.

    >>> round(dew_point_c(20.0, 50.0), 1)
    9.3
    """
    share = log(humidity_percent / 100.0) + _A * air_c / (_B + air_c)
    return _B * share / (_A - share)


class Climate:
    """The climate at a bench, each of its parts a range, held against the climate that cement asks for."""

    def __init__(self, bench: Bench, rule: DryingRule) -> None:
        self.air = measured(bench.air_temperature_c, AIR)
        self.humidity = measured(bench.relative_humidity_percent, HUMIDITY)
        self.liner = measured(bench.liner_temperature_c, LINER)
        self.air_known = bench.air_temperature_c is not None and bench.relative_humidity_percent is not None
        self._rule = rule

    @cached_property
    def dew_point(self) -> Interval:
        """Every dew point the air may have: it rises with temperature and with humidity."""
        return Interval(
            dew_point_c(self.air.low, self.humidity.low),
            dew_point_c(self.air.high, self.humidity.high),
        )

    @cached_property
    def slow(self) -> Truth:
        """Whether cement dries slowly: in air colder or damper than the rule's figures."""
        warm = at_least(self.air, self._rule.slow_under_c)
        dry = at_most(self.humidity, self._rule.slow_over_percent)
        return any_of(negate(warm), negate(dry))

    @cached_property
    def stopped(self) -> Truth:
        """Whether no cement may be put on: air or liner too cold, or the liner at or below the dew point."""
        cold = any_of(
            negate(at_least(self.air, self._rule.stop_under_c)),
            negate(at_least(self.liner, self._rule.stop_under_c)),
        )
        return any_of(cold, self._wet)

    @property
    def _wet(self) -> Truth:
        """Whether water settles on the liner."""
        if self.liner.high <= self.dew_point.low:
            return YES
        return NO if self.liner.low > self.dew_point.high else EITHER

    def missing(self) -> Iterator[str]:
        """Return the fields of the case that leave the climate open."""
        parts = {
            "air_temperature_c": self.air,
            "relative_humidity_percent": self.humidity,
            "liner_temperature_c": self.liner,
        }
        return (f"/bench/{name}" for name, part in parts.items() if not part.known)


@lru_cache(maxsize=256)
def climate_at(bench: Bench, edition: Edition) -> Climate:
    """Return the climate at a bench, held against what cement asks for by the procedure of an edition."""
    return Climate(bench, edition.procedure.drying[0])
