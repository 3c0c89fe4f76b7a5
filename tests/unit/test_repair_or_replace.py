"""The repair held against a replacement: by what is left of the tyre, and by what it would cost."""

from __future__ import annotations

from decimal import Decimal

import pytest
from tests.given import given
from tests.unit.tills import Json, quote, till

from mendgauge.core.errors import CaseError


def test_a_worn_tyre_is_better_replaced_though_it_may_be_repaired() -> None:
    request = till("uk_counter_vat_inclusive")
    request["tyre"]["tread_depth_mm"] = 2.0
    quoted = quote(request)
    worth = quoted.repair_or_replace
    assert worth is not None
    assert (quoted.job, worth.recommendation, worth.decided_by) == ("repair", "replace", "cost")
    # 110.00 / (8 - 1.6) = 17.19 a millimetre, 0.4 of them 6.88, less the repair at 27.50.
    assert worth.gain is not None
    assert (worth.gain.low, worth.gain.high) == ("-20.63", "-20.63")
    assert worth.hangs_on[0].field in ("/price_book", "/tyre/tread_depth_mm")


def test_a_depth_that_is_not_known_leaves_it_open() -> None:
    request = till("uk_counter_vat_inclusive")
    request["tyre"]["tread_depth_mm"] = {"low": 2.0, "high": 6.0}
    worth = quote(request).repair_or_replace
    assert worth is not None
    assert worth.recommendation == "open"
    assert worth.gain is not None
    assert Decimal(worth.gain.low) < 0 < Decimal(worth.gain.high)


def test_a_dual_mate_that_a_new_tyre_would_not_match_counts() -> None:
    """15 mm new less 9 is more than 5: the mate goes too, and (9 - 4) x 390 / 11 = 177.27 with it."""
    worth = quote(till("truck_repair_against_replacement")).repair_or_replace
    assert worth is not None
    assert (worth.replaced_with_it, given(worth.lost_on_others).low) == (1, "177.27")
    # 97 minutes at 62.00 are 100.23; the call-out is paid either way. With 9 mm left (9 - 4) x 35.4545 + 60 = 237.27,
    # less 6.00 for failures and (97 - 60) minutes at 45.00, 27.75: 237.27 + 177.27 - 33.75 - 100.23 = 280.56 and a bit.
    assert worth.gain is not None
    assert worth.gain.low == "280.57"


@pytest.mark.parametrize(
    ("section", "changed", "pointer"),
    [
        ("replacement", {"pull_point_mm": 8}, "/replacement/pull_point_mm"),
        ("replacement", {"casing_value": "110.00"}, "/replacement/casing_value"),
        ("replacement", {"price": "110.005"}, "/replacement/price"),
        ("replacement", {"pull_point_mm": 7.95}, "/replacement/pull_point_mm"),
        ("tyre", {"new_tread_depth_mm": 1.5, "tread_depth_mm": 1.5}, "/tyre/new_tread_depth_mm"),
    ],
)
def test_a_replacement_that_cannot_be(section: str, changed: Json, pointer: str) -> None:
    request = till("uk_counter_vat_inclusive")
    request[section] |= changed
    with pytest.raises(CaseError) as refused:
        quote(request)
    assert [flaw.pointer for flaw in refused.value.errors] == [pointer]


def test_why_it_is_not_reckoned_is_said() -> None:
    request = till("uk_counter_vat_inclusive")
    del request["tyre"]["new_tread_depth_mm"]
    assert "The tread of a new tyre is not known" in (quote(request).not_reckoned or "")
    del request["replacement"]
    assert "price of a replacement is not known" in (quote(request).not_reckoned or "")


@pytest.mark.parametrize(
    "changed",
    [
        {"failure_percent": 5e-324, "failure_cost": "0.0001"},
        {"pull_point_mm": 7.8, "price": "999999999", "casing_value": "999999998.9999"},
        {"distance_per_mm": 1, "price": "0.01"},
        {"downtime": {"cost_per_hour": "999999999.9999", "replacement_minutes": 0, "repair_minutes": 100000}},
    ],
)
def test_extremes_are_reckoned_too(changed: Json) -> None:
    request = till("uk_counter_vat_inclusive")
    request["replacement"] |= changed
    assert quote(request).repair_or_replace is not None


def test_a_tread_that_was_never_there_is_all_gone() -> None:
    request = till("uk_counter_vat_inclusive")
    request["tyre"] |= {"new_tread_depth_mm": 1.6, "tread_depth_mm": 1.6}
    request["replacement"]["pull_point_mm"] = 0
    worth = quote(request).repair_or_replace
    assert worth is not None
    assert given(worth.worn_percent).low == 100
