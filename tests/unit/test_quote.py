"""Quotes: golden tills with totals worked by hand, what is refused, what is priced where a tyre is not repaired."""

from __future__ import annotations

import msgspec
import pytest
from tests.unit.tills import Json, alternative, money, quote, till

from mendgauge.case.case import Case
from mendgauge.core.errors import CaseError, NotPricedError
from mendgauge.operations.work_plans import plan_work


def test_a_british_counter_with_vat_in_its_prices() -> None:
    """VAT at 20 % is a sixth of the gross.

    Labour 24.00 / 6 = 4.00, so 20.00 net. Unit 3.40 / 1.2 = 2.833, 2.83 net. Valve 2.50 / 1.2 = 2.083, 2.08 net. A
    tenth off the labour is -2.40, of that -2.00 net. To pay 24.00 + 3.40 + 2.50 - 2.40 = 27.50; net 20.00 + 2.83 +
    2.08 - 2.00 = 22.91; VAT 27.50 - 22.91 = 4.59.
    """
    quoted = quote(till("uk_counter_vat_inclusive"))
    assert money(quoted.lines) == [
        ("labour", "20.00", "4.00", "24.00"),
        ("unit", "2.83", "0.57", "3.40"),
        ("part", "2.08", "0.42", "2.50"),
        ("discount", "-2.00", "-0.40", "-2.40"),
    ]
    assert (quoted.totals.net, quoted.totals.tax, quoted.totals.gross) == ("22.91", "4.59", "27.50")
    assert [(tax.name, tax.net, tax.tax) for tax in quoted.taxes] == [("VAT", "22.91", "4.59")]
    assert [line.code for line in quoted.lines] == ["CAR-L", "U-6", "VALVE", None]
    assert str(quoted.valid_until) == "2026-12-08"  # 24 November and 14 days


def test_an_american_shop_that_taxes_parts_alone() -> None:
    """32 minutes at 96.00 an hour are 51.20, not taxed.

    Parts: unit 3.25; cement 2 x 0.12 = 0.24; cleaner 15 x 0.03 = 0.45; sealer 4 x 0.20 = 0.80; cutter 0.02 x 18.00 =
    0.36; buffing head 0.01 x 24.00 = 0.24; valve 2.75: 8.09 together. At 6 + 2.25 = 8.25 % that is 0.667, on the ticket
    0.67: the state's 0.67 x 6 / 8.25 = 0.487 and the county's 0.183, so 0.49 and 0.18. To pay 51.20 + 8.09 + 0.67.

    Rounding a half cent up, on the item or on the ticket, state and local taxes together: Streamlined Sales and Use Tax
    Agreement, section 324 (published).
    """
    quoted = quote(till("us_shop_tax_on_parts_only"))
    assert [line.net for line in quoted.lines] == ["51.20", "3.25", "0.24", "0.45", "0.80", "0.36", "0.24", "2.75"]
    assert quoted.lines[0].tax == "0.00"
    assert (quoted.totals.net, quoted.totals.tax, quoted.totals.gross) == ("59.29", "0.67", "59.96")
    assert [(tax.net, tax.tax) for tax in quoted.taxes] == [("8.09", "0.49"), ("8.09", "0.18")]
    assert (quoted.lines[0].quantity, quoted.lines[0].unit_price, quoted.lines[0].price_per) == (32, "96.00", 60)


def test_the_same_shop_rounding_tax_on_each_line() -> None:
    """8.25 % of 3.25 is 0.268, of 0.24 0.020, of 0.45 0.037, of 0.80 0.066, of 0.36 0.030, of 2.75 0.227: 0.27 + 0.02 +
    0.04 + 0.07 + 0.03 + 0.02 + 0.23 = 0.68, a cent more than on the ticket.
    """
    quoted = quote(till("us_shop_tax_on_parts_only", rounding=None))
    assert [line.tax for line in quoted.lines] == ["0.00", "0.27", "0.02", "0.04", "0.07", "0.03", "0.02", "0.23"]
    assert quoted.totals.gross == "59.97"


