"""Reading a date code, or the whole tyre identification number (TIN) that ends in it.

The TIN of 49 CFR 574.5: DOT, the plant, the maker's symbols, then week and year. New tyres have 13 symbols; before that
rule 6 to 12 with four figures of date (from 2000), 5 to 11 with three (before 2000, the decade unknown); a retread says
DOT-R and may carry its casing's TIN as well. A TIN names a batch of a plant and never one tyre.

A week has seven days, and the American count (from Sunday, the first Sunday opening week 1) and the ISO count differ:
the day of manufacture is a span.

>>> code = read_date_code("DOT 3X5 K7L8M9 2323", date(2026, 11, 24))
>>> code.week, code.year, code.plant, code.flags
(23, 2023, '3X5', ())
>>> made_between(code)
(datetime.date(2023, 6, 4), datetime.date(2023, 6, 11))
>>> age_years(code, date(2033, 6, 11)).low
10.0
>>> try:
...     read_date_code("DOT 3S5 K7L8M9 0925", date(2026, 11, 24))
... except DateCodeError as error:
...     error.code, error.detail
('SYMBOL_NOT_ALLOWED', "S in '3S5K7L8M90925' is no symbol of a TIN; it may be a 5")
"""

from __future__ import annotations

import re
from datetime import date, timedelta
from functools import lru_cache
from typing import Final, Literal, TypeAlias

import msgspec

from mendgauge.core.interval import Interval

Format: TypeAlias = Literal[
    "new13", "new_old4", "new_old3", "date_only", "date_only3", "retread7", "retread_old", "partial"
]

LONGEST: Final = 60
"""The most signs a date code or a pair of TINs may have."""

SYMBOLS: Final = frozenset("ABCDEFHJKLMNPRTUVWXY0123456789")
"""What a TIN is written with (49 CFR 574.5): no G, I, O, Q, S or Z."""

_MISREAD: Final = {"G": "a 6 or a C", "I": "a 1", "O": "a 0", "Q": "a 0", "S": "a 5", "Z": "a 2"}
_TIN: Final = re.compile(r"(?P<dot>DOT(?P<retread>[ -]?R(?=[ -]))?)?[ -]*(?P<rest>.*)")
_FIRST_TIN_YEAR: Final = 1971  # 49 CFR 574 took effect in May 1971 (from_memory)
_NEW_TIN_YEAR: Final = 2015  # 13 symbols new, 7 retread: the rule of April 2015
_NEW_LENGTH: Final = 13
_OLD_LENGTH: Final = {4: (6, 12), 3: (5, 11)}
_LONGEST_UNDATED: Final = 9
_WEEK_AND_YEAR: Final = 4  # figures of a date code alone, from 2000
_LAST_WEEK: Final = 53


class DateCodeError(ValueError):
    """A date code that cannot be right.

    `code` is one of: EMPTY, TOO_LONG, SYMBOL_NOT_ALLOWED, LENGTH, DATE_NOT_NUMERIC, WEEK_RANGE, YEAR_FUTURE.
    """

    def __init__(self, code: str, detail: str) -> None:
        super().__init__(detail)
        self.code = code
        self.detail = detail


class DateCode(msgspec.Struct, frozen=True, kw_only=True):
    """A date code, read.

    `year` is `None` where only its last figure is moulded; `year_candidates` are then the years it may be. `flags`:
    PRE_2000_DECADE_UNKNOWN; WEEK53_ISO_ONLY, the American count has no such week in that year; WEEK53_NEITHER, no count
    has; TWO_TINS, a retread's and its casing's, the latter in `casing`; NO_DATE, this sidewall carries no date and the
    other has to be read.
    """

    format: Format
    plant: str | None = None
    middle: str | None = None
    date_code: str | None = None
    week: int | None = None
    year: int | None = None
    year_candidates: tuple[int, ...] = ()
    flags: tuple[str, ...] = ()
    casing: DateCode | None = None


