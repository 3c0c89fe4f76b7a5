"""The chosen units are the best there are: held against a search through every assignment, and against shapely."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from itertools import product
from math import cos, pi, radians, tan
from typing import Any, Final, NamedTuple

import msgspec
from hypothesis import assume, given
from hypothesis import strategies as st
from shapely import Point, Polygon, affinity, box
from tests.given import given as known
from tests.property.cases import Drawn, full_cases
from tests.property.effort import share
from tests.property.judging import Json
from tests.property.shelf import Bench, benches
from tests.property.vague import put

from mendgauge.case.case import Case
from mendgauge.operations.repair_units import choose_repair_units
from mendgauge.operations.repair_units.answer import Choice, Chosen, RepairUnits
from mendgauge.tyre.marking_facts import marking_facts_of

CUTTERS: Final = {"gb car": (6.0, 8.0), "other": (3.0, 4.5, 6.0, 8.0, 10.0)}
REACH, REACH_REINFORCED, MARGIN, GRIP = 12.0, 20.0, 10.0, 30.0
BLUR: Final = 0.02
"""Shapely draws circles as polygons: what hangs on less than this, mm, is left to no example."""


class Hole(NamedTuple):
    """A channel as solid geometry has it, the crown and the tread being known."""

    cutter: float
    lean: float
    length: float
    mouth: Polygon
    at: tuple[float, float]


class BlurredError(Exception):
    """Two patches, or a patch and an edge, lie as near each other as a polygon lies to its circle."""


def chosen_for(case: Json) -> RepairUnits:
    return choose_repair_units(msgspec.convert(case, Case))


def circle(radius: float) -> Polygon:
    return Point(0, 0).buffer(radius, quad_segs=64)


def cutter_for(case: Json, hole: Json) -> float:
    ladder = CUTTERS["gb car" if case["rulebook"] == "gb" and case["vehicle"]["kind"] == "car" else "other"]
    return next(size for size in ladder if size >= hole["diameter_mm"])


def at_liner(bench: Bench) -> float:
    """Length of an arc at the liner for one of 1 mm at the tread."""
    radius = float(marking_facts_of(bench.case["tyre"]["marking"]).circumference.low) / (2 * pi)
    return float(1.0 - (bench.crown_mm + bench.tread_mm) / radius)


def hole_of(bench: Bench, hole: Json) -> Hole:
    cutter = cutter_for(bench.case, hole)
    lean, toward = radians(hole["lean_deg"]), radians(hole["lean_toward_deg"])
    thickness = bench.crown_mm + (bench.tread_mm if hole["emerges_in"] == "lug" else 0)
    across, around = hole["across_mm"], hole["around_mm"]
    if hole["measured_from"] == "outside":
        shift = thickness * tan(lean)
        across += shift * cos(toward)
        around = around * at_liner(bench) + shift * cos(toward - pi / 2)
    lying = affinity.scale(circle(1), cutter / 2 / cos(lean), cutter / 2)
    mouth = affinity.translate(affinity.rotate(lying, toward, origin=(0, 0), use_radians=True), across, around)
    proud = 3.0 if hole["emerges_in"] == "lug" else 0.0
    return Hole(cutter, hole["lean_deg"], thickness / cos(lean) + proud + GRIP, mouth, (across, around))


def patch_of(unit: Json, at: tuple[float, float]) -> Polygon:
    if unit.get("patch_shape") == "rectangular":
        half_across, half_along = unit["patch_width_mm"] / 2, unit["patch_length_mm"] / 2
        shape = box(-half_across, -half_along, half_across, half_along)
    else:
        shape = circle(unit["patch_mm"] / 2)
    return affinity.translate(shape, *at)


def area_of(unit: Json) -> float:
    if unit.get("patch_shape") == "rectangular":
        return float(unit["patch_width_mm"] * unit["patch_length_mm"])
    return float(pi * unit["patch_mm"] ** 2 / 4)


def sharply(spare: float) -> bool:
    """Whether there is something to spare, or nothing; not nearly so."""
    if abs(spare) < BLUR:
        raise BlurredError
    return spare > 0


def reaches(patch: Polygon, mouth: Polygon) -> float:
    """How far a patch reaches past a mouth: the least distance of the mouth from the patch's edge, negative outside."""
    edge = patch.exterior
    return float(edge.distance(mouth) if patch.contains(mouth) else -edge.hausdorff_distance(mouth.exterior))


def stem_does(unit: Json, hole: Hole) -> bool:
    return bool(unit["stem_mm"] == hole.cutter and unit["stem_length_mm"] >= hole.length)


def patch_does(bench: Bench, unit: Json, hole: Hole) -> bool:
    case = bench.case
    heavy = case["vehicle"]["kind"] == "truck"
    if heavy and hole.cutter > 6 and not unit["reinforced"]:
        return False
    if unit["construction"] not in ("either", "bias" if "D" in case["tyre"]["marking"] else "radial"):
        return False
    patch = patch_of(unit, hole.at)
    if not sharply(reaches(patch, hole.mouth) - (REACH_REINFORCED if unit["reinforced"] else REACH)):
        return False
    return all(clear(patch, earlier) for earlier in earlier_patches(case))


