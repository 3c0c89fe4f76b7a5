"""The answer of a marking: dimensions, load, speed, age, and what to look at again."""

from __future__ import annotations

from datetime import date
from typing import Annotated, Literal, TypeAlias

import msgspec
from msgspec import Meta

from mendgauge.tyre.tokens import Form

Build: TypeAlias = Literal["radial", "bias_belted", "bias"]


class ExtraService(msgspec.Struct, frozen=True, kw_only=True):
    """An additional service description: another load at another speed."""

    load_index_single: Annotated[int, Meta(description="Load index, fitted single.", examples=[154])]
    load_index_dual: Annotated[
        int | None, Meta(description="Load index, in a dual pair; null if it has none.", examples=[150])
    ]
    speed_symbol: Annotated[str | None, Meta(description="Speed symbol.", examples=["M"])]


class SidewallWarning(msgspec.Struct, frozen=True, kw_only=True):
    """Something that reads, but that a person should look at."""

    code: Annotated[str, Meta(description="The kind of oddity, for programs.", examples=["dual_gt_single"])]
    says: Annotated[str, Meta(description="What is odd, in words.")]


class TyreMarking(msgspec.Struct, frozen=True, kw_only=True):
    """What the sidewall says and what follows from it; null is what it does not say. Dimensions are of the new tyre."""

    marking: Annotated[str, Meta(description="The marking in its plain spelling.", examples=["205/55R16 91V"])]
    form: Annotated[Form, Meta(description="How the size is written.", examples=["metric"])]
    build: Annotated[
        Build | None,
        Meta(description="How the carcass is built; null where the size does not say.", examples=["radial"]),
    ]
    section_width_mm: Annotated[float | None, Meta(description="Nominal section width, mm.", examples=[205])]
    aspect_percent: Annotated[
        int | None, Meta(description="Section height as a share of the section width, percent.", examples=[55])
    ]
    rim_diameter_mm: Annotated[float, Meta(description="Rim diameter that the code stands for, mm.", examples=[406.4])]
    section_height_mm: Annotated[float | None, Meta(description="Section height, mm.", examples=[112.75])]
    overall_diameter_mm: Annotated[float | None, Meta(description="Overall diameter, mm.", examples=[631.9])]
    overall_diameter_regulation_mm: Annotated[
        int | None,
        Meta(description="Overall diameter as UN R30 and R54 round it, mm.", examples=[632]),
    ]
    outer_circumference_mm: Annotated[float | None, Meta(description="Circumference of the tread, mm.")]
    rolling_circumference_mm: Annotated[
        float | None, Meta(description="Way rolled in one turn under load, mm; radial tyres only.")
    ]
    revolutions_per_km: Annotated[float | None, Meta(description="Turns in a kilometre; radial tyres only.")]
    load_index_single: Annotated[int | None, Meta(description="Load index, fitted single.", examples=[91])]
    load_index_dual: Annotated[int | None, Meta(description="Load index, in a dual pair.")]
    load_single_kg: Annotated[float | None, Meta(description="Load, fitted single, kg.", examples=[615])]
    load_dual_kg: Annotated[float | None, Meta(description="Load of each tyre of a dual pair, kg.")]
    load_single_at_vehicle_speed_kg: Annotated[
        float | None,
        Meta(
            description="Load at the vehicle's top speed, fitted single, kg (UN R30); null where that speed was not "
            "given, or where nothing published grants any load at it."
        ),
    ]
    load_dual_at_vehicle_speed_kg: Annotated[
        float | None, Meta(description="The same for each tyre of a dual pair, kg.")
    ]
    speed_symbol: Annotated[
        str | None,
        Meta(description="Speed symbol; ZR or such where the size alone says it, in brackets if it is a floor."),
    ]
    speed_kmh: Annotated[float | None, Meta(description="Speed of the symbol, km/h.", examples=[240])]
    speed_is_floor: Annotated[
        bool, Meta(description="True: the tyre is faster than that, and its maker knows by how much.")
    ]
    load_range: Annotated[str | None, Meta(description="Load range letter.", examples=["E"])]
    ply_rating: Annotated[int | None, Meta(description="Ply rating.", examples=[10])]
    run_flat: Annotated[
        bool,
        Meta(description="Whether it is marked as a run-flat tyre: F beside the R of the size, or the word behind it."),
    ]
    temporary_spare: Annotated[bool, Meta(description="Whether it is marked for temporary use.")]
    light_truck: Annotated[bool, Meta(description="Whether it is marked LT.")]
    motorcycle: Annotated[bool, Meta(description="Whether it is marked for motorcycles.")]
    extra_services: Annotated[
        tuple[ExtraService, ...], Meta(max_length=20, description="Additional service descriptions.")
    ]
    tags: Annotated[tuple[str, ...], Meta(max_length=40, description="Other words of the sidewall, in plain spelling.")]
    unread: Annotated[tuple[str, ...], Meta(max_length=40, description="Words that are none of a marking's own.")]
    plant: Annotated[str | None, Meta(description="Plant code of the identification number.")]
    made_week: Annotated[int | None, Meta(description="Week of manufacture, or of retreading.", examples=[23])]
    made_year: Annotated[
        int | None, Meta(description="Year of manufacture; null where the decade is not moulded.", examples=[2023])
    ]
    made_from: Annotated[date | None, Meta(description="First day on which it may have been made.")]
    made_to: Annotated[date | None, Meta(description="Last day on which it may have been made.")]
    assessed_on: Annotated[date, Meta(description="The day on which the age is taken.")]
    age_years_from: Annotated[float | None, Meta(description="Least age on that day, years.", examples=[3.45])]
    age_years_to: Annotated[float | None, Meta(description="Greatest age on that day, years.", examples=[3.47])]
    warnings: Annotated[tuple[SidewallWarning, ...], Meta(max_length=40, description="What a person should look at.")]