def read_date_code(text: str, today: date) -> DateCode:
    """Return the date code or TIN that `text` spells. `today` is the day the tyre is looked at: it was made by then.

    Of a retread's and a casing's TIN together, the retread's. Raise `DateCodeError`.
    """
    if len(text) > LONGEST:
        raise DateCodeError("TOO_LONG", f"a date code or TIN has at most {LONGEST} signs, this has {len(text)}")
    if len(text) == _WEEK_AND_YEAR and text.isascii() and text.isdigit():
        return _dated("date_only", None, None, text, today)
    plain = " ".join(text.upper().split())
    tins = [tin for tin in re.split(r"[ +]+(?=DOT)|\+", plain) if tin.strip()]
    if not tins:
        raise DateCodeError("EMPTY", "the date code is empty: write week and year, as in 2323, or the whole TIN")
    codes = [_read_tin(tin.strip(), today) for tin in tins]
    if len(codes) == 1:
        return codes[0]
    retread, casing = sorted(codes, key=lambda code: not code.format.startswith("retread"))[:2]
    if len(codes) > 2 or not retread.format.startswith("retread") or casing.format.startswith("retread"):
        detail = "more than one TIN is given: only a retread has two, its own with DOT-R and its casing's with DOT"
        raise DateCodeError("LENGTH", detail)
    return msgspec.structs.replace(retread, flags=(*retread.flags, "TWO_TINS"), casing=casing)


def _read_tin(tin: str, today: date) -> DateCode:
    """Return what one TIN says, or a date code alone. Raise `DateCodeError`."""
    head = _TIN.fullmatch(tin)
    groups = re.split(r"[ -]+", head["rest"]) if head else []
    symbols = "".join(groups)
    if head is None or not symbols:
        raise DateCodeError("EMPTY", f"nothing stands behind '{tin}': the TIN follows, and ends in week and year")
    for symbol in symbols:
        if symbol not in SYMBOLS:
            hint = f"; it may be {_MISREAD[symbol]}" if symbol in _MISREAD else ""
            raise DateCodeError("SYMBOL_NOT_ALLOWED", f"{symbol} in '{symbols}' is no symbol of a TIN{hint}")
    if symbols.isdigit() and (not head["dot"] or len(symbols) <= 4):
        if len(symbols) not in (3, 4):
            raise DateCodeError("LENGTH", f"'{symbols}': a date code has four figures, before 2000 three")
        return _dated("date_only" if len(symbols) == 4 else "date_only3", None, None, symbols, today)
    moulded = _moulded_date(groups, symbols)
    if moulded is None:
        if len(symbols) < 2:
            raise DateCodeError("LENGTH", f"'{symbols}' is too short for a TIN: 13 symbols, on older tyres 5 to 12")
        return DateCode(format="partial", flags=("NO_DATE",))
    if head["retread"]:
        return _retread(symbols, moulded, today)
    count, (fewest, most) = len(symbols), _OLD_LENGTH[len(moulded)]
    if count == _NEW_LENGTH and len(moulded) == 4:
        return _dated("new13", symbols[:3], symbols[3:-4], moulded, today)
    if not fewest <= count <= most:
        detail = f"'{symbols}' has {count} symbols: a TIN has 13, on older tyres 6 to 12 (5 to 11 before 2000)"
        raise DateCodeError("LENGTH", detail)
    old: Format = "new_old4" if len(moulded) == 4 else "new_old3"
    return _dated(old, symbols[:2], symbols[2 : -len(moulded)], moulded, today)


def _retread(symbols: str, moulded: str, today: date) -> DateCode:
    plant, middle = symbols[:3], symbols[3 : -len(moulded)]
    if not 3 + len(moulded) <= len(symbols) <= _NEW_LENGTH:
        detail = f"'{symbols}' has {len(symbols)} symbols: behind DOT-R stand 7, on older retreads up to 13"
        raise DateCodeError("LENGTH", detail)
    code = _dated("retread_old", plant, middle, moulded, today)
    if middle == "" and code.year is not None and code.year >= _NEW_TIN_YEAR:
        return msgspec.structs.replace(code, format="retread7")
    return code


def _moulded_date(groups: list[str], symbols: str) -> str | None:
    """Return the figures of the date, or `None` where the TIN breaks off before it.

    A group of its own is the date. In a TIN written without gaps, or too long to be without a date, it is the end.
    """
    if len(groups) > 1 and groups[-1].isdigit() and len(groups[-1]) in (3, 4):
        return groups[-1]
    if len(groups) > 1 and len(symbols) <= _LONGEST_UNDATED:
        return None
    for length in (4, 3):
        if symbols[-length:].isdigit() and len(symbols) > length:
            return symbols[-length:]
    if len(symbols) <= _LONGEST_UNDATED:
        return None
    if len(symbols) > _NEW_LENGTH:
        raise DateCodeError("LENGTH", f"'{symbols}' has {len(symbols)} symbols: a TIN has 13, on older tyres 5 to 12")
    raise DateCodeError("DATE_NOT_NUMERIC", f"'{symbols}' ends in '{symbols[-4:]}': week and year are four figures")


