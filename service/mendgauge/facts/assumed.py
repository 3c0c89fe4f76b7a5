"""What a rulebook reckons with when nobody measured, for one class of tyre."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from functools import lru_cache

from mendgauge.core.interval import Interval
from mendgauge.rulebooks.resolver import provision_for, provisions_by_topic
from mendgauge.rulebooks.schema.assumed import Estimate
from mendgauge.rulebooks.schema.book import Edition
from mendgauge.rulebooks.schema.repair import SameHole
from mendgauge.rulebooks.schema.units import RepairUnitRule
from mendgauge.tyre.marking_facts import MarkingFacts
from mendgauge.tyre.tyre_class import TyreClass


class AssumedDimensions:
    """A rulebook's figures for one class of tyre, looked up once: what to reckon with when nobody measured."""

    __slots__ = (
        "_inch_span",
        "crown_thickness",
        "cutters",
        "inches",
        "patch",
        "same_hole_mm",
        "tread_depth",
        "tread_width_share",
        "unit",
    )

    def __init__(self, edition: Edition, of: TyreClass) -> None:
        found = provisions_by_topic(edition, "estimates", of)
        self.crown_thickness = _span(found["crown_thickness"])
        self.tread_depth = _span(found["tread_depth"])
        self.patch = _span(found["patch"])
        share = found["tread_width"]
        self.tread_width_share = Interval(
            share.low_share_of_section_width or 0.0, share.high_share_of_section_width or 0.0
        )
        self.cutters: tuple[float, ...] = provision_for(edition, "cutters", of).sizes_mm
        inches = provisions_by_topic(edition, "inch_cutters", of).values()
        self.inches: dict[float, float] = {sent: inch.counts_as_mm for inch in inches for sent in inch.sent_as_mm}
        # From the least to the largest of them, as sent or as it counts.
        sizes = (*self.inches, *self.inches.values())
        self._inch_span = Interval(min(sizes, default=0.0), max(sizes, default=0.0))
        self.unit: RepairUnitRule = provision_for(edition, "repair_unit", of)
        same: SameHole | None = provisions_by_topic(edition, "same_hole", of).get("")
        self.same_hole_mm = -1.0 if same is None else same.within_mm

    def cut(self, hole: Interval) -> Interval:
        """Return the smallest nominal cutter at or above a hole, mm; the hole itself where no cutter is as large."""
        low = self._cutter(hole.low)
        return Interval(low, low if hole.high <= low else self._cutter(hole.high))

    def nominal(self, size: float) -> float:
        """Return the nominal size of a cutter or a stem, mm: what an inch size counts as, any other as it is."""
        return self.inches.get(size, size)

    def nominal_sizes(self, measured: Interval) -> Interval:
        """Return every nominal size of a channel that was cut already, mm."""
        low, high = measured.low, measured.high
        if low == high:
            size = self.nominal(low)
            return Interval(size, size)
        if low <= self._inch_span.low and self._inch_span.high <= high:
            return measured
        within = [counts for sent, counts in self.inches.items() if low <= sent <= high]
        return Interval(min(low, *within), max(high, *within)) if within else measured

    def next_cutter(self, size: float) -> float | None:
        """Return the nominal cutter after a size, mm; none after the largest."""
        place = bisect_right(self.cutters, size)
        return self.cutters[place] if place < len(self.cutters) else None

    def _cutter(self, hole: float) -> float:
        place = bisect_left(self.cutters, hole)
        return self.cutters[place] if place < len(self.cutters) else hole


def _span(estimate: Estimate) -> Interval:
    return Interval(estimate.low_mm or 0.0, estimate.high_mm or 0.0)


@lru_cache(maxsize=256)
def assumed_dimensions(edition: Edition, of: TyreClass) -> AssumedDimensions:
    """Return the figures an edition reckons with for a class of tyre."""
    return AssumedDimensions(edition, of)


def usual_tread_width(marking_facts: MarkingFacts, figures: AssumedDimensions) -> Interval:
    """Return the width of a tread when nobody measured it."""
    share, width = figures.tread_width_share, marking_facts.section_width
    return Interval(share.low * width.low, share.high * width.high)
