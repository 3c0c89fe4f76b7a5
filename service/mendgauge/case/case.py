"""The case: the one request body of every capability, in the trade's words.

Everything but `rulebook` and `tyre.marking` may be left out. Left out, or null, means *not known*; an empty list means
*none*. Every measured number may be given as a number or as a range `{"low": …, "high": …}`.
"""

from __future__ import annotations

from datetime import date
from typing import Annotated

from msgspec import Meta

from mendgauge.case.house_rules import HouseRules
from mendgauge.case.injury import EarlierRepair, Injury
from mendgauge.case.instruments import Measuring
from mendgauge.case.price_book import PriceBook
from mendgauge.case.replacement import Replacement
from mendgauge.case.service import InService
from mendgauge.case.shop import Bench, HouseTimes
from mendgauge.case.stock import STOCK_MAX, StockUnit
from mendgauge.core.vocabulary import (
    Axle,
    BodyPly,
    Detail,
    Fitment,
    MakerRepair,
    Range,
    RatingAfterRepair,
    RequestModel,
    VehicleKind,
)

REFERENCE_MAX = 100
"""Characters of the caller's own name for a case."""
CODES_MAX = 20
"""How many codes of its own a caller may send with a case."""
CODE_MAX = 60
"""Characters of the name of such a code."""
CODE_TEXT_MAX = 100
"""Characters of what stands under it."""


class Vehicle(RequestModel, frozen=True, kw_only=True):
    """The vehicle the tyre runs on."""

    kind: Annotated[
        VehicleKind | None, Meta(description="What the vehicle is. Decides which limits apply.", examples=["car"])
    ] = None
    gross_mass_kg: (
        Annotated[
            float, Meta(ge=0, le=200_000, description="Maximum permitted mass of the vehicle, kg.", examples=[1900])
        ]
        | Range
        | None
    ) = None
    max_speed_kmh: (
        Annotated[float, Meta(ge=0, le=500, description="Top speed of the vehicle, km/h.", examples=[215])]
        | Range
        | None
    ) = None


class Position(RequestModel, frozen=True, kw_only=True):
    """Where the tyre sits on the vehicle."""

    axle: Annotated[
        Axle | None,
        Meta(
            description="Which axle; `steer` and `drive` are the words for heavy vehicles.",
            examples=["rear"],
        ),
    ] = None
    steered: Annotated[
        bool | None,
        Meta(
            description="Whether the axle steers. `axle: steer` says so already, `front` of all but a trailer.",
            examples=[False],
        ),
    ] = None
    fitment: Annotated[
        Fitment | None,
        Meta(
            description="Single, or one of a dual pair; `dual` when it is not known which of the two.",
            examples=["single"],
        ),
    ] = None
    axle_load_kg: (
        Annotated[float, Meta(ge=0, le=50_000, description="Load on the whole axle, kg.", examples=[980])]
        | Range
        | None
    ) = None


class Traits(RequestModel, frozen=True, kw_only=True):
    """What kind of tyre it is beyond its marking."""

    complete: Annotated[
        bool,
        Meta(description="True: the tyre was looked at, and a trait not named here is absent.", examples=[True]),
    ] = False
    run_flat: Annotated[bool | None, Meta(description="Self-supporting sidewalls.", examples=[False])] = None
    foam_lined: Annotated[bool | None, Meta(description="Noise-damping foam on the liner.", examples=[False])] = None
    self_sealing: Annotated[
        bool | None, Meta(description="A sealing layer on the liner from the factory.", examples=[False])
    ] = None
    retread: Annotated[bool | None, Meta(description="Retreaded.", examples=[False])] = None
    studded: Annotated[bool | None, Meta(description="Fitted with winter studs.", examples=[False])] = None
    temporary_spare: Annotated[bool | None, Meta(description="A spare for temporary use only.", examples=[False])] = (
        None
    )
    tube_type: Annotated[bool | None, Meta(description="Runs with an inner tube.", examples=[False])] = None
    regrooved: Annotated[bool | None, Meta(description="The tread pattern has been recut.", examples=[False])] = None


class MakerPolicy(RequestModel, frozen=True, kw_only=True):
    """What the maker of this tyre says of repairs. Only the maker's own word belongs here."""

    repair: Annotated[
        MakerRepair | None,
        Meta(description="Whether the maker lets this tyre be repaired.", examples=["permitted"]),
    ] = None
    speed_rating_after_repair: Annotated[
        RatingAfterRepair | None,
        Meta(description="What the maker says of the speed rating after a repair.", examples=["retained"]),
    ] = None
    speed_cap_kmh: Annotated[
        Annotated[float, Meta(gt=0, le=500)] | None,
        Meta(description="The speed the maker allows after a repair, km/h, where it is capped.", examples=[180]),
    ] = None
    max_repairs: Annotated[
        Annotated[float, Meta(ge=0, le=50, multiple_of=1)] | None,
        Meta(description="How many repairs the maker allows in this tyre, all counted.", examples=[2]),
    ] = None


