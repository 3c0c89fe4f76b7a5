"""Numbers with their units, as people write them: `4.5 mm`, `3,5..4,5`, `4/32`, `1 1/4"`, `130 mph`."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from functools import cache
from importlib.resources import files

from mendgauge_client.tabular.faults import UnusableValueError

NAMES = {
    "mm": "millimetres",
    "deg": "degrees",
    "kg": "kilograms",
    "kmh": "kilometres an hour",
    "km": "kilometres",
    "percent": "per cent",
    "c": "degrees Celsius",
    "minutes": "minutes",
}
"""The names of the units, by the ending of a field's name."""
FRACTION = re.compile(r"(?:(\d+)\s+)?(\d+)/(\d+)(?:nds?|ths?)?")
THIRTY_SECONDS = 32
"""The one denominator that needs no inch sign: tread is measured in 32nds of an inch, and nothing else is."""
FAHRENHEIT = ("°F", "F")
SPACES = "\u00a0\u202f "
"""What may part thousands, beside the point or the comma that is not the decimal sign."""
SIGNIFICANT = 9
"""Digits kept of a converted number: more than any gauge reads, and few enough to leave no trace of the conversion."""


@cache
def _factors() -> Mapping[str, Mapping[str, float]]:
    listed = tomllib.loads(files(__package__).joinpath("units.toml").read_text("utf-8"))
    return {ending: {unit: float(factor) for unit, factor in units.items()} for ending, units in listed.items()}


@cache
def _quantity(decimal_comma: bool, ending: str) -> str:
    """Return a pattern of a number and its unit."""
    decimal, grouping = (",", r"\.") if decimal_comma else (r"\.", ",")
    grouped = rf"\d{{1,3}}(?:[{SPACES}]\d{{3}})+(?:{decimal}\d+)?|\d{{1,3}}(?:{grouping}\d{{3}})+{decimal}\d+"
    # Where the comma is the decimal sign, a point is taken for one too: `1.900` is flagged where it is not plausible.
    plain = r"\d+(?:[.,]\d+)?" if decimal_comma else r"\d+(?:\.\d+)?"
    units = sorted([*_factors().get(ending, {}), *(FAHRENHEIT if ending == "c" else ())], key=len, reverse=True)
    unit = "|".join(map(re.escape, units)) or "(?!)"
    return rf"([+-]?(?:(?:\d+\s+)?\d+/\d+(?:nds?|ths?)?|{grouped}|{plain}))\s*((?i:{unit}))?"


def unit_of(name: str) -> tuple[str, str]:
    """Return the sign and the name of the unit that a field's name ends in; both empty where it ends in none."""
    ending = name.rpartition("_")[2]
    return (next(iter(_factors()[ending])), NAMES[ending]) if ending in NAMES else ("", "")


def known_unit(name: str, unit: str) -> bool:
    """Return whether a unit is one that the field takes."""
    ending = name.rpartition("_")[2]
    known = {one.casefold() for one in (*_factors().get(ending, {}), *(FAHRENHEIT if ending == "c" else ()))}
    return unit.casefold() in known


def read_quantity(name: str, text: str, *, decimal_comma: bool = False, unit: str = "") -> list[float] | None:
    """Read a number, or a range of two, into the unit of the field.

    Args:
        name: The field; its ending names its unit.
        text: What is written.
        decimal_comma: Whether a comma parts the decimals.
        unit: The unit of what has none beside it; empty is the field's own.

    Returns:
        One number or two; None where the text is neither.

    Raises:
        UnusableValueError: It is a fraction of which nothing says of what, or a range from one to a number.
    """
    ending = name.rpartition("_")[2]
    quantity = _quantity(decimal_comma, ending)
    if found := re.fullmatch(quantity, text):
        return [_value(found[1], found[2] or unit, ending, decimal_comma)]
    found = re.fullmatch(rf"{quantity}\s*(?:\.\.|–|-|to|bis)\s*{quantity}", text)
    if found is None:
        return None
    if ("/" in found[1]) is not ("/" in found[3]):
        raise UnusableValueError(f"{text!r} can be read in two ways: write both ends alike, such as 3/32..4/32")
    # In `3.5 to 4.5 mm` the unit stands once, for both.
    return [
        _value(found[1], found[2] or found[4] or unit, ending, decimal_comma),
        _value(found[3], found[4] or unit, ending, decimal_comma),
    ]


def _value(amount: str, unit: str, ending: str, decimal_comma: bool) -> float:
    factor = _factor(ending, unit)
    if "/" in amount:
        return _fraction(amount, unit, ending)
    for space in SPACES:
        amount = amount.replace(space, "")
    if decimal_comma and "," in amount:
        amount = amount.replace(".", "").replace(",", ".")
    number = float(amount.replace(",", ""))
    if unit.casefold() in (one.casefold() for one in FAHRENHEIT) and ending == "c":
        return round((number - 32) / 1.8, SIGNIFICANT)
    return number if factor == 1 else round(number * factor, SIGNIFICANT)


def _factor(ending: str, unit: str) -> float:
    by_name = {name.casefold(): factor for name, factor in _factors().get(ending, {}).items()}
    return by_name.get(unit.casefold(), 1.0)


def _fraction(amount: str, unit: str, ending: str) -> float:
    """Return a fraction of an inch in millimetres."""
    inch = _factors()["mm"]["inch"]
    found = FRACTION.fullmatch(amount.lstrip("+-"))
    assert found is not None
    whole, part, of = int(found[1] or 0), int(found[2]), int(found[3])
    inches = _factor(ending, unit) in (inch, inch / THIRTY_SECONDS) or (not unit and of == THIRTY_SECONDS)
    if ending != "mm" or not inches or not of:
        raise UnusableValueError(f'{amount!r} is a fraction of what? Write {amount}" where inches are meant')
    return round((-1 if amount.startswith("-") else 1) * (whole + part / of) * inch, SIGNIFICANT)