def test_a_swiss_till_paid_in_cash() -> None:
    """36.00 / 1.081 = 33.302, 33.30 net; 1.13 / 1.081 = 1.045, 1.05 net. 37.13 is paid as 37.15: 0.02 more, untaxed.

    Net 33.30 + 1.05 + 0.02 = 34.37, tax 2.70 + 0.08 = 2.78.
    """
    quoted = quote(till("swiss_cash_rounding"))
    assert money(quoted.lines) == [
        ("labour", "33.30", "2.70", "36.00"),
        ("fee", "1.05", "0.08", "1.13"),
        ("cash_rounding", "0.02", "0.00", "0.02"),
    ]
    assert (quoted.totals.net, quoted.totals.tax, quoted.totals.gross) == ("34.37", "2.78", "37.15")
    assert [(tax.net, tax.tax) for tax in quoted.taxes] == [("34.35", "2.78")]


def test_a_swiss_till_paid_by_card() -> None:
    assert quote(till("swiss_cash_rounding", rounding=None)).totals.gross == "37.13"


def test_a_currency_without_a_smaller_unit() -> None:
    """32 minutes at 6600 an hour are 3520; the unit is 350; 630 more make the minimum of 4500. A tenth of each is 352,
    35 and 63, so 4950 to pay.
    """
    quoted = quote(till("zero_decimal_currency"))
    assert money(quoted.lines) == [
        ("labour", "3520", "352", "3872"),
        ("unit", "350", "35", "385"),
        ("minimum_charge", "630", "63", "693"),
    ]
    assert (quoted.totals.net, quoted.totals.tax, quoted.totals.gross) == ("4500", "450", "4950")


def test_a_minimum_is_the_least_after_the_discount() -> None:
    """A fifth off 3520 + 350 is 774; 3096 are left, and 1404 make the minimum."""
    quoted = quote(till("zero_decimal_currency", discount={"title": "Opening week", "percent": "20"}))
    assert [(line.kind, line.net) for line in quoted.lines][2:] == [
        ("discount", "-774"),
        ("minimum_charge", "1404"),
    ]
    assert quoted.totals.gross == "4950"


def test_a_minimum_counts_what_is_taken_off_the_job_and_no_other_part_of_a_discount() -> None:
    """A fifth off 3520 + 350 + 1000 is 974, 774 of it off the job: 3096 are left, and 1404 make the minimum."""
    fees = [{"code": "V", "title": "Valve", "price": "1000", "kind": "part"}]
    quoted = quote(till("zero_decimal_currency", fees=fees, discount={"title": "Opening week", "percent": "20"}))
    assert [(line.kind, line.net) for line in quoted.lines][3:] == [("discount", "-974"), ("minimum_charge", "1404")]


def test_what_is_taxed_alike_has_one_line_of_a_discount() -> None:
    """5.00 off 24.00 + 3.40 + 2.50; a sixth of it is VAT, 0.83."""
    quoted = quote(till("uk_counter_vat_inclusive", discount={"title": "Voucher", "amount": "5.00"}))
    assert [line.title for line in quoted.lines if line.kind == "discount"] == ["Voucher"]
    assert money(quoted.lines)[-1] == ("discount", "-4.17", "-0.83", "-5.00")
    assert quoted.totals.gross == "24.90"


def test_what_is_taxed_apart_has_lines_of_a_discount_with_names_apart() -> None:
    """5.00 off labour of 51.20, untaxed, and parts of 8.09: 4.318 and 0.682, so 4.32 and 0.68."""
    quoted = quote(till("us_shop_tax_on_parts_only", discount={"title": "Coupon", "amount": "5.00"}))
    assert [(line.title, line.net) for line in quoted.lines if line.kind == "discount"] == [
        ("Coupon (untaxed)", "-4.32"),
        ("Coupon (State sales tax 6%, County sales tax 2.25%)", "-0.68"),
    ]