class Tyre(RequestModel, frozen=True, kw_only=True):
    """The tyre, from its sidewall and from the gauge."""

    marking: Annotated[
        str,
        Meta(
            max_length=80,
            description="Size and service description as moulded on the sidewall.",
            examples=["205/55R16 91V"],
        ),
    ]
    date_code: (
        Annotated[
            str,
            Meta(
                max_length=60,
                description="The date code (week and year), or the whole tyre identification number that ends in it.",
                examples=["2323"],
            ),
        ]
        | None
    ) = None
    tread_depth_mm: (
        Annotated[float, Meta(ge=0, le=50, description="Tread left, at the shallowest point, mm.", examples=[5.0])]
        | Range
        | None
    ) = None
    new_tread_depth_mm: (
        Annotated[float, Meta(gt=0, le=50, description="Tread depth when new, mm.", examples=[8.0])] | Range | None
    ) = None
    tread_width_mm: (
        Annotated[float, Meta(ge=10, le=1000, description="Width of the tread, edge to edge, mm.", examples=[165])]
        | Range
        | None
    ) = None
    crown_thickness_mm: (
        Annotated[
            float, Meta(gt=0, le=60, description="Thickness from the liner to the groove base, mm.", examples=[7])
        ]
        | Range
        | None
    ) = None
    body_ply: Annotated[
        BodyPly | None, Meta(description="What the carcass cords are made of.", examples=["textile"])
    ] = None
    max_load_kg: (
        Annotated[
            float,
            Meta(gt=0, le=150_000, description="Maximum load moulded on the sidewall, single, kg.", examples=[615]),
        ]
        | Range
        | None
    ) = None
    traits: Annotated[Traits | None, Meta(description="What kind of tyre it is. Left out: not known.")] = None
    maker_policy: Annotated[
        MakerPolicy | None, Meta(description="What the tyre's maker says of repairs. Left out: not known.")
    ] = None


class Inspection(RequestModel, frozen=True, kw_only=True):
    """What the bench saw of the tyre, inside and out."""

    complete: Annotated[
        bool,
        Meta(
            description="True: everything here was looked for, and what is not named was not found; nor was any hole "
            "plugged of which `plugged_from_outside` is left out.",
            examples=[True],
        ),
    ] = False
    belt_separation: Annotated[
        bool | None, Meta(description="Belt or tread coming apart from the carcass.", examples=[False])
    ] = None
    bulge: Annotated[bool | None, Meta(description="A bulge in the tread or sidewall.", examples=[False])] = None
    cord_exposed: Annotated[
        bool | None, Meta(description="Cord or body ply exposed, broken or rusted.", examples=[False])
    ] = None
    bead_damage: Annotated[
        bool | None, Meta(description="Bead torn, kinked or its wire showing.", examples=[False])
    ] = None
    liner_damage: Annotated[
        bool | None, Meta(description="Liner damaged beyond what a repair unit would cover.", examples=[False])
    ] = None
    run_flat_signs: Annotated[
        bool | None,
        Meta(
            description="Signs of running low or flat: liner creased, wrinkled or marbled, rubber dust.",
            examples=[False],
        ),
    ] = None
    secondary_damage: Annotated[
        bool | None, Meta(description="Damage the object did inside the tyre beyond its own hole.", examples=[False])
    ] = None
    perished: Annotated[bool | None, Meta(description="Rubber perished, or cracked to the cord.", examples=[False])] = (
        None
    )
    contaminated: Annotated[bool | None, Meta(description="Soaked with oil, fuel or solvent.", examples=[False])] = None
    zipper_signs: Annotated[
        bool | None,
        Meta(
            description="Ripples, soft spots or popping in the sidewall: steel cords that may burst open.",
            examples=[False],
        ),
    ] = None


