"""The tyre in service: what the limits after a repair ask for beyond the tyre and its position."""

from __future__ import annotations

from typing import Annotated, Literal, TypeAlias

from msgspec import Meta

from mendgauge.core.vocabulary import Range, RequestModel

MatePlace: TypeAlias = Literal["dual_mate", "other_end"]

MATES_MAX = 3
"""The other tyres of an axle with dual pairs."""


class AxleMate(RequestModel, frozen=True, kw_only=True):
    """Another tyre of the same axle."""

    place: Annotated[
        MatePlace | None,
        Meta(
            description="`dual_mate`: the other tyre of the same dual pair; `other_end`: a tyre at the other end of "
            "the axle.",
            examples=["other_end"],
        ),
    ] = None
    marking: Annotated[
        Annotated[str, Meta(max_length=80)] | None,
        Meta(description="Its size and service description as moulded on the sidewall.", examples=["205/55R16 91V"]),
    ] = None
    tread_depth_mm: (
        Annotated[float, Meta(ge=0, le=50, description="Its tread left, at the shallowest point, mm.", examples=[5.5])]
        | Range
        | None
    ) = None
    overall_diameter_mm: (
        Annotated[float, Meta(ge=200, le=3000, description="Its overall diameter as measured, mm.", examples=[630])]
        | Range
        | None
    ) = None


class InService(RequestModel, frozen=True, kw_only=True):
    """How the tyre runs: the other tyres of its axle, and what is known of it and its vehicle in use."""

    axle_mates: (
        Annotated[
            tuple[AxleMate, ...],
            Meta(
                max_length=MATES_MAX,
                description="Every other tyre of the axle. Left out: not known; empty: there is none.",
            ),
        ]
        | None
    ) = None
    overall_diameter_mm: (
        Annotated[
            float,
            Meta(ge=200, le=3000, description="Overall diameter of this tyre as measured, mm.", examples=[631]),
        ]
        | Range
        | None
    ) = None
    max_load_dual_kg: (
        Annotated[
            float,
            Meta(gt=0, le=150_000, description="Maximum load moulded on the sidewall, dual, kg.", examples=[1260]),
        ]
        | Range
        | None
    ) = None
    winter_tyre: Annotated[
        bool | None,
        Meta(
            description="A winter tyre. Left out, M+S or the snowflake (3PMSF) in the marking says so.",
            examples=[False],
        ),
    ] = None
    speed_label: Annotated[
        bool | None,
        Meta(
            description="A label in the driver's view gives a speed that the tyre's symbol covers.",
            examples=[False],
        ),
    ] = None
