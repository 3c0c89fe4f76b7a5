"""What is known of a quantity: intervals of numbers, and truth in three values.

A measurement, a range and an unknown are one thing, an `Interval`: a point, a span, or the widest span the quantity can
have. A yes-or-no fact is one thing too, a `Truth`: the set of answers still possible. Nothing here knows of tyres.
"""

from __future__ import annotations

from typing import Final, Literal, TypeAlias

import msgspec

Truth: TypeAlias = Literal[1, 2, 3]
"""The answers still possible, as bits: `YES`, `NO`, or `EITHER` of the two."""

YES: Final[Literal[1]] = 1
NO: Final[Literal[2]] = 2
EITHER: Final[Literal[3]] = 3

ANSWERS: Final[tuple[Truth, ...]] = (YES, NO, EITHER)
"""Every state a yes-or-no fact can be in."""

_OPPOSITE: Final[tuple[Truth, ...]] = (3, NO, YES, EITHER)


class Interval(msgspec.Struct, frozen=True, gc=False):
    """All values from `low` to `high`, both included. A point has `low == high`."""

    low: float
    high: float

    @property
    def known(self) -> bool:
        """Whether the interval is a single value."""
        return self.low == self.high

    def plus(self, other: Interval) -> Interval:
        """Return every sum of a value of this and a value of the other."""
        return Interval(self.low + other.low, self.high + other.high)

    def times(self, factor: float) -> Interval:
        """Return every value times a factor that is zero or more."""
        return Interval(self.low * factor, self.high * factor)

    def magnitude(self) -> Interval:
        """Return every absolute value."""
        if self.low >= 0.0:
            return self
        if self.high <= 0.0:
            return Interval(-self.high, -self.low)
        return Interval(0.0, max(-self.low, self.high))

    def hull(self, other: Interval) -> Interval:
        """Return the smallest interval that holds both."""
        # Comparisons, as `min` and `max` take three times as long for two numbers.
        return Interval(
            self.low if self.low < other.low else other.low, self.high if self.high > other.high else other.high
        )


def point(value: float) -> Interval:
    """Return the interval of one value."""
    return Interval(value, value)


def truth(value: bool | None) -> Truth:
    """Return a yes-or-no fact as it was given: `None` is either."""
    if value is None:
        return EITHER
    return YES if value else NO


def negate(answer: Truth) -> Truth:
    """Return yes for no, no for yes."""
    return _OPPOSITE[answer]


def both(one: Truth, other: Truth) -> Truth:
    """Return whether both hold, the two facts being independent."""
    if one == NO or other == NO:
        return NO
    return YES if one == YES and other == YES else EITHER


def any_of(one: Truth, other: Truth) -> Truth:
    """Return whether at least one holds, the two facts being independent."""
    if one == YES or other == YES:
        return YES
    return NO if one == NO and other == NO else EITHER


def at_most(value: Interval, limit: float, *, inclusive: bool = True) -> Truth:
    """Return whether the value keeps to an upper limit; `inclusive` lets the limit itself pass."""
    if inclusive:
        if value.high <= limit:
            return YES
        return NO if value.low > limit else EITHER
    if value.high < limit:
        return YES
    return NO if value.low >= limit else EITHER


def at_least(value: Interval, limit: float, *, inclusive: bool = True) -> Truth:
    """Return whether the value keeps to a lower limit; `inclusive` lets the limit itself pass."""
    if inclusive:
        if value.low >= limit:
            return YES
        return NO if value.high < limit else EITHER
    if value.low > limit:
        return YES
    return NO if value.high <= limit else EITHER
