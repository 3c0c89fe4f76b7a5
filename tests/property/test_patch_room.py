"""Patches on the unrolled liner against shapely, and against every place their centres may have."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st
from shapely import Point, Polygon, affinity, box
from tests.property.cases import tenths

from mendgauge.case.stock import StockUnit
from mendgauge.core.interval import NO, YES, Interval, point
from mendgauge.operations.repair_units.fit import Item
from mendgauge.operations.repair_units.patch_room import Patch, between, clear, inside
from mendgauge.operations.repair_units.search import FREE, Candidate, useful

BLUR = 0.02
"""Shapely draws circles as polygons, mm."""


@st.composite
def patches(draw: st.DrawFn) -> Patch:
    across = draw(tenths(5, 40))
    return Patch(True, across, across) if draw(st.booleans()) else Patch(False, across, draw(tenths(5, 40)))


@st.composite
def spans(draw: st.DrawFn, most: float) -> tuple[Interval, float]:
    """A span of a distance, and a value in it."""
    low, value, high = sorted((draw(tenths(0, most)), draw(tenths(0, most)), draw(tenths(0, most))))
    return Interval(low, high), value


def drawn(patch: Patch, across: float, along: float) -> Polygon:
    half_across, half_along = patch.half_across, patch.half_along
    flat = Point(0, 0).buffer(half_across, quad_segs=64)
    return affinity.translate(
        flat if patch.is_round else box(-half_across, -half_along, half_across, half_along), across, along
    )


@given(patches(), patches(), tenths(0, 120), tenths(0, 120))
def test_the_gap_between_two_patches_is_that_of_the_plane(
    one: Patch, other: Patch, sideways: float, along: float
) -> None:
    least = between(one, other, sideways, along)
    seen = drawn(one, 0, 0).distance(drawn(other, sideways, along))
    assert abs(max(least, 0.0) - seen) < BLUR


@given(patches(), patches(), spans(120), spans(120), tenths(0, 30))
def test_patches_that_stay_clear_do_so_wherever_they_lie(
    one: Patch, other: Patch, sideways: tuple[Interval, float], along: tuple[Interval, float], gap: float
) -> None:
    answer = clear(one, other, sideways[0], along[0], point(gap))
    there = between(one, other, sideways[1], along[1]) >= gap
    assert there or answer != YES
    assert not there or answer != NO


@given(patches(), spans(80), spans(100))
def test_a_patch_in_the_band_is_so_wherever_it_lies(
    patch: Patch, off_centre: tuple[Interval, float], half_width: tuple[Interval, float]
) -> None:
    answer = inside(patch, off_centre[0], half_width[0])
    there = drawn(patch, off_centre[1], 0).bounds[2] <= half_width[1] + 1e-9
    assert there or answer != YES
    assert not there or answer != NO


def unit_with(patch: Patch, index: int) -> Candidate:
    """Return a unit of which there is one, the cheaper the lower its index."""
    cost = (*FREE[:3], index, *FREE[4:])
    return Candidate(Item(StockUnit(code="P", kind="patch"), index, False, patch, None, 1.0, False, cost), (), cost)


@given(patches(), patches())
def test_a_unit_is_needless_only_where_the_patch_of_one_before_it_never_reaches_out_of_its_own(
    one: Patch, other: Patch
) -> None:
    kept = useful([unit_with(one, 0), unit_with(other, 1)], 1)
    inside = drawn(one, 0, 0).difference(drawn(other, 0, 0).buffer(BLUR)).is_empty
    assert inside or len(kept) == 2
    reaches_out = drawn(one, 0, 0).buffer(-BLUR).difference(drawn(other, 0, 0)).area > BLUR
    assert reaches_out or len(kept) == 1
