"""What a provision states, in one form for every kind of value, so that any client can read it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Final

from mendgauge.operations.rulebooks.answer import StatedValue

_UNITS: Final = {
    "c": "°C", "days": "days", "deg": "°", "hours": "h", "km": "km", "kmh": "km/h", "miles": "miles", "minutes": "min",
    "mm": "mm", "mph": "mph", "kg": "kg", "percent": "%", "rpm": "rpm", "years": "years",
}  # fmt: skip
"""By the last word of a name: the unit its numbers are in."""


def stated(fields: Mapping[str, Any]) -> tuple[StatedValue, ...]:
    """Return each of these fields of a provision, by name, as it is answered."""
    return tuple(_stated(name, value) for name, value in fields.items())


def _stated(name: str, value: Any) -> StatedValue:
    """Return one value.

    >>> _stated("found_to_mm", 6.0).text
    '6 mm'
    >>> _stated("kinds", ("truck", "bus")).words
    ('truck', 'bus')
    """
    if isinstance(value, bool):
        return StatedValue(name=name, text="yes" if value else "no", numbers=(), unit=None, words=(), holds=value)
    listed = value if isinstance(value, tuple) else (value,)
    numbers = tuple(float(part) for part in listed if not isinstance(part, str))
    words = tuple(part for part in listed if isinstance(part, str))
    unit = _UNITS.get(name.rpartition("_")[2]) if numbers else None
    text = ", ".join([f"{number:g}" for number in numbers] + [*words]) or "none"
    return StatedValue(
        name=name, text=f"{text} {unit}" if unit else text, numbers=numbers, unit=unit, words=words, holds=None
    )
