"""The bench the job is done at: its climate, how the wheel came in, and the shop's own figures."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Annotated, Final, Literal

from msgspec import Meta, field

from mendgauge.core.errors import Flaw
from mendgauge.core.vocabulary import HeatCuredFill, Range, RequestModel, WheelComes

CODES_MAX: Final = 100


QUANTITY_MAX = 100_000
"""The largest quantity of a consumable, in whatever unit it has; the ends of a range are held to it too."""


class Bench(RequestModel, frozen=True, kw_only=True):
    """The bench, and how the wheel came to it."""

    air_temperature_c: (
        Annotated[float, Meta(ge=-40, le=60, description="Air temperature at the bench, °C.", examples=[18])]
        | Range
        | None
    ) = None
    relative_humidity_percent: (
        Annotated[float, Meta(ge=1, le=100, description="Relative humidity of the air, %.", examples=[55])]
        | Range
        | None
    ) = None
    liner_temperature_c: (
        Annotated[
            float,
            Meta(ge=-40, le=90, description="Temperature of the liner where the patch goes, °C.", examples=[16]),
        ]
        | Range
        | None
    ) = None
    wheel: Annotated[
        WheelComes | None,
        Meta(description="Whether the wheel is on the vehicle or comes loose.", examples=["on_vehicle"]),
    ] = None
    pressure_sensor: Annotated[
        bool | None, Meta(description="Whether a pressure sensor is fitted in the wheel.", examples=[False])
    ] = None
    heat_cured_fill: Annotated[
        HeatCuredFill | None,
        Meta(
            description="What the channel is packed with, where the shop fills it with raw rubber and cures that by "
            "heat. Left out: a stem, set in cement.",
            examples=["tread_rubber"],
        ),
    ] = None


class HouseMinutes(RequestModel, frozen=True, kw_only=True):
    """How long a step takes this shop."""

    low: Annotated[float, Meta(ge=0, le=1440, description="On a good day, minutes.", examples=[4])]
    likely: Annotated[float, Meta(ge=0, le=1440, description="As a rule, minutes; not below `low`.", examples=[5])]
    high: Annotated[float, Meta(ge=0, le=1440, description="On a bad day, minutes; not below `likely`.", examples=[8])]


class HouseTimes(RequestModel, frozen=True, kw_only=True):
    """The shop's own times and quantities; each takes the place of the trade's figure of the same code."""

    minutes: Annotated[
        dict[str, Annotated[float, Meta(ge=0, le=1440)] | HouseMinutes],
        Meta(
            max_length=CODES_MAX,
            description="Minutes by the code of the step, or of the extra work, that they are for.",
            examples=[{"wheel_off": 6, "balance": {"low": 3, "likely": 5, "high": 9}}],
        ),
    ] = field(default_factory=dict)
    quantities: Annotated[
        dict[str, Annotated[float, Meta(ge=0, le=QUANTITY_MAX)] | Range],
        Meta(
            max_length=CODES_MAX,
            description="Quantity for the whole job by the code of the consumable, in the unit the plan gives for it.",
            examples=[{"cement": 3, "cleaner": {"low": 10, "high": 15}}],
        ),
    ] = field(default_factory=dict)


def house_times_pointer(section: Literal["minutes", "quantities"], code: str) -> str:
    """Return where in the case a figure of the shop stands, an RFC 6901 pointer."""
    return f"/house_times/{section}/{code.replace('~', '~0').replace('/', '~1')}"


def house_times_flaws(times: HouseTimes) -> Iterator[Flaw]:
    """Yield what contradicts itself in the shop's own figures."""
    for code, given in times.minutes.items():
        if isinstance(given, HouseMinutes) and not given.low <= given.likely <= given.high:
            what = (
                f"`low` {given.low:g}, `likely` {given.likely:g} and `high` {given.high:g} must not fall in that order."
            )
            yield Flaw(house_times_pointer("minutes", code), what)
    for code, quantity in times.quantities.items():
        if isinstance(quantity, Range) and not 0.0 <= quantity.low <= quantity.high <= QUANTITY_MAX:
            what = f"`low` is {quantity.low:g} and `high` is {quantity.high:g}: both from 0 to {QUANTITY_MAX}, "
            what += "and `low` not above `high`."
            yield Flaw(house_times_pointer("quantities", code), what)