def test_a_repair_is_held_against_a_replacement_without_the_call_out_less_its_discount() -> None:
    """A tenth off 24.00 + 3.40 + 2.50 + 35.00 is 6.49, 3.50 of it off the call-out, which a replacement costs too."""
    off = {"title": "Fleet discount", "percent": "10"}
    called_out = quote(till("uk_counter_vat_inclusive", call_out="35.00", discount=off))
    assert money(called_out.lines)[-1][3] == "-6.49"
    at_the_counter = quote(till("uk_counter_vat_inclusive", discount=off))
    assert called_out.repair_or_replace is not None
    assert at_the_counter.repair_or_replace is not None
    assert called_out.repair_or_replace.gain == at_the_counter.repair_or_replace.gain


def test_no_more_is_taken_off_than_there_is() -> None:
    quoted = quote(till("swiss_cash_rounding", discount={"title": "Gutschein", "amount": "500.00"}))
    assert quoted.totals.gross == "0.00"


def test_fees_call_out_and_disposal_come_with_their_jobs() -> None:
    fees = [
        {"code": "ENV", "title": "Environment", "price": "1.00", "on": ["repair", "replacement"]},
        {"code": "NEW", "title": "New valve", "price": "2.00", "on": ["replacement"], "kind": "part"},
    ]
    quoted = quote(till("uk_counter_vat_inclusive", fees=fees, call_out="35.00", discount=None))
    assert [line.kind for line in quoted.lines] == ["labour", "unit", "fee", "call_out"]
    instead = alternative(quoted, "replacement")
    assert [line.kind for line in instead.lines] == ["tyre", "disposal", "fee", "part", "call_out"]
    assert instead.totals is not None
    assert instead.totals.gross == "150.50"  # 110.00 + 2.50 + 1.00 + 2.00 + 35.00


# --- What has no price, and what is no price book --------------------------------------------------------------------


def test_everything_without_a_price_is_named() -> None:
    request = till("unit_without_a_price", labour={"per_hour": "54.00"}, consumables={"cement": "0.12", "valve": "2"})
    with pytest.raises(NotPricedError) as refused:
        quote(request)
    assert [flaw.pointer for flaw in refused.value.errors] == [
        "/price_book/units/U-6",
        "/price_book/consumables/cleaner",
        "/price_book/consumables/sealer",
        "/price_book/consumables/cutter_wear",
        "/price_book/consumables/buffing_head_wear",
    ]


def test_a_price_of_nothing_is_a_price() -> None:
    quoted = quote(till("unit_without_a_price", units={"U-6": "0"}, inspection="12.00"))
    assert ("unit", "0.00", "0.00", "0.00") in money(quoted.lines)


def test_no_flat_rate_fits_and_there_is_no_labour_rate() -> None:
    rates = [{"code": "TRUCK", "title": "Truck", "price": "80.00", "kinds": ["truck"]}]
    with pytest.raises(NotPricedError, match="No flat rate fits this job") as refused:
        quote(till("swiss_cash_rounding", flat_rates=rates))
    assert refused.value.errors[0].pointer == "/price_book/labour"


@pytest.mark.parametrize(
    ("gone", "pointer"), [(("bench", "wheel"), "/bench/wheel"), (("vehicle", "kind"), "/vehicle/kind")]
)
def test_a_flat_rate_that_hangs_on_an_unknown_fact_asks_for_it(gone: tuple[str, str], pointer: str) -> None:
    request = till("uk_counter_vat_inclusive")
    del request[gone[0]][gone[1]]
    with pytest.raises(NotPricedError) as refused:
        quote(request)
    assert refused.value.errors[0].pointer == pointer


def test_a_flat_rate_by_the_injury_is_charged_for_each() -> None:
    rates = [{"code": "HOLE", "title": "A hole", "price": "10.00", "per": "injury", "covers": ["unit", "consumable"]}]
    request = till("swiss_cash_rounding", flat_rates=rates, fees=None)
    request["injuries"].append(request["injuries"][0] | {"around_mm": 1640})
    line = quote(request).lines[0]
    assert (line.quantity, line.unit, line.gross) == (2, "injury", "20.00")