class History(RequestModel, frozen=True, kw_only=True):
    """What the tyre went through before it reached the bench."""

    complete: Annotated[
        bool,
        Meta(
            description="True: the driver was asked, and what is not named did not happen; nor was any hole plugged of "
            "which `plugged_from_outside` is left out. `losing_air` is left open.",
            examples=[True],
        ),
    ] = False
    driven_flat: Annotated[bool | None, Meta(description="Driven flat or nearly flat.", examples=[False])] = None
    pressure_found_percent: (
        Annotated[
            float,
            Meta(ge=0, le=200, description="Pressure found, percent of the recommended pressure.", examples=[85]),
        ]
        | Range
        | None
    ) = None
    sealant_used: Annotated[
        bool | None, Meta(description="Sealant or an aerosol inflator was put in.", examples=[False])
    ] = None
    flat_distance_km: (
        Annotated[float, Meta(ge=0, le=10_000, description="How far it was driven flat, km.", examples=[0])]
        | Range
        | None
    ) = None
    losing_air: Annotated[
        bool | None,
        Meta(
            description="Whether it loses air now: it is flat, a hiss is heard, or the pressure falls between two "
            "checks. `complete` does not answer this.",
            examples=[False],
        ),
    ] = None


class Case(RequestModel, frozen=True, kw_only=True):
    """A punctured tyre, as far as it is known."""

    rulebook: Annotated[
        str,
        Meta(
            pattern=r"^[a-z]{2}(@[0-9]{4}\.[0-9]+)?\Z",
            max_length=20,
            description="The rulebook that applies, by its id; `gb@2026.1` pins an edition.",
            examples=["gb"],
        ),
    ]
    tyre: Tyre
    reference: (
        Annotated[
            str,
            Meta(
                max_length=REFERENCE_MAX,
                description="The caller's own name for the case; comes back in the answer.",
                examples=["DEPOT-3/OFFSIDE-REAR"],
            ),
        ]
        | None
    ) = None
    codes: (
        Annotated[
            dict[
                Annotated[str, Meta(min_length=1, max_length=CODE_MAX)],
                Annotated[str, Meta(max_length=CODE_TEXT_MAX)],
            ],
            Meta(
                max_length=CODES_MAX,
                description="The caller's own codes, such as a fleet's for reason and work done: any name to any text. "
                "Nothing reads them; they come back in the answer as they are.",
                examples=[{"reason_for_repair": "08", "tyre_position": "LRI"}],
            ),
        ]
        | None
    ) = None
    assessed_on: Annotated[
        date | None,
        Meta(description="The day the case is judged on, up to 2199; today when left out.", examples=["2026-11-24"]),
    ] = None
    vehicle: Annotated[Vehicle | None, Meta(description="The vehicle the tyre runs on. Left out: not known.")] = None
    position: Annotated[Position | None, Meta(description="Where the tyre sits on it. Left out: not known.")] = None
    injuries: (
        Annotated[
            tuple[Injury, ...],
            Meta(max_length=20, description="Every injury known. Left out: there is one, of which nothing is known."),
        ]
        | None
    ) = None
    earlier_repairs: (
        Annotated[
            tuple[EarlierRepair, ...],
            Meta(max_length=50, description="Every repair the tyre already carries. Left out: not known; empty: none."),
        ]
        | None
    ) = None
    inspection: Annotated[
        Inspection | None, Meta(description="What the bench saw of the tyre. Left out: not known.")
    ] = None
    history: Annotated[History | None, Meta(description="What the tyre went through. Left out: not known.")] = None
    in_service: Annotated[InService | None, Meta(description="How the tyre runs, for `/v1/service-limits`.")] = None
    house_rules: Annotated[
        HouseRules | None, Meta(description="What the caller's own house asks beyond the rulebook.")
    ] = None
    measuring: Annotated[Measuring | None, Meta(description="How exactly the shop measures.")] = None
    stock: (
        Annotated[
            tuple[StockUnit, ...],
            Meta(
                max_length=STOCK_MAX,
                description="The shop's repair units, for the choice of units, the trim and the work plan. Left out: "
                "generic sizes; empty: the shop has none.",
            ),
        ]
        | None
    ) = None
    bench: Annotated[Bench | None, Meta(description="The bench the work is done at, for `/v1/work-plans`.")] = None
    house_times: Annotated[
        HouseTimes | None, Meta(description="The shop's own times and quantities, for `/v1/work-plans`.")
    ] = None
    price_book: Annotated[PriceBook | None, Meta(description="The shop's prices, for `/v1/quotes`.")] = None
    replacement: Annotated[
        Replacement | None, Meta(description="The replacement to compare a repair with, for `/v1/quotes`.")
    ] = None
    detail: Annotated[
        Detail,
        Meta(
            description="How much the answer says. `brief`: what to act on, with no caution, limit or reason left out; "
            "`full`: also rules that are met, units passed over, and where each figure comes from.",
            examples=["brief"],
        ),
    ] = "brief"
