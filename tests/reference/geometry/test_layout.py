"""Where repairs come to lie on the liner, against discs drawn with shapely (https://shapely.readthedocs.io).

Asked through the answer, with every fact known: the distance that the rule on overlap saw, the least it asked for, and
whether the patches with their buffed margins keep clear of each other.
"""

from __future__ import annotations

from math import pi
from random import Random
from typing import Any, NamedTuple, TypeAlias

import msgspec
import pytest
from shapely import Polygon
from shapely.geometry import Point
from tests.reference.geometry.shapes import Channel, across_the_seam, disc, farthest

from mendgauge.answers.finding import Finding
from mendgauge.case.case import Case
from mendgauge.operations.repairability import check_repairability
from mendgauge.rulebooks import find_edition
from mendgauge.rulebooks.schema.units import RepairUnitRule

Json: TypeAlias = dict[str, Any]

LAYOUTS = 500
ONE_HOLE_MM = 5.0
"""Channels no farther apart are one hole: common practice, as the workshop's `same_hole` has it."""


class Size(NamedTuple):
    """A tyre by its marking: section width, aspect and rim are read off it by hand."""

    marking: str
    kind: str
    diameter_mm: float
    half_width_mm: float
    thickness: tuple[float, float]


SIZES = (
    Size("205/55R16 91V", "car", 16 * 25.4 + 2 * 0.55 * 205, 100, (5, 9)),
    Size("315/80R22.5 156/150L", "truck", 22.5 * 25.4 + 2 * 0.80 * 315, 150, (12, 22)),
)


class Repair(NamedTuple):
    """A patch on the liner, laid flat: its middle, what it must cover, and how large it is."""

    across: float
    along: float
    patch: float


def drawn(random: Random, size: Size) -> tuple[Json, list[Repair], float]:
    """A case with one or two injuries and an earlier repair, the patches it comes to, and once round the liner."""
    crown_thickness, tread, worn = random.uniform(*size.thickness), random.uniform(4, 8), random.uniform(0, 12)
    radius = size.diameter_mm / 2 - worn
    round_once = 2 * pi * radius
    at_liner = 1 - (crown_thickness + tread) / radius
    # Half of the layouts lie about the valve, where the unrolled tread has its seam.
    about = random.choice((0.0, random.uniform(0, round_once)))
    unit = unit_of(size.kind)

    def around() -> float:
        return (about + random.uniform(-110, 110)) % round_once

    injuries, repairs = [], []
    for _ in range(random.choice((1, 2))):
        inside, lug = random.random() < 0.5, random.random() < 0.5
        one = Channel(
            across=random.uniform(-size.half_width_mm, size.half_width_mm) / 2,
            around=around(),
            diameter=random.choice((3.0, 4.5, 6.0, 8.0)),
            lean_deg=random.choice((0.0, random.uniform(0, 40))),
            toward_deg=random.uniform(0, 360),
            thickness=crown_thickness + (tread if lug else 0.0),
        )
        injuries.append(
            {
                "region": "tread",
                "depth": "through",
                "across_mm": one.across,
                "around_mm": one.around * (at_liner if inside else 1.0),
                "measured_from": "inside" if inside else "outside",
                "diameter_mm": one.diameter,
                "stage": "prepared",
                "lean_deg": one.lean_deg,
                "lean_toward_deg": one.toward_deg,
                "emerges_in": "lug" if lug else "groove",
            }
        )
        mouth = one.start if inside else one.end
        middle = mouth.centroid
        patch = 2 * farthest(covered(mouth, unit, one.diameter), middle.x, middle.y)
        # Where it starts is an arc at the tread; how far it shifts on the way in is a length at the liner.
        repairs.append(Repair(middle.x, one.around * at_liner + middle.y - one.around, patch))
    earlier: Json = {
        "method": "one_piece",
        "proper": True,
        "across_mm": random.uniform(-size.half_width_mm, size.half_width_mm) / 2,
        "around_mm": around(),
        "measured_from": "outside",
        "patch_mm": random.uniform(25, 80),
    }
    repairs.append(Repair(earlier["across_mm"], earlier["around_mm"] * at_liner, earlier["patch_mm"]))
    case = {
        "rulebook": "gb",
        "assessed_on": "2026-11-24",
        "vehicle": {"kind": size.kind},
        "tyre": {
            "marking": size.marking,
            "crown_thickness_mm": crown_thickness,
            "tread_depth_mm": tread,
            "new_tread_depth_mm": tread + worn,
        },
        "injuries": injuries,
        "earlier_repairs": [earlier],
        "detail": "full",
    }
    return case, repairs, round_once * at_liner