def test_what_the_labour_covers_is_listed_and_not_charged() -> None:
    quoted = quote(till("swiss_cash_rounding"))
    assert {"cement", "cleaner", "sealer", "valve"} <= {one.code for one in quoted.covered}
    assert {line.kind for line in quoted.lines} == {"labour", "fee", "cash_rounding"}


@pytest.mark.parametrize(
    ("changed", "pointer", "says"),
    [
        ({"currency": "XAU"}, "/price_book/currency", "no currency to pay in"),
        ({"currency": "JPY"}, "/price_book/fees/0/price", "JPY has no decimal places"),
        ({"inspection": "1.005"}, "/price_book/inspection", "2 decimal places"),
        ({"discount": {"title": "x"}}, "/price_book/discount", "either `percent` or `amount`"),
        ({"discount": {"title": "x", "percent": "1", "amount": "1"}}, "/price_book/discount", "either"),
        ({"rounding": {"cash_step": "0.00"}}, "/price_book/rounding/cash_step", "step of nothing"),
        ({"taxes": [{"name": "A", "percent": "1"}] * 2}, "/price_book/taxes/1/name", "comes twice"),
    ],
)
def test_a_price_book_that_contradicts_itself(changed: Json, pointer: str, says: str) -> None:
    with pytest.raises(CaseError, match=says) as refused:
        quote(till("swiss_cash_rounding", **changed))
    assert pointer in [flaw.pointer for flaw in refused.value.errors]


def test_a_quote_needs_a_price_book() -> None:
    request = till("swiss_cash_rounding")
    del request["price_book"]
    with pytest.raises(CaseError, match="price book"):
        quote(request)


# --- What may be priced ----------------------------------------------------------------------------------------------


def test_a_tyre_that_may_not_be_repaired_is_priced_as_a_replacement() -> None:
    quoted = quote(till("may_not_be_repaired"))
    assert (quoted.verdict, quoted.job, quoted.offer) == ("not_repairable", "replacement", "withheld")
    assert quoted.totals.gross == "112.50"  # 110.00 and 2.50 for the scrap tyre
    assert [one.code for one in quoted.alternatives] == ["inspection"]
    assert "belt_separation" in {found.rule for found in quoted.decided_by} | {
        found.rule.removeprefix("condition_") for found in quoted.decided_by
    }
    assert quoted.repair_or_replace is not None
    assert (quoted.repair_or_replace.recommendation, quoted.repair_or_replace.decided_by) == ("replace", "rules")
    assert "never_a_repair" in {caveat.code for caveat in quoted.caveats}


def test_without_a_replacement_it_is_priced_as_an_inspection() -> None:
    request = till("may_not_be_repaired")
    del request["replacement"]
    quoted = quote(request)
    assert (quoted.job, quoted.totals.gross) == ("inspection", "12.00")
    del request["price_book"]["inspection"]
    with pytest.raises(NotPricedError) as refused:
        quote(request)
    assert refused.value.errors[0].pointer == "/price_book/inspection"


def test_a_verdict_that_is_open_prices_a_repair_if_it_passes() -> None:
    request = till("uk_counter_vat_inclusive")
    del request["inspection"]
    quoted = quote(request)
    assert (quoted.offer, quoted.job) == ("conditional", "repair")
    assert quoted.repair_or_replace is not None
    assert quoted.repair_or_replace.recommendation == "repair_if_it_passes"
    assert any(caveat.code == "inspection_decides_price" and "12.00 GBP" in caveat.says for caveat in quoted.caveats)