def _dated(kind: Format, plant: str | None, middle: str | None, moulded: str, today: date) -> DateCode:
    """Return the code with its date understood, which must be a week there is and not in the future."""
    week = int(moulded[:2])
    if not 1 <= week <= _LAST_WEEK:
        raise DateCodeError("WEEK_RANGE", f"'{moulded}' would be week {moulded[:2]}: weeks are 01 to {_LAST_WEEK}")
    flags: list[str] = []
    year: int | None = None
    candidates: tuple[int, ...] = ()
    if len(moulded) == 4:
        year = 2000 + int(moulded[2:])
        if week == _LAST_WEEK and not _has_american_week(week, year):
            flags.append("WEEK53_ISO_ONLY" if _has_iso_week(week, year) else "WEEK53_NEITHER")
    else:
        candidates = tuple(y for y in range(_FIRST_TIN_YEAR, 2000) if y % 10 == int(moulded[2]))
        flags.append("PRE_2000_DECADE_UNKNOWN")
    code = DateCode(
        format=kind,
        plant=plant,
        middle=middle,
        date_code=moulded,
        week=week,
        year=year,
        year_candidates=candidates,
        flags=tuple(flags),
    )
    made = made_between(code)
    if made is not None and made[0] > today:
        detail = f"'{moulded}' is week {week} of {year}, after {today.isoformat()}; the week comes first, then the year"
        raise DateCodeError("YEAR_FUTURE", detail)
    return code


def made_between(code: DateCode) -> tuple[date, date] | None:
    """Return the first and the last day it may have been made on (a retread: retreaded); `None` without a date."""
    if code.week is None:
        return None
    if code.year is not None:
        return _made_in(code.week, code.year)
    spans = [_made_in(code.week, year) for year in code.year_candidates]
    return min(first for first, _ in spans), max(last for _, last in spans)


@lru_cache(maxsize=1024)
def _made_in(week: int, year: int) -> tuple[date, date]:
    """Return the first and the last day of a week, by whichever count."""
    spans = _weeks(week, year)
    return min(first for first, _ in spans), max(last for _, last in spans)


def age_years(code: DateCode, on: date) -> Interval | None:
    """Return the age on a day, in years since it was made, of a retread since retreading; `None` without a date.

    Whole years fall on the anniversary, and a tyre made in the week of `on` is of age 0.
    """
    made = made_between(code)
    if made is None:
        return None
    first, last = made
    return Interval(_years(last, on), _years(first, on))


def _years(since: date, on: date) -> float:
    """Return the years gone by, the last one in part; 0 where there are none yet."""
    if on <= since:
        return 0.0
    whole = on.year - since.year
    if _anniversary(since, whole) > on:
        whole -= 1
    return whole + (on - _anniversary(since, whole)).days / 365.25


def _anniversary(since: date, years: int) -> date:
    """Return the same day so many years on; 29 February falls on 1 March where there is none."""
    try:
        return since.replace(year=since.year + years)
    except ValueError:
        return date(since.year + years, 3, 1)


def american_week(week: int, year: int) -> tuple[date, date]:
    """First and last day of a week counted from the first Sunday of the year (49 CFR 574.5)."""
    january = date(year, 1, 1)
    first = january + timedelta(days=(6 - january.weekday()) % 7 + 7 * (week - 1))
    return first, first + timedelta(days=6)


def iso_week(week: int, year: int) -> tuple[date, date]:
    """First and last day of a week by ISO 8601."""
    first = date.fromisocalendar(year, 1, 1) + timedelta(days=7 * (week - 1))
    return first, first + timedelta(days=6)


def _has_american_week(week: int, year: int) -> bool:
    return american_week(week, year)[0].year == year


def _has_iso_week(week: int, year: int) -> bool:
    return iso_week(week, year)[0].isocalendar()[:2] == (year, week)


def _weeks(week: int, year: int) -> list[tuple[date, date]]:
    """Return the days of a week by each count that has it; where none has, by both as they would run on."""
    american, iso = american_week(week, year), iso_week(week, year)
    counts = [american] * _has_american_week(week, year) + [iso] * _has_iso_week(week, year)
    return counts or [american, iso]
