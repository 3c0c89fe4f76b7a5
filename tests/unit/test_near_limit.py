"""A yes that hangs on a measurement: what is to spare, against how well a bench measures when it does not say."""

from __future__ import annotations

from typing import Any

import pytest
from tests.sound_case import EARLIER, answer

INJURY = "injuries/0"
NZ = {"rulebook": "nz", "tyre/tread_width_mm": 165}


def near(changes: dict[str, Any]) -> list[str]:
    """What is said of measurements that should be taken again."""
    found = answer(changes)
    assert found.verdict == "repairable"
    return [caution.says for caution in found.cautions if caution.code == "near_limit"]


@pytest.mark.parametrize(
    ("changes", "spare"),
    [
        ({f"{INJURY}/diameter_mm": 5.9}, "Only 0.1 mm to spare on the size"),
        ({f"{INJURY}/diameter_mm": 5.7}, None),
        ({f"{INJURY}/diameter_mm": 6.0, f"{INJURY}/stage": "prepared"}, None),
        ({f"{INJURY}/across_mm": 68.0}, "Only 0.8 mm to spare inside the band"),
        ({f"{INJURY}/across_mm": 67.7}, None),
        ({"tyre/tread_depth_mm": 1.7}, "Only 0.1 mm to spare on the tread depth"),
        ({"tyre/tread_depth_mm": 1.9}, None),
        ({**NZ, f"{INJURY}/lean_deg": 43}, "Only 2 degrees to spare on the lean"),
        ({**NZ, f"{INJURY}/lean_deg": 41}, None),
    ],
)
def test_a_measurement_near_its_limit_is_taken_again(changes: dict[str, Any], spare: str | None) -> None:
    said = near(changes)
    assert len(said) == (spare is not None)
    assert spare is None or said[0].startswith(spare)


def at(around: float) -> list[dict[str, Any]]:
    """An earlier repair beside the injury, as far along the tread from it, measured on the liner."""
    # 640 mm at the tread, under 12 mm of crown and tread on a radius of 315.95 mm, are 615.7 mm at the liner.
    return [EARLIER | {"around_mm": 640 * (1 - 12 / 315.95) + around}]


@pytest.mark.parametrize(("apart", "warned"), [(55.5, True), (56.5, False)])
def test_patches_that_nearly_meet(apart: float, warned: bool) -> None:
    """Half of either patch and two margins: (30 + 40) / 2 + 20 = 55 mm; a rule reads to 1 mm."""
    said = near({"earlier_repairs": at(apart)})
    assert [text.startswith("Only 0.5 mm to spare to the next patch") for text in said] == ([True] if warned else [])


@pytest.mark.parametrize(("apart", "warned"), [(150.5, True), (151.5, False)])
def test_repairs_that_are_nearly_too_close(apart: float, warned: bool) -> None:
    """New Zealand: 150 mm between repairs (NZS 5423, one retailer)."""
    said = near({**NZ, "earlier_repairs": at(apart)})
    assert [text.startswith("Only 0.5 mm to spare to the next repair") for text in said] == ([True] if warned else [])


def test_a_stated_tolerance_has_been_reckoned_with() -> None:
    close = {f"{INJURY}/across_mm": 68.0}
    assert near(close)
    assert not near(close | {"measuring": {"ruler_mm": 0.1}})
    assert near(close | {"measuring": {"calliper_mm": 0.1}})
    assert answer(close | {"measuring": {"ruler_mm": 1}}).verdict == "inspect"


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({f"{INJURY}/diameter_mm": 5.0}, True),
        ({f"{INJURY}/diameter_mm": 6.0, f"{INJURY}/stage": "prepared"}, False),
        ({"rulebook": "us", "tyre/tread_width_mm": 165, f"{INJURY}/diameter_mm": 4.0}, False),
        ({"rulebook": "us", "tyre/tread_width_mm": 165, f"{INJURY}/diameter_mm": 5.0}, True),
    ],
)
def test_the_last_cutter_that_passes_is_named(changes: dict[str, Any], said: bool) -> None:
    cautions = [caution.says for caution in answer(changes).cautions if caution.code == "after_preparation"]
    assert ["6 mm" in text and "is the largest cutter" in text for text in cautions] == ([True] if said else [])


@pytest.mark.parametrize(
    ("changes", "source", "clause"),
    [
        ({f"{INJURY}/region": "shoulder"}, "BS AU 159g:2013", "major repairs"),
        ({f"{INJURY}/region": "sidewall"}, "BS AU 159g:2013", "areas of the tyre"),
        ({f"{INJURY}/region": "bead"}, "BS AU 159g:2013", "areas of the tyre"),
    ],
)
def test_a_region_names_the_word_on_itself(changes: dict[str, Any], source: str, clause: str) -> None:
    region = next(one for one in answer(changes).findings if one.rule == "region")
    assert region.outcome == "broken"
    assert (region.source or "").startswith(source)
    assert region.clause == clause