def test_where_no_unit_does_nothing_is_priced_as_a_repair() -> None:
    request = till("uk_counter_vat_inclusive")
    request["stock"] = request["stock"][-1:]  # the 8 mm unit alone
    quoted = quote(request)
    assert (quoted.offer, quoted.job) == ("offered", "replacement")
    assert "No unit in stock" in quoted.says
    assert quoted.repair_or_replace is not None
    assert (quoted.repair_or_replace.recommendation, quoted.repair_or_replace.decided_by) == ("replace", "stock")


@pytest.mark.parametrize("replacement", [True, False])
@pytest.mark.parametrize(
    ("inspection", "asked"), [("12.00", set()), (None, {"/bench/wheel", "/bench/pressure_sensor"})]
)
@pytest.mark.parametrize("why", ["no unit in stock", "an injury too large"])
def test_a_quote_that_is_no_repairs_asks_nothing_that_changes_neither_its_verdict_nor_its_price(
    why: str, inspection: str | None, asked: set[str], *, replacement: bool
) -> None:
    """Nothing is trimmed or dried, and an inspection that is charged by the minute alone hangs on its steps."""
    request = till("uk_counter_vat_inclusive", inspection=inspection, labour={"per_hour": "60.00"}, flat_rates=None)
    request["bench"] = {}
    del request["injuries"][0]["emerges_in"]
    if not replacement:
        del request["replacement"]
    if why == "no unit in stock":
        request["stock"] = []
    else:
        # An open verdict, of which no outcome is a repair here.
        request["injuries"][0]["diameter_mm"] = 9.0
        del request["inspection"]
    quoted = quote(request)
    assert quoted.job == ("replacement" if replacement else "inspection")
    of_price = {one.field for one in quoted.to_establish if not one.settles}
    assert of_price == asked


def test_a_quote_of_a_repair_asks_where_the_channel_comes_out() -> None:
    request = till("uk_counter_vat_inclusive")
    del request["injuries"][0]["emerges_in"]
    quoted = quote(request)
    assert quoted.job == "repair"
    assert "/injuries/0/emerges_in" in {one.field for one in quoted.to_establish}


def test_where_nothing_goes_through_the_search_for_the_leak_is_priced() -> None:
    request = till("uk_counter_vat_inclusive") | {"injuries": []}
    quoted = quote(request)
    assert (quoted.verdict, quoted.job, quoted.totals.gross) == ("repairable", "leak_search", "12.00")
    assert quoted.repair_or_replace is None


def test_without_a_price_for_inspections_the_search_for_the_leak_takes_its_minutes() -> None:
    request = till("uk_counter_vat_inclusive") | {"injuries": [], "bench": {"wheel": "loose"}}
    book = {name: value for name, value in request["price_book"].items() if name != "inspection"}
    quoted = quote(request | {"price_book": {**book, "labour": {"per_hour": "60.00"}}})
    (line,) = [line for line in quoted.lines if line.unit == "minute"]
    assert (line.kind, line.title) == ("inspection", "Looking for the leak")
    minutes = plan_work(msgspec.convert(request, Case)).minutes.likely
    assert line.minutes == minutes > 0
    assert line.gross == f"{minutes:.2f}"


def test_a_search_for_the_leak_without_any_price_is_not_priced() -> None:
    request = till("uk_counter_vat_inclusive") | {"injuries": []}
    book = {name: value for name, value in request["price_book"].items() if name not in ("inspection", "labour")}
    with pytest.raises(NotPricedError) as refused:
        quote(request | {"price_book": book})
    (flaw,) = refused.value.errors
    assert (flaw.pointer, flaw.detail[:31]) == ("/price_book/inspection", "Looking for the leak has no pri")


def test_where_nothing_is_found_and_no_air_is_lost_nothing_is_charged() -> None:
    request = till("uk_counter_vat_inclusive") | {"injuries": [], "history": {"losing_air": False}}
    book = {name: value for name, value in request["price_book"].items() if name != "inspection"}
    quoted = quote(request | {"price_book": book})
    assert (quoted.job, quoted.lines, quoted.totals.gross) == ("leak_search", (), "0.00")
    assert quoted.says.endswith("nothing to pay for.")
