"""The tyre as it is fitted: the facts that the rules on a position ask for, beyond those of the tyre itself.

What nobody measured is the widest it can be, as in `mendgauge.facts.tyre`.
"""

from __future__ import annotations

from typing import Final, get_args

from mendgauge.case.case import Position, Vehicle
from mendgauge.case.service import AxleMate, InService, MatePlace
from mendgauge.core.interval import EITHER, NO, YES, Interval, Truth, any_of, truth
from mendgauge.core.vocabulary import Axle, VehicleKind
from mendgauge.facts.given import choices_left, measured
from mendgauge.facts.load import LOAD, loading
from mendgauge.facts.tyre import TyreFacts
from mendgauge.rulebooks.resolver import provision_for
from mendgauge.rulebooks.schema.book import Edition
from mendgauge.rulebooks.schema.limits import DiameterSpread
from mendgauge.tyre.dimensions import overall_diameter_mm, section_height_mm
from mendgauge.tyre.marking_facts import OVERALL_DIAMETER, SECTION_WIDTH, MarkingFacts, marking_facts_of

# The widest values the contract admits.
VEHICLE_KMH: Final = Interval(0.0, 500.0)
AXLE_LOAD: Final = Interval(0.0, 50_000.0)

_WINTER_TAGS: Final = frozenset({"M+S", "3PMSF"})
_PLACES: Final = choices_left(get_args(MatePlace))
_NO_VEHICLE: Final = Vehicle()
_NO_POSITION: Final = Position()
_NO_SERVICE: Final = InService()


class PositionFacts(TyreFacts):
    """All that is known of a tyre where it runs.

    `axle` is the axle as given; `repaired` whether it runs as a repaired tyre; `loading` what it may carry; `mates` the
    other tyres of its axle, complete where `mates_known`; `spread` how far tyres of one size may differ in diameter.
    What is known of the tyre itself, its injuries among it, it shares with the facts it is made from.
    """

    __slots__ = (
        "axle",
        "axle_load",
        "front",
        "labelled",
        "loading",
        "mates",
        "mates_known",
        "max_load",
        "max_load_dual",
        "repaired",
        "spread",
        "vehicle_kmh",
        "winter",
    )

    def __init__(self, tyre: TyreFacts, edition: Edition) -> None:
        for name in TyreFacts.__slots__:
            setattr(self, name, getattr(tyre, name))
        # The fields behind its facts are its own: more of the case can leave them open than those of the tyre.
        self.fields_behind = {}
        case = self.case
        vehicle, position = case.vehicle or _NO_VEHICLE, case.position or _NO_POSITION
        service, given = case.in_service or _NO_SERVICE, case.tyre
        of = self.tyre_class
        self.vehicle_kmh = measured(vehicle.max_speed_kmh, VEHICLE_KMH)
        self.axle: Axle | None = position.axle
        self.front = _front(position.axle, self.kind)
        self.axle_load = measured(position.axle_load_kg, AXLE_LOAD)
        self.repaired = any_of(_some(self.repairs_needed), _some(self.earlier_count))
        self.max_load = measured(given.max_load_kg, LOAD)
        self.max_load_dual = measured(service.max_load_dual_kg, LOAD)
        self.loading = loading(
            self.marking_facts.marking,
            self.vehicle_kmh,
            None if given.max_load_kg is None else self.max_load,
            None if service.max_load_dual_kg is None else self.max_load_dual,
            provision_for(edition, "moulded_load", of),
        )
        self.spread: DiameterSpread = provision_for(edition, "diameter_spread", of)
        self.mates_known = service.axle_mates is not None
        self.mates = [MateFacts(self, index, mate) for index, mate in enumerate(service.axle_mates or ())]
        marked_winter = not _WINTER_TAGS.isdisjoint(self.marking_facts.marking.tags)
        self.winter = YES if service.winter_tyre is None and marked_winter else truth(service.winter_tyre)
        self.labelled = truth(service.speed_label)

    @property
    def overall_diameter(self) -> Interval:
        """The overall diameter as it is, mm: as measured, else by the marking and the tread left."""
        given = (self.case.in_service or _NO_SERVICE).overall_diameter_mm
        return measured(
            given, diameter(self.marking_facts, self.tread_depth, self.assumed.tread_depth.high, self.spread)
        )


class MateFacts:
    """All that is known of another tyre of the axle."""

    __slots__ = ("index", "marking_facts", "overall_diameter", "places", "tread_depth")

    def __init__(self, tyre: PositionFacts, index: int, mate: AxleMate) -> None:
        self.index = index
        self.places = _PLACES[mate.place]
        self.marking_facts = None if mate.marking is None else marking_facts_of(mate.marking)
        deepest = tyre.assumed.tread_depth
        self.tread_depth = measured(mate.tread_depth_mm, deepest)
        unmeasured = OVERALL_DIAMETER
        if self.marking_facts is not None:
            unmeasured = diameter(self.marking_facts, self.tread_depth, deepest.high, tyre.spread)
        self.overall_diameter = measured(mate.overall_diameter_mm, unmeasured)


def diameter(marking_facts: MarkingFacts, tread_depth: Interval, deepest: float, spread: DiameterSpread) -> Interval:
    """Return the overall diameter that a size and the tread left leave possible, mm, when nobody measured it."""
    nominal, height = overall_diameter_mm(marking_facts.marking), section_height_mm(marking_facts.marking)
    if nominal is None:
        return OVERALL_DIAMETER
    if height is None:
        height = min(nominal / 2.0, SECTION_WIDTH.high)
    least = nominal - 2.0 * height * (1.0 - spread.least_share_of_section_height)
    most = nominal + 2.0 * height * (spread.most_share_of_section_height - 1.0)
    return Interval(least - 2.0 * max(deepest - tread_depth.low, 0.0), most)


def _front(axle: Axle | None, kind: VehicleKind) -> Truth:
    """Return whether it is the vehicle's front axle; a trailer's axles, steered or not, are none."""
    if kind == "trailer":
        return NO
    if axle is None:
        return EITHER
    return YES if axle in ("front", "steer") else NO


def _some(number: Interval) -> Truth:
    """Return whether there is at least one."""
    if number.high == 0.0:
        return NO
    return YES if number.low > 0.0 else EITHER
