"""What a new tyre would cost and what the old one is still good for, as a fleet or a shop sends it with a case."""

from __future__ import annotations

from typing import Annotated, Literal

from msgspec import Meta

from mendgauge.core.money import Price
from mendgauge.core.vocabulary import RequestModel


class Downtime(RequestModel, frozen=True, kw_only=True):
    """What it costs that the vehicle stands while the tyre is repaired, or while it is replaced."""

    cost_per_hour: Annotated[Price, Meta(description="What an hour of standing costs.", examples=["40.00"])]
    replacement_minutes: Annotated[
        float, Meta(ge=0, le=100_000, description="How long it stands for a replacement, minutes.", examples=[20])
    ]
    repair_minutes: Annotated[
        Annotated[float, Meta(ge=0, le=100_000)] | None,
        Meta(description="How long it stands for a repair, minutes. Left out: as long as the work plan takes."),
    ] = None


class Replacement(RequestModel, frozen=True, kw_only=True):
    """The replacement to compare a repair with. Money is in the terms of the price book, taxes as its prices."""

    price: Annotated[Price, Meta(description="Price of the new tyre, fitted.", examples=["110.00"])]
    title: Annotated[
        Annotated[str, Meta(min_length=1, max_length=80)] | None,
        Meta(description="What is printed on the bill.", examples=["New tyre 205/55R16 91V, fitted"]),
    ] = None
    pull_point_mm: Annotated[
        Annotated[float, Meta(ge=0, le=50)] | None,
        Meta(
            description="Tread left at which such a tyre is taken off, mm. Left out: where the rulebook counts a tyre "
            "as worn out.",
            examples=[1.6],
        ),
    ] = None
    casing_value: Annotated[
        Price, Meta(description="What a sound casing is worth once the tread is worn.", examples=["60.00"])
    ] = "0"
    failure_percent: Annotated[
        float, Meta(ge=0, le=100, description="Chance that the repair fails in service, %.", examples=[1])
    ] = 0.0
    failure_cost: Annotated[Price, Meta(description="What such a failure costs in all.", examples=["600.00"])] = "0"
    downtime: Annotated[Downtime | None, Meta(description="What standing costs. Left out: it does not count.")] = None
    distance_per_mm: Annotated[
        Annotated[float, Meta(ge=1, le=1_000_000)] | None,
        Meta(description="How far a millimetre of tread goes, in `distance_unit`.", examples=[6000]),
    ] = None
    distance_unit: Annotated[
        Literal["km", "mile"], Meta(description="Unit of distances and of the cost per distance.", examples=["km"])
    ] = "km"
    largest_tread_difference_mm: Annotated[
        Annotated[float, Meta(ge=0, le=50)] | None,
        Meta(
            description="Largest difference of tread between a new tyre and another of its axle, mm: one that differs "
            "more is replaced too. Left out: none is.",
            examples=[3],
        ),
    ] = None
