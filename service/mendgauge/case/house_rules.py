"""A fleet's own rules, as it sends them with a case."""

from __future__ import annotations

from typing import Annotated

from msgspec import Meta

from mendgauge.core.vocabulary import LEAN_DEG_MAX, Region, RequestModel, SpecialTyre


class HouseRules(RequestModel, frozen=True, kw_only=True):
    """A fleet's own rules. They may be stricter than the rulebook, never looser."""

    max_injury_mm: Annotated[
        Annotated[float, Meta(gt=0, le=500)] | None,
        Meta(description="Largest injury this house repairs, mm.", examples=[5]),
    ] = None
    max_repairs: Annotated[
        Annotated[float, Meta(ge=0, le=50, multiple_of=1)] | None,
        Meta(description="Most repairs in one tyre, all counted.", examples=[2]),
    ] = None
    min_spacing_mm: Annotated[
        Annotated[float, Meta(ge=0, le=5000)] | None,
        Meta(description="Least distance between the centres of two repairs, mm.", examples=[150]),
    ] = None
    min_tread_mm: Annotated[
        Annotated[float, Meta(ge=0, le=50)] | None,
        Meta(description="Least tread left on a tyre this house repairs, mm.", examples=[3]),
    ] = None
    max_age_years: Annotated[
        Annotated[float, Meta(ge=0, le=100)] | None,
        Meta(description="Oldest tyre this house repairs, years.", examples=[10]),
    ] = None
    max_lean_deg: Annotated[
        Annotated[float, Meta(ge=0, le=LEAN_DEG_MAX)] | None,
        Meta(description="Largest lean this house repairs, degrees.", examples=[25]),
    ] = None
    max_one_piece_lean_deg: Annotated[
        Annotated[float, Meta(ge=0, le=LEAN_DEG_MAX)] | None,
        Meta(description="Largest lean at which this house sets stem and patch in one piece, degrees.", examples=[15]),
    ] = None
    max_one_piece_crown_mm: Annotated[
        Annotated[float, Meta(gt=0, le=60)] | None,
        Meta(
            description="Thickest crown, liner to groove base, through which this house pulls a unit of one piece, mm.",
            examples=[18],
        ),
    ] = None
    two_piece_only: Annotated[
        bool, Meta(description="Set stem and patch separately in every repair.", examples=[False])
    ] = False
    refuse_steer_axle: Annotated[
        bool, Meta(description="Repair nothing that runs on a steered axle.", examples=[True])
    ] = False
    refuse_regions: Annotated[
        tuple[Region, ...], Meta(max_length=4, description="Regions in which this house repairs nothing.")
    ] = ()
    refuse_special_tyres: Annotated[
        tuple[SpecialTyre, ...], Meta(max_length=8, description="Kinds of tyre this house does not repair.")
    ] = ()
    refuse_speed_v_and_above: Annotated[
        bool, Meta(description="Repair no tyre with speed symbol V or above.", examples=[False])
    ] = False
    refuse_without_maker_approval: Annotated[
        bool, Meta(description="Repair only what the tyre's maker lets be repaired.", examples=[False])
    ] = False
