"""Quantities in words: trade fractions and 32nds in America, metric and mph in Britain, no more digits than a gauge."""

from __future__ import annotations

from fractions import Fraction
from math import inf

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mendgauge.rulebooks.provision import Language
from mendgauge.wording.quantities import quantity


@pytest.mark.parametrize(
    ("low", "high", "unit", "british", "american"),
    [
        # The American chart prints these pairs itself: 1/4 in and 6 mm, 3/8 in and 10 mm.
        (6.0, 6.0, "mm", "6 mm", "1/4 in (6 mm)"),
        (10.0, 10.0, "mm", "10 mm", "3/8 in (10 mm)"),
        (3.0, 3.0, "mm", "3 mm", "1/8 in (3 mm)"),
        (8.0, 8.0, "mm", "8 mm", "5/16 in (8 mm)"),
        (7.0, 7.0, "mm", "7 mm", "9/32 in (7 mm)"),
        (5.0, 7.0, "mm", "5 to 7 mm", "3/16 to 9/32 in (5 to 7 mm)"),
        (0.0, 7.0, "mm", "up to 7 mm", "up to 9/32 in (7 mm)"),
        (71.75, 71.75, "mm", "71.8 mm", "2 13/16 in (71.8 mm)"),
        (400.0, 400.0, "mm", "400 mm", "15 3/4 in (400 mm)"),
        (0.2, 0.2, "mm", "0.2 mm", "0.008 in (0.2 mm)"),
        (80.0, 80.0, "km/h", "50 mph (80 km/h)", "50 mph (80 km/h)"),
        # 50 mph as a rulebook states it.
        (80.4672, 80.4672, "km/h", "50 mph (80 km/h)", "50 mph (80 km/h)"),
        (210.0, inf, "km/h", "130 mph (210 km/h) or more", "130 mph (210 km/h) or more"),
        (80.0, 160.0, "km", "50 to 100 miles (80 to 160 km)", "50 to 100 miles (80 to 160 km)"),
        (615.0, 615.0, "kg", "615 kg", "1,356 lb (615 kg)"),
        (5.0, 5.0, "°C", "5 °C", "41 °F (5 °C)"),
        (276.0, 276.0, "kPa", "276 kPa", "40 psi (276 kPa)"),
        (25.0, 25.0, "deg", "25 degrees", "25 degrees"),
        (1.0, 1.0, "deg", "1 degree", "1 degree"),
        (80.0, 80.0, "percent", "80%", "80%"),
        (0.0, 0.0, "repairs", "no repairs", "no repairs"),
        (1.0, 1.0, "repairs", "1 repair", "1 repair"),
        (0.0, 1.0, "repairs", "up to 1 repair", "up to 1 repair"),
        (2.0, 3.0, "repairs", "2 to 3 repairs", "2 to 3 repairs"),
        (1.0, 1.0, "years", "1 year", "1 year"),
        (7.5, 7.5, "years", "7.5 years", "7.5 years"),
        (10.13, 10.15, "years", "just over 10 years", "just over 10 years"),
        (9.81, 9.83, "years", "nearly 10 years", "nearly 10 years"),
        (10.44, 10.46, "years", "about 10.5 years", "about 10.5 years"),
        (0.05, 0.07, "years", "a few months", "a few months"),
        (4.2, 14.2, "years", "4 to 14 years", "4 to 14 years"),
    ],
)
def test_a_quantity_is_said_as_its_country_says_it(
    low: float, high: float, unit: str, british: str, american: str
) -> None:
    assert quantity(low, high, unit, "en-GB") == british
    assert quantity(low, high, unit, "en-US") == american


@pytest.mark.parametrize(
    ("depth", "read"),
    # 1.6 mm and 3.2 mm are the depths that 2/32 and 4/32 in stand for in American law (49 CFR 393.75).
    [(1.6, "2/32 in (1.6 mm)"), (3.2, "4/32 in (3.2 mm)"), (8.0, "10/32 in (8 mm)"), (0.0, "0 in (0 mm)")],
)
def test_tread_is_read_in_32nds(depth: float, read: str) -> None:
    assert quantity(depth, depth, "mm", "en-US", tread=True) == read


def test_what_differs_can_be_said_to_differ() -> None:
    assert quantity(6.04, 6.04, "mm", "en-GB") == "6 mm"
    assert quantity(6.04, 6.04, "mm", "en-GB", exact=True) == "6.04 mm"


@given(st.floats(0.4, 1000.0))
def test_a_fraction_is_near_what_was_measured(length_mm: float) -> None:
    inches = quantity(length_mm, length_mm, "mm", "en-US").partition(" in ")[0]
    read = float(sum(Fraction(part) for part in inches.split())) * 25.4
    assert abs(read - length_mm) <= (0.5 if length_mm <= 25.0 else 0.8 if length_mm <= 300.0 else 1.6)


@given(st.floats(0.0, 5000.0), st.floats(0.0, 5000.0), st.sampled_from(("en-GB", "en-US")))
def test_a_quantity_has_no_power_of_ten_and_no_run_of_decimals(one: float, other: float, language: Language) -> None:
    for unit in ("mm", "km/h", "km", "kg", "deg", "years", "percent", "°C", "kPa"):
        text = quantity(min(one, other), max(one, other), unit, language)
        decimals = [part.strip("(),%").partition(".")[2] for part in text.split()]
        assert "e-" not in text
        assert all(len(part) <= 3 for part in decimals), text
