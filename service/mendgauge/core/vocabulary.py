"""The words of a request: what every section of the case is made of, and the trade's names for its choices."""

from __future__ import annotations

from typing import Annotated, Literal, TypeAlias, final

import msgspec
from msgspec import Meta


class RequestModel(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True, omit_defaults=True):
    """Base of what a caller sends: closed objects, fields by name."""


@final
class Range(RequestModel, frozen=True, kw_only=True):
    """A measurement known only to lie between two values, both included."""

    low: Annotated[float, Meta(description="The smallest value it can have.", examples=[3.5])]
    high: Annotated[float, Meta(description="The largest value it can have; not below `low`.", examples=[4.5])]


Measured: TypeAlias = float | Range
"""A measured number as a caller may send it."""

Detail: TypeAlias = Literal["brief", "full"]
VehicleKind: TypeAlias = Literal["car", "van", "truck", "bus", "trailer", "motorcycle"]
Axle: TypeAlias = Literal["front", "rear", "steer", "drive", "trailer", "spare"]
Fitment: TypeAlias = Literal["single", "dual", "dual_inner", "dual_outer"]
Region: TypeAlias = Literal["tread", "shoulder", "sidewall", "bead"]
Depth: TypeAlias = Literal["rubber_only", "to_cord", "through"]
Stage: TypeAlias = Literal["found", "prepared"]
MeasuredFrom: TypeAlias = Literal["outside", "inside"]
EmergesIn: TypeAlias = Literal["groove", "lug"]
RepairMethod: TypeAlias = Literal["one_piece", "two_piece", "plug_only", "patch_only", "section"]
BodyPly: TypeAlias = Literal["steel", "textile"]
MakerRepair: TypeAlias = Literal["permitted", "forbidden"]
RatingAfterRepair: TypeAlias = Literal["retained", "void", "capped"]
WheelComes: TypeAlias = Literal["on_vehicle", "loose"]
HeatCuredFill: TypeAlias = Literal["tread_rubber", "two_part"]
SpecialTyre: TypeAlias = Literal[
    "run_flat",
    "foam_lined",
    "self_sealing",
    "retread",
    "studded",
    "temporary_spare",
    "tube_type",
    "regrooved",
]

LEAN_DEG_MAX = 80.0
"""The largest lean the contract admits: beyond it a probe lies along the tread, and the injury is a cut."""
