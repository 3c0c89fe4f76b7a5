"""Repairs beside each other where something is not known: every place and size they can have is reckoned with."""

from __future__ import annotations

import msgspec
import pytest
from tests.sound_case import BASE, EARLIER, answer, finding, finding_of

from mendgauge.case.case import Case
from mendgauge.facts.neighbours import neighbours
from mendgauge.intake.intake import take_in
from mendgauge.rulebooks import find_edition

INJURY = "injuries/0"
CAR = next(entry for entry in find_edition("gb").workshop.repair_unit if "car" in entry.classes)

# 205/55R16 is 16 in and twice 55 % of 205 mm high; the base case has 7 mm of crown under 5 mm of tread.
RADIUS = (16 * 25.4 + 2 * 0.55 * 205) / 2
AT_LINER = 1 - (7 + 5) / RADIUS


def test_a_cutter_of_two_sizes_asks_for_two_distances() -> None:
    """Half of both patches, and the buffed margin round each."""
    beside = {"earlier_repairs": [EARLIER | {"around_mm": 1000.0}]}
    cut = {f"{INJURY}/stage": "prepared", f"{INJURY}/diameter_mm": {"low": 3.0, "high": 6.0}}
    limit = finding("overlap", answer(beside | cut)).limit
    assert limit is not None
    least, most = ((hole + 2 * CAR.reach_mm + 40) / 2 + 2 * CAR.buffed_margin_mm for hole in (3.0, 6.0))
    assert (limit.value, limit.value_high) == pytest.approx((most, least))


def test_a_lean_of_two_sizes_asks_for_two_distances() -> None:
    beside = {"earlier_repairs": [EARLIER | {"around_mm": 1000.0}], f"{INJURY}/stage": "prepared"}
    lean = {f"{INJURY}/diameter_mm": 6.0, f"{INJURY}/lean_deg": {"low": 0.0, "high": 60.0}}
    limit = finding("overlap", answer(beside | lean)).limit
    assert limit is not None
    # The mouth of a channel that leans by 60 degrees is twice as long as the cutter is wide.
    least, most = ((mouth + 2 * CAR.reach_mm + 40) / 2 + 2 * CAR.buffed_margin_mm for mouth in (6.0, 12.0))
    assert (limit.value, limit.value_high) == pytest.approx((most, least))


@pytest.mark.parametrize(
    ("side", "arcs"),
    [
        ("outside", (200.0, 200.0)),
        # 840 mm along the liner lie farther on at the tread, which is longer.
        ("inside", (840 / AT_LINER - 640, 840 / AT_LINER - 640)),
        (None, (200.0, 840 / AT_LINER - 640)),
    ],
)
def test_a_repair_measured_on_either_side_lies_at_either_place(side: str | None, arcs: tuple[float, float]) -> None:
    repair = EARLIER | {"around_mm": 840.0, "measured_from": side}
    _, _, observed, _, _ = finding_of("overlap", {"earlier_repairs": [repair]})
    assert observed[:2] == pytest.approx([arc * AT_LINER for arc in arcs], abs=0.01)


def test_earlier_repairs_and_other_injuries_are_distinguished() -> None:
    case = {**BASE, "injuries": BASE["injuries"] * 2, "earlier_repairs": [EARLIER, EARLIER | {"patch_mm": 60}]}
    intake = take_in(msgspec.convert(case, Case))
    beside = neighbours(intake.facts(intake.uses[0]).injuries[1])
    assert [(one.earlier, one.index) for one in beside] == [(True, 0), (True, 1), (False, 0)]
    assert [one.patch.high for one in beside[:2]] == [40, 60]


def test_one_repair_that_may_be_near_keeps_the_question_open_beside_one_that_is_far() -> None:
    somewhere, far = EARLIER, EARLIER | {"around_mm": 1600.0}
    for repairs in ([somewhere, far], [far, somewhere]):
        assert finding_of("overlap", {"earlier_repairs": repairs})[1] == "open"


@pytest.mark.parametrize(
    ("diameter", "around", "outcome"),
    [
        # The size does not say how far it is round: what lies on either side of the valve may be near.
        (None, 3270.0, "open"),
        (1050, 3270.0, "broken"),
        (1250, 3270.0, "met"),
        ({"low": 1045, "high": 1055}, 3270.0, "broken"),
        # Halfway round it is far, whatever the diameter.
        (None, 1600.0, "met"),
    ],
)
def test_repairs_on_either_side_of_the_valve(diameter: object, around: float, outcome: str) -> None:
    """11R22.5 is 1050 mm high by UN R54 Annex 5 (from memory), so 3299 mm round."""
    truck = {
        "vehicle": {"kind": "truck", "gross_mass_kg": 18_000},
        "position": {"axle": "drive", "fitment": "dual_outer"},
        "tyre/marking": "11R22.5 148/145L",
        "tyre/tread_depth_mm": 10.0,
        "tyre/new_tread_depth_mm": 10.0,
        "tyre/crown_thickness_mm": 16.0,
        "in_service": {"overall_diameter_mm": diameter},
        "earlier_repairs": [EARLIER | {"around_mm": 20.0, "measured_from": "outside", "patch_mm": 80}],
        f"{INJURY}/around_mm": around,
    }
    found = answer(truck)
    assert finding("overlap", found).outcome == outcome
    asked = {question.field for question in found.to_establish}
    assert ("/in_service/overall_diameter_mm" in asked) == (outcome == "open")


@pytest.mark.parametrize(
    ("depth", "around", "outcome"),
    [
        ("through", 660.0, "broken"),
        ("through", 1600.0, "met"),
        ("through", None, "open"),
        (None, 660.0, "open"),
        (None, 1600.0, "met"),
        ("rubber_only", 660.0, "met"),
    ],
)
def test_another_injury_is_a_neighbour_if_it_needs_a_repair(
    depth: str | None, around: float | None, outcome: str
) -> None:
    first = BASE["injuries"][0]
    second = {**first, "depth": depth, "around_mm": around}
    assert finding_of("overlap", {"injuries": [first, second]})[1] == outcome
