"""What a case gives, as the rules see it: a measurement as the interval it can have, a choice as the choices left."""

from __future__ import annotations

from typing import TypeVar

from mendgauge.core.interval import Interval
from mendgauge.core.vocabulary import Measured, Range

T = TypeVar("T")


def measured(value: Measured | None, unknown: Interval) -> Interval:
    """Return a measurement as an interval: the number, the range, or all that an unknown can be."""
    # By its type, a plain number first: `isinstance` asks the metaclass of a struct and takes several times as long.
    if type(value) is float:
        return Interval(value, value)
    if value is None:
        return unknown
    return Interval(value.low, value.high) if type(value) is Range else Interval(value, value)


def choices_left(every: tuple[T, ...]) -> dict[T | None, tuple[T, ...]]:
    """Return the choices left for each choice as given: one, or every one where none was given."""
    return {None: every, **{value: (value,) for value in every}}