def unit_of(kind: str) -> RepairUnitRule:
    """What the workshop practice says of a class of tyre: reach past the mouth, and margin round the patch."""
    return next(entry for entry in find_edition("gb").workshop.repair_unit if kind in entry.classes)


def covered(mouth: Polygon, unit: RepairUnitRule, diameter: float) -> Polygon:
    """What a patch must cover: the mouth, and as far past it on every side as the practice says."""
    reinforced = unit.reinforced_over_mm is not None and diameter > unit.reinforced_over_mm
    return mouth.buffer(unit.reach_reinforced_mm if reinforced else unit.reach_mm, quad_segs=90)


def overlap_findings(case: Json, rule: str = "overlap") -> dict[int | None, Finding]:
    answer = check_repairability(msgspec.convert(case, Case))
    return {finding.injury: finding for finding in answer.findings if finding.rule == rule}


def drawn_beside(random: Random, size: Size) -> tuple[Json, list[Repair], float]:
    """A layout with one injury that has the earlier repair beside it, and not in its own hole."""
    while True:
        case, repairs, round_once = drawn(random, size)
        if middles_apart(repairs[0], repairs[-1], round_once) > ONE_HOLE_MM:
            case["injuries"] = case["injuries"][:1]
            return case, repairs, round_once


def middles_apart(one: Repair, other: Repair, round_once: float) -> float:
    """The distance of two middles, across the seam where that is nearer."""
    copies = across_the_seam(disc(other.across, other.along, 1.0), round_once)
    return min(float(Point(one.across, one.along).distance(copy.centroid)) for copy in copies)


@pytest.mark.parametrize("size", SIZES, ids=lambda size: size.kind)
def test_patches_keep_clear_exactly_when_their_discs_do(size: Size) -> None:
    random = Random(10)
    margin = unit_of(size.kind).buffed_margin_mm
    verdicts = set()
    for _ in range(LAYOUTS):
        case, repairs, round_once = drawn(random, size)
        findings, in_one_hole = overlap_findings(case), overlap_findings(case, "same_hole")
        for index in range(len(case["injuries"])):
            own, others = repairs[index], [one for other, one in enumerate(repairs) if other != index]
            apart = [clear(own, other, margin, round_once) for other in others]
            if min(abs(gap) for gap in apart) < 0.02:
                continue  # Nearer to touching than a polygon shows.
            kept = all(gap > 0 for gap in apart)
            outcomes = {findings[index].outcome, in_one_hole[index].outcome}
            assert outcomes == {"met"} if kept else "broken" in outcomes, case
            distance = middles_apart(own, repairs[-1], round_once)
            if abs(distance - ONE_HOLE_MM) > 0.02:
                assert in_one_hole[index].outcome == ("broken" if distance < ONE_HOLE_MM else "met"), case
            verdicts.add((kept, in_one_hole[index].outcome))
    assert verdicts == {(True, "met"), (False, "met"), (False, "broken")}


def clear(one: Repair, other: Repair, margin: float, round_once: float) -> float:
    """The gap between two buffed outlines, across the seam where that is nearer; below zero by how far they overlap."""
    middle = Point(one.across, one.along)
    there = across_the_seam(disc(other.across, other.along, other.patch + 2 * margin), round_once)
    nearest = min(middle.distance(copy.centroid) for copy in there)
    own = disc(one.across, one.along, one.patch + 2 * margin)
    gap = min(float(own.distance(copy)) for copy in there)
    return gap if gap > 0 else nearest - (one.patch + other.patch) / 2 - 2 * margin


@pytest.mark.parametrize("size", SIZES, ids=lambda size: size.kind)
def test_distance_and_least_distance_of_two_repairs(size: Size) -> None:
    """With one injury and one earlier repair the answer names the distance of their middles, and what it should be."""
    random = Random(11)
    margin = unit_of(size.kind).buffed_margin_mm
    for _ in range(LAYOUTS):
        case, repairs, round_once = drawn_beside(random, size)
        own, earlier = repairs[0], repairs[-1]
        finding = overlap_findings(case)[0]
        distance = middles_apart(own, earlier, round_once)
        assert finding.observed is not None
        assert finding.limit is not None
        assert finding.observed.low == pytest.approx(distance, abs=2e-3)
        assert finding.observed.high == pytest.approx(distance, abs=2e-3)
        assert finding.limit.value == pytest.approx((own.patch + earlier.patch) / 2 + 2 * margin, abs=2e-2)


