"""What a rulebook says of a tyre in service after a repair: its speed, its load, its place, its upkeep."""

from __future__ import annotations

from typing import Annotated, Literal, TypeAlias

from msgspec import Meta

from mendgauge.rulebooks.provision import EVERY_CONDITION, Provision

PositionEffect: TypeAlias = Literal["caution", "not_in_this_position"]
SpeedPeriod: TypeAlias = Literal["first_hours", "afterwards", "temporary_use", "run_deflated"]


class SpeedAfterRepair(Provision, frozen=True, kw_only=True):
    """What the code says becomes of the speed rating of a repaired tyre."""

    word: Literal["maker_decides", "as_before_if_maker_says", "may_change", "mostly_lost", "no_word_found"]


class LoadAfterRepair(Provision, frozen=True, kw_only=True):
    """What the code says becomes of the load of a repaired tyre."""

    word: Literal["kept", "as_before_if_maker_says", "no_change_found", "no_word_found"]


class SpeedLimit(Provision, frozen=True, kw_only=True):
    """A speed not to pass, in one of the two units, and when: for the first hours, after them, or while a tyre is what
    it is. `for_hours` and `for_km` say how long, where it is not for good.
    """

    honours = frozenset({"kinds", "trait"})

    when: SpeedPeriod
    max_kmh: float | None = None
    max_mph: float | None = None
    for_hours: float | None = None
    for_km: float | None = None

    def __post_init__(self) -> None:
        if (self.max_kmh is None) == (self.max_mph is None):
            raise ValueError("a speed limit has a figure in km/h or in mph, and not in both")

    @property
    def about(self) -> str:
        return self.when


UntilThenTopic: TypeAlias = Literal[
    "damaged",
    "sidewall",
    "driven_flat",
    "run_low",
    "losing_air",
    "run_deflated",
    "holds_air",
    "sealant",
    "object",
    "pair",
]


class UntilThen(Provision, frozen=True, kw_only=True):
    """What a driver may do with a tyre in some state until it is seen to: not drive on it, or so fast and so far."""

    topic: UntilThenTopic
    drive: Literal["no", "to_the_bench"]
    max_kmh: float | None = None
    for_km: float | None = None

    @property
    def about(self) -> str:
        return self.topic


class FrontAxle(Provision, frozen=True, kw_only=True):
    """A tyre that is kept off the front axle: one that was repaired, retreaded or regrooved."""

    honours = EVERY_CONDITION

    tyre: Literal["repaired", "retread", "regrooved"]
    effect: PositionEffect

    @property
    def about(self) -> str:
        return self.tyre


class ServiceTread(Provision, frozen=True, kw_only=True):
    """The least tread with which a tyre may run in a position."""

    honours = EVERY_CONDITION

    min_mm: float
    inclusive: bool = True


class SpeedNeed(Provision, frozen=True, kw_only=True):
    """What a speed symbol below the vehicle's top speed comes to, and whether a label excuses a winter tyre."""

    honours = EVERY_CONDITION

    effect: PositionEffect
    winter_label: bool


class AxleLoad(Provision, frozen=True, kw_only=True):
    """How many tyres share the load of an axle, fitted singly and in dual pairs."""

    must_say = ("",)

    tyres_single: int
    tyres_dual: int


class MouldedLoad(Provision, frozen=True, kw_only=True):
    """How a moulded maximum load may stand to the load index's, as shares of it.

    A light truck tyre's may be as low as the first when nobody has read it; one above the second was misread.
    """

    must_say = ("",)

    light_truck_least_share_of_index: float
    most_share_of_index: float


class DiameterSpread(Provision, frozen=True, kw_only=True):
    """How far a tyre's section height, new, may lie from the one its size gives, as shares of it."""

    must_say = ("",)

    least_share_of_section_height: float
    most_share_of_section_height: float


class DualMatch(Provision, frozen=True, kw_only=True):
    """The largest difference of overall diameter in a dual pair, by the smaller diameter.

    Up to each of `to_diameter_mm` the difference at the same place holds, beyond the last one the last difference.
    """

    honours = EVERY_CONDITION

    to_diameter_mm: Annotated[tuple[float, ...], Meta(min_length=1)]
    max_difference_mm: Annotated[tuple[float, ...], Meta(min_length=2)]
    effect: PositionEffect

    def __post_init__(self) -> None:
        if len(self.max_difference_mm) != len(self.to_diameter_mm) + 1:
            raise ValueError("one difference more than diameters: the last is for every larger tyre")


class TreadDifference(Provision, frozen=True, kw_only=True):
    """The largest difference of tread left between two tyres: of a dual pair, or of the two ends of an axle."""

    honours = EVERY_CONDITION

    between: Literal["dual_mate", "other_end"]
    max_mm: float
    effect: PositionEffect

    @property
    def about(self) -> str:
        return self.between


class AxleMatch(Provision, frozen=True, kw_only=True):
    """What all tyres of an axle have in common, and what it comes to where they have not."""

    honours = EVERY_CONDITION

    same: Literal["size", "construction"]
    effect: PositionEffect

    @property
    def about(self) -> str:
        return self.same


class FollowUp(Provision, frozen=True, kw_only=True):
    """What is looked at again after the repair: once within a window of distance or time, or every so many days."""

    honours = frozenset({"kinds", "trait"})

    what: Literal["pressure_check", "re_torque", "inspection", "foam_look", "self_sealing_look"]
    from_km: float | None = None
    to_km: float | None = None
    from_miles: float | None = None
    to_miles: float | None = None
    within_hours: float | None = None
    every_days: float | None = None

    @property
    def about(self) -> str:
        return self.what
