"""Quantities in words, as a person of the trade says them: no more digits than the gauge reads, units of the country.

Britain measures in metric and drives in mph. America reads the tape in fractions of an inch, tread in 32nds, the gauge
in psi, the scale in pounds and the thermometer in °F; the metric figure follows in brackets, as it decides.
"""

from __future__ import annotations

import re
from fractions import Fraction
from functools import lru_cache
from math import inf
from typing import Final

from mendgauge.rulebooks.provision import Language

_MM_PER_INCH: Final = 25.4
_KM_PER_MILE: Final = 1.609344
_LB_PER_KG: Final = 1.0 / 0.45359237
_PSI_PER_KPA: Final = 1.0 / 6.894757293168
_CM2_PER_SQUARE_INCH: Final = 6.4516

_SINGULAR: Final = {"repairs": "repair", "days": "day", "hours": "hour", "degrees": "degree"}
_UNIT_WORDS: Final = {"deg": "degrees"}
_WHOLE_UNITS: Final = frozenset({"km/h", "km", "kPa", "rpm"})
"""Units whose gauge reads no tenths."""

_NEAR_ENOUGH_MM: Final = ((300.0, 1.6), (25.0, 0.8), (0.0, 0.5))
"""How far off a fraction may be, mm, for lengths over so many mm: a tape is read to 1/8, to 1/16, a rule finer."""
_NEAR_ENOUGH_SHARE: Final = 0.1
_FINEST_MM: Final = _MM_PER_INCH / 64.0
"""What a rule in 32nds still reads, mm."""
_TAPE: Final = (2, 4, 8, 16, 32)
"""Denominators of the fractions on a tape, from the coarsest."""


@lru_cache(maxsize=4096)
def quantity(
    low: float,
    high: float,
    unit: str,
    language: Language,
    *,
    tread: bool = False,
    metric: bool = False,
    exact: bool = False,
) -> str:
    """Return a quantity with its unit; a range as "5 to 7 mm", from nothing on as "up to 7 mm".

    `tread` reads a depth in 32nds of an inch where inches are spoken. `metric` leaves the country's own unit out, and
    `exact` keeps thousandths: where a value would else read like the limit that it is held against.

    >>> quantity(6.0, 6.0, "mm", "en-GB"), quantity(6.0, 6.0, "mm", "en-US")
    ('6 mm', '1/4 in (6 mm)')
    >>> quantity(3.2, 3.2, "mm", "en-US", tread=True), quantity(80.0, 80.0, "km/h", "en-GB")
    ('4/32 in (3.2 mm)', '50 mph (80 km/h)')
    >>> quantity(1.0, 1.0, "years", "en-GB"), quantity(10.1, 10.1, "years", "en-GB")
    ('1 year', 'just over 10 years')
    """
    if unit == "years":
        return _years(low, high)
    if unit == "percent":
        return f"{_span(_digits(low, unit, exact=exact), _digits(high, unit, exact=exact))}%"
    if unit == "repairs" and not high:
        return "no repairs"
    if high == inf:
        return f"{quantity(low, low, unit, language, tread=tread, metric=metric, exact=exact)} or more"
    number = _span(_digits(low, unit, exact=exact), _digits(high, unit, exact=exact))
    in_metric = f"{number} {_unit(unit, number)}".strip()
    customary = "" if metric else _customary(low, high, unit, language, tread=tread)
    if not customary:
        return in_metric
    # "up to" stands once, before both.
    return f"{customary} ({in_metric.removeprefix('up to ') if customary.startswith('up to ') else in_metric})"


def american_quantities(text: str) -> str:
    """Return a British text with its metric quantities in the units of an American shop, metric in brackets.

    A quantity that stands in brackets already follows its own in other units, and is left.

    >>> american_quantities("Buff 3 to 5 mm past the patch; 276 kPa (40 psi) at most.")
    'Buff 1/8 to 3/16 in (3 to 5 mm) past the patch; 40 psi (276 kPa) at most.'
    """
    return _WRITTEN.sub(_rewritten, _PAIR.sub(r"\2 (\1)", text))


_NUMBER: Final = r"\d+(?:,\d{3})*(?:\.\d+)?"
_METRIC: Final = r"mm|km/h|km|kg|kPa|°C|cm²"
_WRITTEN: Final = re.compile(
    rf"\([^()]*\)|(?<![\w/.,-])({_NUMBER})(?: to ({_NUMBER}))? ({_METRIC})(?![\w/²])( of tread)?"
)
_PAIR: Final = re.compile(
    rf"((?:{_NUMBER} to )?{_NUMBER} (?:{_METRIC})) \(((?:{_NUMBER} to )?{_NUMBER} (?:psi|mph|miles|lb|°F))\)"
)


def _rewritten(found: re.Match[str]) -> str:
    least, most, unit, of_tread = found.groups()
    if least is None:
        return found.group()
    low = float(least.replace(",", ""))
    high = low if most is None else float(most.replace(",", ""))
    return quantity(low, high, unit, "en-US", tread=bool(of_tread)) + (of_tread or "")


