"""Money: read and written as decimal text, rounded to what a currency has, divided without losing a penny."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mendgauge.core.money import Currency, Half, find_currency, to_nearest

POUND = Currency("GBP", 2)


# ISO 4217:2015, table A.1, minor units: published.
@pytest.mark.parametrize(
    ("code", "digits"), [("GBP", 2), ("USD", 2), ("CHF", 2), ("EUR", 2), ("JPY", 0), ("KRW", 0), ("BHD", 3), ("CLF", 4)]
)
def test_the_minor_units_of_currencies(code: str, digits: int) -> None:
    assert find_currency(code) == Currency(code, digits)


@pytest.mark.parametrize("code", ["XAU", "XTS", "XXX", "ZZZ", "gbp", ""])
def test_what_cannot_be_paid_in_is_no_currency(code: str) -> None:
    assert find_currency(code) is None


@pytest.mark.parametrize(
    ("amount", "half", "rounded"),
    [
        ("0.005", "up", "0.01"),
        ("0.015", "up", "0.02"),
        ("0.005", "even", "0.00"),
        ("0.015", "even", "0.02"),
        ("-0.005", "up", "-0.01"),
        ("-0.001", "up", "0.00"),
        ("2.675", "up", "2.68"),  # a binary float would give 2.67
    ],
)
def test_halves(amount: str, half: Half, rounded: str) -> None:
    assert str(POUND.rounded(Decimal(amount), half)) == rounded


@pytest.mark.parametrize(
    ("currency", "amount", "text"),
    [
        (POUND, "1234567.5", "1234567.50"),
        (POUND, "0.125", "0.125"),
        (POUND, "-2.4", "-2.40"),
        (POUND, "-0.0", "0.00"),
        (Currency("JPY", 0), "1E+3", "1000"),
        (Currency("BHD", 3), "1", "1.000"),
    ],
)
def test_how_amounts_are_written(currency: Currency, amount: str, text: str) -> None:
    assert currency.format(Decimal(amount)) == text


# Switzerland pays cash in steps of 0.05: it withdrew its coins of 0.01 and 0.02 (published, its coinage ordinance).
@pytest.mark.parametrize(
    ("amount", "step", "paid"),
    [
        ("27.82", "0.05", "27.80"),
        ("27.83", "0.05", "27.85"),
        ("27.87", "0.05", "27.85"),
        ("27.88", "0.05", "27.90"),
        ("12.50", "1", "13"),
        ("1234", "5", "1235"),
    ],
)
def test_cash_is_paid_in_steps(amount: str, step: str, paid: str) -> None:
    assert to_nearest(Decimal(amount), Decimal(step)) == Decimal(paid)


cents = st.integers(-100_000, 100_000).map(lambda cent: Decimal(cent) / 100)
weights = st.lists(st.integers(0, 10_000).map(Decimal), min_size=1, max_size=8)


@given(cents, weights)
def test_the_parts_of_a_total_sum_to_it_and_are_fair(total: Decimal, shares: list[Decimal]) -> None:
    if not any(shares):
        return
    parts = POUND.spread(total, shares)
    assert sum(parts) == total
    for part, share in zip(parts, shares, strict=True):
        assert POUND.holds(part)
        assert abs(part - total * share / sum(shares)) < POUND.minor_unit


def test_a_penny_that_is_over_goes_to_who_lost_most() -> None:
    assert POUND.spread(Decimal("0.67"), [Decimal(6), Decimal("2.25")]) == [Decimal("0.49"), Decimal("0.18")]
    assert POUND.spread(Decimal("0.10"), [Decimal(1)] * 3) == [Decimal("0.04"), Decimal("0.03"), Decimal("0.03")]
