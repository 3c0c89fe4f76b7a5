"""The example till keeps what it promises: its file is the service's own words, and its receipts add up."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from decimal import Decimal

import msgspec
import pytest

from examples.till import SHOP, WIDTH, cases, picked, read_shop, receipt
from mendgauge.case.case import Case
from mendgauge.case.price_book import PriceBook
from mendgauge.case.replacement import Replacement
from mendgauge.case.stock import StockUnit
from mendgauge.operations.repair_plans import plan_repair
from mendgauge_client import RepairPlan

PLANS = {
    str(case.reference): msgspec.json.decode(
        msgspec.json.encode(plan_repair(msgspec.json.decode(msgspec.json.encode(case), type=Case))), type=RepairPlan
    )
    for case in cases(read_shop())
}
"""The service's answer to each customer's case, as the client reads it, without the wire between."""


def test_the_file_says_nothing_the_service_does_not_know() -> None:
    shop = json.loads(SHOP.read_bytes())
    msgspec.convert(shop["stock"], tuple[StockUnit, ...])
    msgspec.convert(shop["price_book"], PriceBook)
    for customer in shop["customers"]:
        msgspec.convert(customer["case"], Case)
        msgspec.convert(customer["replacement"], Replacement)


def test_the_morning_has_a_bit_of_everything() -> None:
    quotes = [plan.quote for plan in PLANS.values() if plan.quote]
    assert len(quotes) == len(PLANS) >= 5
    assert {quote.job for quote in quotes} == {"repair", "replacement"}
    assert {"repair", "replace"} <= {
        quote.repair_or_replace.recommendation for quote in quotes if quote.repair_or_replace
    }
    assert {"A1-6"} in [set(picked(plan)) for plan in PLANS.values()]
    assert {"B1-6", "C1-45"} in [set(picked(plan)) for plan in PLANS.values()]  # a channel that leans 32 degrees


@pytest.mark.parametrize("plan", PLANS.values(), ids=PLANS.keys())
def test_a_receipt_adds_up_and_fits_its_paper(plan: RepairPlan) -> None:
    printed = list(receipt(plan))
    assert max(map(len, printed)) <= WIDTH
    above = printed[: printed.index("-" * WIDTH)]
    amounts = [Decimal(line.split()[-1]) for line in above[above.index("") + 1 :]]
    (to_pay,) = [Decimal(line.split()[-1]) for line in printed if line.startswith("To pay")]
    assert sum(amounts) == to_pay
    assert plan.quote is not None
    assert to_pay == Decimal(plan.quote.totals.gross)


def test_it_runs_and_ends_well() -> None:
    environment = {**os.environ, "MENDGAUGE_API_KEYS": "a-key-for-another-service"}
    done = subprocess.run(
        [sys.executable, "-m", "examples.till"],
        env=environment,
        capture_output=True,
        text=True,
        timeout=60,
        check=False,
    )
    assert (done.returncode, done.stderr) == (0, "")
    for plan in PLANS.values():
        assert "\n".join(receipt(plan)) in done.stdout
