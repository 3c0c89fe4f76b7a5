"""What is wrong with the tread: an injury, and a repair that the tyre already carries."""

from __future__ import annotations

from typing import Annotated

from msgspec import Meta

from mendgauge.core.vocabulary import (
    LEAN_DEG_MAX,
    Depth,
    EmergesIn,
    MeasuredFrom,
    Range,
    Region,
    RepairMethod,
    RequestModel,
    Stage,
)


class Injury(RequestModel, frozen=True, kw_only=True):
    """One injury."""

    region: Annotated[Region | None, Meta(description="The part of the tyre that is injured.", examples=["tread"])] = (
        None
    )
    depth: Annotated[
        Depth | None,
        Meta(
            description="How far in it goes: rubber only, to the cord, or through to the inside.", examples=["through"]
        ),
    ] = None
    across_mm: (
        Annotated[
            float,
            Meta(
                ge=-1000,
                le=1000,
                description="Place across the tread, mm from its centre line; one side positive, the other negative.",
                examples=[20],
            ),
        ]
        | Range
        | None
    ) = None
    around_mm: (
        Annotated[float, Meta(ge=0, le=10_000, description="Place along the tread from the valve, mm.", examples=[640])]
        | Range
        | None
    ) = None
    measured_from: Annotated[
        MeasuredFrom | None,
        Meta(description="Which side `across_mm` and `around_mm` were taken on.", examples=["outside"]),
    ] = None
    other_side_across_mm: (
        Annotated[
            float,
            Meta(
                ge=-1000,
                le=1000,
                description="Place across the tread on the other side of the crown, mm from the centre line.",
                examples=[21],
            ),
        ]
        | Range
        | None
    ) = None
    diameter_mm: (
        Annotated[
            float,
            Meta(
                gt=0,
                le=500,
                description="Diameter of the injury, mm; of a cut its longest side. Once prepared, of the cutter.",
                examples=[4.0],
            ),
        ]
        | Range
        | None
    ) = None
    stage: Annotated[
        Stage | None,
        Meta(description="Whether the diameter is the hole as found or the channel as prepared.", examples=["found"]),
    ] = None
    lean_deg: (
        Annotated[
            float,
            Meta(
                ge=0,
                le=LEAN_DEG_MAX,
                description="Lean of the channel from the perpendicular to the tread, degrees.",
                examples=[5],
            ),
        ]
        | Range
        | None
    ) = None
    lean_toward_deg: (
        Annotated[
            float,
            Meta(
                ge=0,
                le=360,
                description="Which way the channel runs on its way in: 0 toward positive `across_mm`, "
                "90 toward larger `around_mm`, 180 toward negative `across_mm`.",
                examples=[0],
            ),
        ]
        | Range
        | None
    ) = None
    emerges_in: Annotated[
        EmergesIn | None,
        Meta(description="Whether the channel comes out in a groove or on a lug, block or rib.", examples=["groove"]),
    ] = None
    plugged_from_outside: Annotated[
        bool | None,
        Meta(
            description="Whether a string or plug was put into this hole from outside. Left out where the inspection "
            "or the history is complete: none was.",
            examples=[False],
        ),
    ] = None
    object_in_place: Annotated[
        bool | None,
        Meta(
            description="Whether the object that made it is still in it. No `complete` answers this.", examples=[True]
        ),
    ] = None
    object: (
        Annotated[
            str,
            Meta(
                max_length=80,
                description="What was found in the injury. The step that takes it out names it.",
                examples=["nail"],
            ),
        ]
        | None
    ) = None


class EarlierRepair(RequestModel, frozen=True, kw_only=True):
    """One repair that the tyre already carries."""

    method: Annotated[
        RepairMethod | None, Meta(description="How the earlier repair was made.", examples=["one_piece"])
    ] = None
    proper: Annotated[
        bool | None,
        Meta(description="Whether it was found sound, sealed and in a permitted place.", examples=[True]),
    ] = None
    across_mm: (
        Annotated[
            float,
            Meta(
                ge=-1000,
                le=1000,
                description="Centre of the patch across the tread, mm from its centre line.",
                examples=[-30],
            ),
        ]
        | Range
        | None
    ) = None
    around_mm: (
        Annotated[
            float,
            Meta(
                ge=0,
                le=10_000,
                description="Centre of the patch along the tread from the valve, mm.",
                examples=[1500],
            ),
        ]
        | Range
        | None
    ) = None
    measured_from: Annotated[
        MeasuredFrom | None,
        Meta(description="Which side `around_mm` was taken on: arcs are shorter at the liner.", examples=["outside"]),
    ] = None
    patch_mm: (
        Annotated[float, Meta(gt=0, le=500, description="Largest extent of the patch, mm.", examples=[45])]
        | Range
        | None
    ) = None
