"""What could change a quote: the next size up, two pieces in place of one, what hangs on a fact that is not known."""

from __future__ import annotations

from decimal import Decimal

from tests.unit.tills import alternative, quote, till


def test_the_next_size_up_takes_another_unit() -> None:
    """In the American shop 4 mm take the 4.5 mm cutter, and then the one of 6 mm: U-6 at 3.60 in place of 3.25."""
    quoted = quote(till("us_shop_tax_on_parts_only"))
    change = alternative(quoted, "next_size_up")
    assert [line.code for line in quoted.lines if line.kind == "unit"] == ["U-45"]
    assert [line.code for line in change.lines if line.kind == "unit"] == ["U-6"]
    assert "4.5 mm" in change.says
    assert "6 mm" in change.says


def test_a_next_size_beyond_the_limit_ends_the_repair() -> None:
    change = alternative(quote(till("uk_counter_vat_inclusive")), "next_size_ends_it")
    assert (change.job, change.totals and change.totals.gross) == ("inspection", "12.00")
    assert "8 mm" in change.says


def test_stem_and_patch_set_separately_take_longer_and_two_pieces() -> None:
    """Four minutes more, as the trade reckons, and S-6 at 2.20 with P-45 at 2.90 in place of U-6 at 3.40: 1.70 more."""
    quoted = quote(till("uk_counter_vat_inclusive"))
    change = alternative(quoted, "two_piece")
    assert [line.code for line in change.lines if line.kind == "unit"] == ["S-6", "P-45"]
    assert change.totals is not None
    assert Decimal(change.totals.gross) - Decimal(quoted.totals.gross) == Decimal("1.70")
    assert (quoted.lines[0].minutes, change.lines[0].minutes) == (32, 36)


def test_a_prepared_channel_changes_no_more() -> None:
    request = till("uk_counter_vat_inclusive")
    request["injuries"][0] |= {"stage": "prepared", "diameter_mm": 6.0}
    assert [one.code for one in quote(request).alternatives] == ["abandoned", "replacement"]


def test_an_alternative_without_a_price_is_not_totalled() -> None:
    quoted = quote(till("uk_counter_vat_inclusive", units={"U-6": "3.40"}))
    change = alternative(quoted, "two_piece")
    assert change.totals is None
    assert [one.field for one in change.not_priced] == ["/price_book/units/S-6", "/price_book/units/P-45"]


def test_what_hangs_on_an_unknown_fact_is_said_and_not_charged() -> None:
    request = till("us_shop_tax_on_parts_only")
    del request["bench"]["pressure_sensor"]
    quoted = quote(request)
    assert quoted.totals.gross == "59.96"
    assert {"service_sensor", "sensor_kit"} <= {one.code for one in quoted.not_included}
    assert any("a pressure sensor is installed" in caveat.says for caveat in quoted.caveats)


def test_a_unit_that_is_not_certain_is_said_beside_its_price() -> None:
    request = till("uk_counter_vat_inclusive")
    codes = {caveat.code for caveat in quote(request).caveats}
    assert "unit_not_certain" not in codes
    assert "not_covered" not in codes  # of the rulebook, and nothing to a customer
    del request["earlier_repairs"]
    assert "unit_not_certain" in {caveat.code for caveat in quote(request).caveats}


def test_what_could_change_a_very_long_case_is_not_priced_and_the_quote_says_so() -> None:
    request = till("uk_counter_vat_inclusive")
    # Nothing is known of the injuries, so that none need go through and the count of repairs allows them.
    request["injuries"], request["earlier_repairs"] = [{} for _ in range(20)], None
    quoted = quote(request)
    assert quoted.job == "repair"
    assert [one.code for one in quoted.alternatives] == ["abandoned", "replacement"]
    assert "changes_not_priced" in {one.code for one in quoted.caveats}
    short = quote(till("uk_counter_vat_inclusive"))
    assert "changes_not_priced" not in {one.code for one in short.caveats}
