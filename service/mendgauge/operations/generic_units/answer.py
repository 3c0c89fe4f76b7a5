"""The codes that a price book has prices for where a shop sends no stock of its own."""

from __future__ import annotations

from typing import Annotated

import msgspec
from msgspec import Meta

from mendgauge.answers.base import RulebookUsed, open_words

_ForClasses = Annotated[
    tuple[str, ...], Meta(max_length=5, description="Classes of tyre it is used on.", examples=[["car", "van"]])
]


class GenericUnit(msgspec.Struct, frozen=True, kw_only=True):
    """A nominal size of repair unit, stem or patch that stands in for a shop's stock."""

    code: Annotated[
        str,
        Meta(
            description="Its code: in answers, and in `units` of a price book.",
            examples=["generic one-piece 6 x 65 x 45"],
        ),
    ]
    kind: Annotated[
        str,
        Meta(
            description="A unit in one piece, a stem, or a patch.",
            examples=["one_piece"],
            extra_json_schema=open_words("one_piece", "stem", "patch"),
        ),
    ]
    stem_mm: Annotated[float | None, Meta(description="Diameter of its stem, mm; null for a patch.", examples=[6.0])]
    stem_length_mm: Annotated[
        float | None, Meta(description="Length of its stem, mm; null for a patch.", examples=[65.0])
    ]
    patch_mm: Annotated[float | None, Meta(description="Diameter of its patch, mm; null for a stem.", examples=[45.0])]
    reinforced: Annotated[
        bool | None, Meta(description="Whether its patch has a ply of cord; null for a stem.", examples=[False])
    ]
    classes: _ForClasses


class PricedConsumable(msgspec.Struct, frozen=True, kw_only=True):
    """What a repair uses up and a price book may have a price for."""

    code: Annotated[
        str, Meta(description="Its code: in work plans, and in `consumables` of a price book.", examples=["cement"])
    ]
    title: Annotated[str, Meta(description="What it is.", examples=["Rubber cement"])]
    unit: Annotated[
        str,
        Meta(description="What one price is for.", examples=["ml"], extra_json_schema=open_words("ml", "piece")),
    ]
    classes: _ForClasses


class GenericUnits(msgspec.Struct, frozen=True, kw_only=True):
    """What a till sets prices for before the first quote, by the codes that answers use."""

    rulebook: RulebookUsed
    units: Annotated[
        tuple[GenericUnit, ...],
        Meta(
            max_length=1000,
            description="The nominal sizes, in the order of the rulebook. Where none of them fits, an answer names a "
            "size made to measure, by a code of the same form, that is not in this list.",
        ),
    ]
    consumables: Annotated[
        tuple[PricedConsumable, ...], Meta(max_length=100, description="What a repair uses up beside the unit.")
    ]