def earlier_patches(case: Json) -> Iterator[Polygon]:
    for repair in case["earlier_repairs"]:
        yield affinity.translate(circle(repair["patch_mm"] / 2), repair["across_mm"], repair["around_mm"])


def clear(one: Polygon, other: Polygon) -> bool:
    return sharply(one.distance(other) - 2 * MARGIN)


def usable(case: Json, unit: Json, hole: Hole) -> bool:
    return bool(
        unit.get("on_hand", 1) >= 1
        and unit.get("expires_on", "9999-12-31") >= case["assessed_on"]
        and unit.get("largest_lean_deg", 90) >= hole.lean
        and unit.get("largest_injury_mm", 500) >= hole.cutter
    )


def every_option(bench: Bench, hole: Hole) -> list[tuple[Json, ...]]:
    """Every unit of one piece and every pair that would repair a hole, and nothing at all."""
    case = bench.case
    stock = [unit for unit in case["stock"] if usable(case, unit, hole)]
    stems = [unit for unit in stock if unit["kind"] != "patch" and stem_does(unit, hole)]
    patches = [unit for unit in stock if unit["kind"] != "stem" and patch_does(bench, unit, hole)]
    whole = [(unit,) for unit in stems if unit in patches and hole.lean <= 25]
    pairs = product(
        [stem for stem in stems if stem["kind"] == "stem"], [patch for patch in patches if patch["kind"] == "patch"]
    )
    return [(), *whole, *pairs]


def cost(options: tuple[tuple[Json, ...], ...], holes: list[Hole]) -> tuple[Any, ...]:
    """What the search minimises, reckoned anew from the units alone; everything is known, so nothing is open."""
    pieces = [unit for option in options for unit in option]
    return (
        sum(option == () for option in options),
        sum(len(option) == 2 and hole.lean <= 25 for option, hole in zip(options, holes, strict=True)),
        round(sum(area_of(unit) for unit in pieces if unit["kind"] != "stem"), 2),
        sum("price" not in unit for unit in pieces),
        sum((Decimal(unit.get("price", "0")) for unit in pieces), Decimal(0)),
        round(sum(unit.get("stem_length_mm", 0) for unit in pieces), 2),
    )


def possible(options: tuple[tuple[Json, ...], ...], holes: list[Hole]) -> bool:
    """Whether no unit is taken more often than it is there, and no two patches meet."""
    pieces = [unit["code"] for option in options for unit in option]
    counts = {unit["code"]: unit.get("on_hand", 99) for option in options for unit in option}
    if any(pieces.count(code) > most for code, most in counts.items()):
        return False
    laid = [
        patch_of(next(unit for unit in option if unit["kind"] != "stem"), hole.at)
        for option, hole in zip(options, holes, strict=True)
        if option
    ]
    return all(clear(one, other) for place, one in enumerate(laid) for other in laid[:place])


def by_code(case: Json, chosen: Chosen | None) -> tuple[Json, ...]:
    stock = {unit["code"]: unit for unit in case["stock"]}
    return () if chosen is None else tuple(stock[piece.code] for piece in chosen.pieces)


@share(0.3)
@given(benches())
def test_no_other_assignment_is_possible_and_better(bench: Bench) -> None:
    answer = chosen_for(bench.case)
    assume(answer.offer == "offered")
    holes = [hole_of(bench, hole) for hole in bench.case["injuries"]]
    try:
        tried = product(*(every_option(bench, hole) for hole in holes))
        best = min(cost(options, holes) for options in tried if possible(options, holes))
        choices = [injury.choices[0] for injury in answer.injuries]
        taken = tuple(by_code(bench.case, choice.chosen) for choice in choices)
        assert possible(taken, holes)
    except BlurredError:
        assume(False)
    assert cost(taken, holes) == best
    assert answer.proven
    for choice in choices:
        assert choice.chosen is None or choice.chosen.certain
        assert (choice.chosen is None) == (choice.nothing_fits is not None)
        assert_every_unit_is_accounted_for(bench.case, choice)


def assert_every_unit_is_accounted_for(case: Json, choice: Choice) -> None:
    taken = {piece.code for piece in choice.chosen.pieces} if choice.chosen else set()
    passed = [unit.code for unit in choice.passed_over]
    assert sorted([*taken, *passed]) == sorted(unit["code"] for unit in case["stock"])
    assert all(reason.says for unit in choice.passed_over for reason in unit.reasons)
    assert all(unit.reasons for unit in choice.passed_over)


