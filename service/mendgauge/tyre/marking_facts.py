"""What a marking alone says of a tyre: its size, its speed, and the vehicles it runs on."""

from __future__ import annotations

from functools import lru_cache
from math import pi
from typing import Final

import msgspec

from mendgauge.core.interval import Interval, Truth, point
from mendgauge.core.vocabulary import VehicleKind
from mendgauge.tyre.dimensions import overall_diameter_bounds_mm, section_height_mm
from mendgauge.tyre.marking import Marking, read_marking
from mendgauge.tyre.speed import at_least_symbol, rated_speed
from mendgauge.tyre.tyre_class import possible_uses

# The widest values the contract admits, for a marking that does not say.
SECTION_WIDTH: Final = Interval(40.0, 800.0)
OVERALL_DIAMETER: Final = Interval(250.0, 2500.0)


_ON_SIDEWALLS: Final = ("run_flat", "temporary_spare", "tube_type", "retread")
"""The traits that a marking says where the tyre has them."""


class SizeAndSpeed(msgspec.Struct, frozen=True, eq=False, gc=False):
    """What of a marking decides which limits apply. There is one for all markings of the same width and speed."""

    section_width: Interval
    rated_kmh: Interval


@lru_cache(maxsize=1024)
def _size_and_speed(section_width: Interval, rated_kmh: Interval) -> SizeAndSpeed:
    return SizeAndSpeed(section_width, rated_kmh)


class MarkingFacts:
    """What a marking alone says of a tyre: its size, its speed, and the vehicles it runs on."""

    __slots__ = (
        "across",
        "across_tread",
        "around",
        "circumference",
        "half_profile",
        "implied",
        "marking",
        "overall_diameter",
        "rated_kmh",
        "section_width",
        "size_and_speed",
        "uses_on",
    )

    def __init__(self, marking: Marking) -> None:
        self.marking = marking
        width = marking.section_width_mm
        self.section_width = SECTION_WIDTH if width is None else point(width)
        self.overall_diameter = overall_diameter_bounds_mm(marking) or OVERALL_DIAMETER
        self.circumference = self.overall_diameter.times(pi)
        height = section_height_mm(marking)
        self.half_profile = self.section_width.high / 2.0 + (self.section_width.high if height is None else height)
        # Where an injury can be: across the tyre, across its tread, and round it.
        self.across = Interval(-self.half_profile, self.half_profile)
        self.across_tread = Interval(-self.section_width.high / 2.0, self.section_width.high / 2.0)
        self.around = Interval(0.0, self.circumference.high)
        self.rated_kmh = rated_speed(marking)
        self.size_and_speed = _size_and_speed(self.section_width, self.rated_kmh)
        self.uses_on = possible_uses(marking)
        self.implied = tuple(trait for trait in _ON_SIDEWALLS if getattr(marking, trait))

    @property
    def kinds(self) -> tuple[VehicleKind, ...]:
        """The kinds of vehicle it goes on."""
        return tuple(kind for kind in self.uses_on if kind is not None)

    @property
    def v_or_above(self) -> Truth:
        """Whether its speed symbol is V or above."""
        return at_least_symbol(self.marking, "V")


@lru_cache(maxsize=4096)
def marking_facts_of(marking: str) -> MarkingFacts:
    """Return what a marking as it was typed says. Raise `MarkingError`."""
    return MarkingFacts(read_marking(marking))