def worn_truck(**tyre: float) -> Json:
    """A truck tyre with 4 mm of 17 left, a hole at 10 mm from the valve and an earlier repair at 3260."""
    at = {"region": "tread", "depth": "through", "across_mm": 0, "measured_from": "outside"}
    return {
        "rulebook": "gb",
        "assessed_on": "2026-11-24",
        "vehicle": {"kind": "truck"},
        "tyre": {"marking": SIZES[1].marking, "crown_thickness_mm": 16, "tread_depth_mm": 4} | tyre,
        "injuries": [at | {"around_mm": 10, "diameter_mm": 6, "stage": "prepared", "lean_deg": 0}],
        "earlier_repairs": [
            {"method": "one_piece", "proper": True, "patch_mm": 45, "around_mm": 3260}
            | {"across_mm": 0, "measured_from": "outside"}
        ],
        "detail": "full",
    }


@pytest.mark.parametrize("points", [20_000])
def test_a_worn_tread_is_shorter_once_round(points: int) -> None:
    """Walk round the worn tread and find the two places, then measure between them along the liner."""
    radius = SIZES[1].diameter_mm / 2 - 13
    step = 2 * pi * radius / points
    first, second = round(10 / step), round(3260 / step)
    walked = min((second - first) % points, (first - second) % points) * step * (radius - 20) / radius
    finding = overlap_findings(worn_truck(new_tread_depth_mm=17))[0]
    assert finding.observed is not None
    assert finding.observed.low == pytest.approx(walked, abs=2 * step)
    assert finding.outcome == "broken"


def test_how_far_a_tread_is_worn_may_be_open_or_be_settled_by_the_diameter_as_measured() -> None:
    unknown = overlap_findings(worn_truck())[0]
    assert unknown.observed is not None
    known = overlap_findings(worn_truck(new_tread_depth_mm=17))[0].observed
    assert known is not None
    assert unknown.observed.low <= known.low <= known.high <= unknown.observed.high
    case = worn_truck() | {"in_service": {"overall_diameter_mm": SIZES[1].diameter_mm - 26}}
    measured = overlap_findings(case)[0].observed
    assert measured is not None
    assert measured.low == pytest.approx(known.low, abs=1e-3)


def test_the_neighbour_that_is_named_is_the_one_with_the_least_to_spare() -> None:
    """A small patch 50 mm away keeps its distance, a large one 60 mm away does not: the large one is named."""
    case = worn_truck(new_tread_depth_mm=4)
    near, far = dict(case["earlier_repairs"][0]), dict(case["earlier_repairs"][0])
    near |= {"across_mm": 50, "around_mm": 10, "patch_mm": 25}
    far |= {"across_mm": -60, "around_mm": 10, "patch_mm": 85}
    finding = overlap_findings(case | {"earlier_repairs": [near, far]})[0]
    assert finding.outcome == "broken"
    assert finding.observed is not None
    assert finding.observed.low == 60
    assert finding.margin is not None
    # A 6 mm channel takes a patch of 6 + 2 x 12 = 30: (30 + 85) / 2 + 20 = 77.5 is asked for.
    assert finding.margin == pytest.approx(60 - 77.5)


def test_the_smallest_patch_covers_the_mouth_with_its_reach_and_a_smaller_one_does_not() -> None:
    """The least distance gives the patch: with margins and the other patch known, it is what is left."""
    random = Random(12)
    size = SIZES[0]
    unit = unit_of(size.kind)
    for _ in range(LAYOUTS):
        case, _, _ = drawn_beside(random, size)
        injury = case["injuries"][0]
        finding = overlap_findings(case)[0]
        assert finding.limit is not None
        patch = 2 * (finding.limit.value - 2 * unit.buffed_margin_mm) - case["earlier_repairs"][0]["patch_mm"]
        mouth = Channel(0, 0, injury["diameter_mm"], injury["lean_deg"], injury["lean_toward_deg"], 0.0).start
        needed = covered(mouth, unit, injury["diameter_mm"])
        assert disc(0, 0, patch + 0.05).covers(needed)
        assert not disc(0, 0, patch - 0.05).covers(needed)
