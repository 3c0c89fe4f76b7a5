"""Date codes as people type them, ages on a day, and what can never happen."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mendgauge.core.interval import Interval
from mendgauge.tyre.date_code import (
    DateCode,
    DateCodeError,
    age_years,
    american_week,
    iso_week,
    made_between,
    read_date_code,
)

TODAY = date(2026, 11, 24)


@pytest.mark.parametrize(
    ("typed", "code"),
    [
        ("", "EMPTY"),
        ("   ", "EMPTY"),
        ("DOT-", "EMPTY"),
        ("2323 " * 20, "TOO_LONG"),
        ("23", "LENGTH"),
        ("062023", "LENGTH"),
        ("06 2023", "LENGTH"),
        ("DOT R", "LENGTH"),
        ("DOT-R AB 0923", "LENGTH"),
        ("DOT-R ABCDEF K7L8M9 2323", "LENGTH"),
        ("DOT 1AB CDEF12 439", "LENGTH"),
        ("DOT 3X5 K7L8M9 0619 + DOT 3X5 K7L8M9 0719", "LENGTH"),
        ("06/23", "SYMBOL_NOT_ALLOWED"),
        ("２３２３", "SYMBOL_NOT_ALLOWED"),
        ("5026", "YEAR_FUTURE"),
        ("DOT-R ABC 0126 DOT 3X5 K7L8M9 5026", "YEAR_FUTURE"),
    ],
)
def test_what_cannot_be_a_date_code_is_refused(typed: str, code: str) -> None:
    with pytest.raises(DateCodeError) as refused:
        read_date_code(typed, TODAY)
    assert refused.value.code == code
    assert refused.value.detail


@pytest.mark.parametrize(
    ("typed", "kind", "date_code"),
    [
        ("dot 3x5 k7l8m9 0925", "new13", "0925"),
        ("DOT3X5-K7L8M9-0925", "new13", "0925"),
        ("3X5 K7L8M9 0925", "new13", "0925"),
        ("DOT AB C1DEFH3500", "new_old4", "3500"),
        ("DOTABC1DEF439", "new_old3", "439"),
        ("DOT AB C12 439", "new_old3", "439"),
        ("DOT AB C1 D123", "partial", None),
        ("DOT 3X5 K70123", "partial", None),
        ("DOT-R 7HK AB C 4508", "retread_old", "4508"),
        ("DOTR ABC 0126", "retread7", "0126"),
    ],
)
def test_spacing_and_case_are_free_and_a_broken_off_tin_has_no_date(
    typed: str, kind: str, date_code: str | None
) -> None:
    code = read_date_code(typed, TODAY)
    assert (code.format, code.date_code) == (kind, date_code)


@pytest.mark.parametrize(
    "typed",
    [
        "DOT-R ABC 0126 + DOT 3X5 K7L8M9 0619",
        "DOT 3X5 K7L8M9 0619 DOT-R ABC 0126",
        "DOT-R ABC 0126 DOT 3X5 K7L8M9 0619",
    ],
)
def test_a_retreads_own_date_and_its_casings_are_kept_apart(typed: str) -> None:
    code = read_date_code(typed, TODAY)
    assert (code.week, code.year) == (1, 2026)
    assert code.casing is not None
    assert (code.casing.week, code.casing.year) == (6, 2019)


@pytest.mark.parametrize(
    ("typed", "on", "low", "high"),
    [
        ("2323", date(2033, 6, 11), 10.0, 10.0 + 7 / 365.25),
        ("2323", date(2033, 6, 10), 9.0 + 364 / 365.25, 10.0 + 6 / 365.25),
        ("2323", date(2023, 6, 6), 0.0, 2 / 365.25),
        ("2323", date(2023, 6, 4), 0.0, 0.0),
        ("439", date(2026, 11, 24), 27.0, 48.0),
    ],
)
def test_age_is_a_span_and_whole_years_fall_on_the_anniversary(typed: str, on: date, low: float, high: float) -> None:
    age = age_years(read_date_code(typed, TODAY), on)
    assert age is not None
    if len(typed) == 3:
        assert low < age.low < age.high < high
    else:
        assert (age.low, age.high) == pytest.approx((low, high))


def test_a_tyre_of_29_february_has_its_anniversary_on_1_march() -> None:
    """2016-02-29 opens ISO week 9 of 2016, 2016-02-28 the American one (calendar arithmetic)."""
    code = read_date_code("0916", TODAY)
    assert made_between(code) == (date(2016, 2, 28), date(2016, 3, 6))
    assert age_years(read_date_code("0916", TODAY), date(9999, 12, 31)) is not None


@given(st.integers(1, 52), st.integers(2000, 2025))
@settings(deadline=None)
def test_the_week_of_a_date_code_holds_the_days_that_count_themselves_in_it(week: int, year: int) -> None:
    """The ISO week against the standard library's calendar; the American by its own words, weeks opening on Sunday."""
    made = made_between(read_date_code(f"{week:02}{year % 100:02}", TODAY))
    assert made is not None
    first, last = iso_week(week, year)
    assert first.isocalendar()[:2] == last.isocalendar()[:2] == (year, week)
    sunday, saturday = american_week(week, year)
    assert (sunday.isoweekday(), saturday.isoweekday()) == (7, 6)
    assert int(sunday.strftime("%U")) == week
    assert made == (min(first, sunday), max(last, saturday))


@given(st.integers(1, 52), st.integers(2000, 2025), st.dates(date(2000, 1, 1), date(2100, 1, 1)), st.integers(0, 400))
@settings(deadline=None)
def test_a_tyre_never_grows_younger(week: int, year: int, on: date, days: int) -> None:
    code = read_date_code(f"{week:02}{year % 100:02}", TODAY)
    now, later = age_years(code, on), age_years(code, on + timedelta(days=days))
    assert isinstance(now, Interval)
    assert isinstance(later, Interval)
    assert 0 <= now.low <= now.high
    assert now.low <= later.low
    assert now.high <= later.high


def outcome(text: str) -> DateCode | DateCodeError:
    try:
        return read_date_code(text, TODAY)
    except DateCodeError as error:
        return error


TIN_TEXT = st.one_of(
    st.lists(st.sampled_from(["DOT", "DOT-R", "DOT R", "+", "AB", "3X5", "K7L8M9", "C1", "0925", "439", "-", "G"])).map(
        " ".join
    ),
    st.text(alphabet="DOTR0123456789ABCX +-", max_size=62),
    st.text(max_size=62),
)


@settings(deadline=None, max_examples=400)
@given(TIN_TEXT)
def test_any_text_is_a_date_code_or_is_refused(text: str) -> None:
    read = outcome(text)
    if isinstance(read, DateCodeError):
        assert read.detail
    else:
        assert (age_years(read, TODAY) is None) == ("NO_DATE" in read.flags)