@share(0.2)
@given(benches())
def test_what_is_chosen_covers_the_mouth_clear_of_its_neighbours(bench: Bench) -> None:
    answer = chosen_for(bench.case)
    holes = [hole_of(bench, hole) for hole in bench.case["injuries"]]
    laid: list[Polygon] = []
    for injury, hole in zip(answer.injuries, holes, strict=True):
        for choice in injury.choices:
            if choice.chosen is None:
                continue
            (unit,) = [unit for unit in by_code(bench.case, choice.chosen) if unit["kind"] != "stem"]
            patch = patch_of(unit, hole.at)
            asked = REACH_REINFORCED if unit["reinforced"] else REACH
            assert reaches(patch, hole.mouth) >= asked - BLUR
            assert abs(reaches(patch, hole.mouth) - choice.chosen.reach_mm) < BLUR
            past = max(-patch.bounds[0], patch.bounds[2]) - bench.case["tyre"]["tread_width_mm"] / 2
            assert abs(past) < BLUR or choice.chosen.under_shoulder == ("yes" if past > 0 else "no")
            others = [*laid, *earlier_patches(bench.case)]
            assert all(patch.distance(other) >= 2 * MARGIN - BLUR for other in others)
            laid.append(patch)
            outline = patch.buffer(MARGIN, quad_segs=64).bounds
            assert abs(outline[2] - outline[0] - known(choice.chosen.buffed).width_mm) < BLUR
            assert abs(outline[3] - outline[1] - known(choice.chosen.buffed).length_mm) < BLUR


@share(0.4)
@given(full_cases())
def test_a_tyre_that_may_be_repaired_always_has_a_generic_unit(drawn: Drawn) -> None:
    generic = chosen_for(drawn.case)
    assume(generic.verdict == "repairable")
    empty = chosen_for(drawn.case | {"stock": []})
    for injury, none in zip(generic.injuries, empty.injuries, strict=True):
        for choice in injury.choices:
            assert choice.chosen is not None, choice.nothing_fits
            assert choice.nothing_fits is None
        for choice in none.choices:
            assert choice.chosen is None
            assert choice.generic_instead is not None
            assert choice.nothing_fits is not None
            assert choice.nothing_fits.says.endswith(
                f"{' + '.join(piece.code for piece in choice.generic_instead.pieces)}."
            )


VAGUE: Final = ("lean_deg", "lean_toward_deg", "diameter_mm", "emerges_in", "across_mm", "measured_from")


@st.composite
def vaguer_benches(draw: st.DrawFn) -> tuple[Bench, Json]:
    """A bench, and the same less well known: facts left out, or ranges about them."""
    bench = draw(benches(most_holes=2))
    case = bench.case
    for index, hole in enumerate(case["injuries"]):
        for name in draw(st.lists(st.sampled_from(VAGUE), unique=True, max_size=3)):
            value: Any = None
            if isinstance(hole[name], int | float) and draw(st.booleans()):
                below, above = draw(st.integers(0, 8)), draw(st.integers(0, 8))
                least = -60 if name == "across_mm" else 0.5 if name == "diameter_mm" else 0
                value = {"low": max(hole[name] - below, least), "high": min(hole[name] + above, 360)}
            case = put(case, f"/injuries/{index}/{name}", value)
    for index, repair in enumerate(case["earlier_repairs"]):
        span = {
            "low": repair["patch_mm"] - draw(st.integers(0, 9)),
            "high": repair["patch_mm"] + draw(st.integers(0, 9)),
        }
        case = put(case, f"/earlier_repairs/{index}/patch_mm", span)
    for name in draw(st.lists(st.sampled_from(("crown_thickness_mm", "tread_width_mm")), unique=True)):
        case = put(case, f"/tyre/{name}", None)
    return bench, case


@share(0.3)
@given(vaguer_benches())
def test_a_certain_choice_does_whatever_the_unknowns_turn_out_to_be(benches: tuple[Bench, Json]) -> None:
    bench, vague = benches
    answer = chosen_for(vague)
    assume(chosen_for(bench.case).offer != "withheld")
    assert answer.offer != "withheld"
    for injury, full in zip(answer.injuries, bench.case["injuries"], strict=True):
        hole = hole_of(bench, full)
        for choice in injury.choices:
            holds = not choice.when or (hole.lean <= 25 if choice.kind == "one_piece" else hole.lean >= 25)
            if choice.chosen is None or not choice.chosen.certain or not holds:
                continue
            units = by_code(vague, choice.chosen)
            assert all(usable(vague, unit, hole) for unit in units)
            assert len(units) == 2 or hole.lean <= 25
            assert all(stem_does(unit, hole) for unit in units if unit["kind"] != "patch")
            try:
                assert all(patch_does(bench, unit, hole) for unit in units if unit["kind"] != "stem")
            except BlurredError:
                assume(False)


@share(0.2)
@given(benches())
def test_nothing_is_chosen_for_a_tyre_that_may_not_be_repaired(bench: Bench) -> None:
    for sign in ("belt_separation", "run_flat_signs"):
        answer = chosen_for(put(bench.case, f"/inspection/{sign}", True))
        assert answer.offer == "withheld"
        assert sign in [finding.rule for finding in answer.decided_by]
        assert all(injury.choices == () and injury.preparation is None for injury in answer.injuries)


@share(0.2)
@given(benches())
def test_a_unit_more_on_the_shelf_is_never_worse(bench: Bench) -> None:
    fewer = put(bench.case, "/stock", bench.case["stock"][:-1])

    def served(case: Json) -> int:
        return sum(bool(injury.choices and injury.choices[0].chosen) for injury in chosen_for(case).injuries)

    assert served(bench.case) >= served(fewer)