def _customary(low: float, high: float, unit: str, language: Language, *, tread: bool) -> str:
    """Return the quantity in the customary unit of a country; empty where it has none of its own."""
    if unit == "km/h":
        return _plain(low / _KM_PER_MILE, high / _KM_PER_MILE, "mph")
    if unit == "km":
        return f"{_span(_miles(low), _miles(high))} miles"
    if language != "en-US":
        return ""
    if unit == "mm":
        read = _thirty_seconds if tread else _inches
        # Thousandths are no end of a range whose other end is a fraction.
        least = 0.0 if low < _FINEST_MM <= high else low
        return f"{_span(read(least), read(high))} in"
    if unit == "cm²":
        return f"{_span(f'{low / _CM2_PER_SQUARE_INCH:.1g}', f'{high / _CM2_PER_SQUARE_INCH:.1g}')} sq in"
    if unit == "°C":
        return f"{_span(f'{low * 1.8 + 32.0:.0f}', f'{high * 1.8 + 32.0:.0f}', from_nothing=False)} °F"
    scale = {"kg": (_LB_PER_KG, "lb"), "kPa": (_PSI_PER_KPA, "psi")}.get(unit)
    return "" if scale is None else _plain(low * scale[0], high * scale[0], scale[1])


def _plain(low: float, high: float, unit: str) -> str:
    return f"{_span(f'{low:,.0f}', f'{high:,.0f}')} {unit}"


def _span(low: str, high: str, *, from_nothing: bool = True) -> str:
    """Return a number, or a range of numbers where they differ."""
    if low == high:
        return low
    return f"up to {high}" if low == "0" and from_nothing else f"{low} to {high}"


def _digits(value: float, unit: str, *, exact: bool) -> str:
    """Return a number as its gauge reads it: whole from 100 on, a tenth below; never a power of ten."""
    value = round(value, 3) + 0.0
    if exact:
        return f"{value:.10g}"
    if unit == "kg":
        return f"{value:,.0f}"
    if unit in _WHOLE_UNITS or abs(value) >= 100.0:
        return f"{value:.0f}"
    tenths = round(value, 1) + 0.0
    return f"{tenths:g}" if tenths or not value else f"{value:.1g}"


def _unit(unit: str, number: str) -> str:
    words = _UNIT_WORDS.get(unit, unit)
    return _SINGULAR.get(words, words) if number in ("1", "up to 1") else words


def _years(low: float, high: float) -> str:
    """Return an age: limits are whole or half years and said so; one read from a week of manufacture is about right."""
    if high - low >= 1.0:
        number = _span(f"{low:.0f}", f"{high:.0f}")
        return f"{number} {'year' if number in ('1', 'up to 1') else 'years'}"
    if low == high and (2.0 * low).is_integer():
        return f"{low:g} {'year' if low == 1.0 else 'years'}"
    middle = (low + high) / 2.0
    whole, part = divmod(middle, 1.0)
    if part < 0.25:
        near, years = "just over", whole
    elif part >= 0.75:
        near, years = "nearly", whole + 1.0
    else:
        near, years = "about", whole + 0.5
    if not years:
        return "a few months"
    return f"{near} {years:g} {'year' if years == 1.0 else 'years'}"


def _miles(km: float) -> str:
    """Return a distance on the road, to 5 miles from 20 on."""
    miles = km / _KM_PER_MILE
    return f"{5.0 * round(miles / 5.0):.0f}" if miles >= 20.0 else f"{miles:.0f}"


def _thirty_seconds(depth_mm: float) -> str:
    """Return a tread depth as its gauge reads it: "4/32", never cancelled down."""
    return f"{round(depth_mm / _MM_PER_INCH * 32)}/32" if depth_mm else "0"


def _inches(length_mm: float) -> str:
    """Return a length as a tape reads it: the coarsest fraction near enough, thousandths below the finest."""
    if not length_mm:
        return "0"
    if length_mm < _FINEST_MM:
        return f"{max(length_mm / _MM_PER_INCH, 0.001):.1g}"
    near = next(error for over, error in _NEAR_ENOUGH_MM if length_mm > over)
    near = min(near, _NEAR_ENOUGH_SHARE * length_mm)
    for parts in _TAPE:
        inches = Fraction(round(length_mm / _MM_PER_INCH * parts), parts)
        if inches and abs(float(inches) * _MM_PER_INCH - length_mm) <= near:
            break
    else:
        inches = Fraction(max(1, round(length_mm / _MM_PER_INCH * _TAPE[-1])), _TAPE[-1])
    whole, rest = divmod(inches.numerator, inches.denominator)
    return " ".join(
        part for part in (f"{whole}" if whole else "", f"{rest}/{inches.denominator}" if rest else "") if part
    )
