"""Intervals, and truth in three values: a truth is the set of answers still possible; its tables follow from that."""

from __future__ import annotations

from collections.abc import Callable
from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mendgauge.core import geometry as crown
from mendgauge.core.interval import (
    ANSWERS,
    EITHER,
    NO,
    YES,
    Interval,
    Truth,
    any_of,
    at_least,
    at_most,
    both,
    negate,
    point,
    truth,
)

MEANING: dict[Truth, set[bool]] = {YES: {True}, NO: {False}, EITHER: {True, False}}


def truth_of(answers: set[bool]) -> Truth:
    return next(answer for answer, meaning in MEANING.items() if meaning == answers)


def test_a_truth_as_it_was_given() -> None:
    assert truth(True) == YES
    assert truth(False) == NO
    assert truth(None) == EITHER
    assert set(ANSWERS) == {YES, NO, EITHER}


def test_an_open_truth_has_the_bits_of_both_answers() -> None:
    assert EITHER == YES | NO
    assert YES & NO == 0


@pytest.mark.parametrize("answer", ANSWERS)
def test_negation(answer: Truth) -> None:
    assert negate(answer) == truth_of({not one for one in MEANING[answer]})
    assert negate(negate(answer)) == answer


@pytest.mark.parametrize(("one", "other"), list(product(ANSWERS, ANSWERS)))
def test_both_and_any_are_every_combination_of_the_answers_left(one: Truth, other: Truth) -> None:
    pairs = list(product(MEANING[one], MEANING[other]))
    assert both(one, other) == truth_of({a and b for a, b in pairs})
    assert any_of(one, other) == truth_of({a or b for a, b in pairs})


BOTH = [
    (YES, YES, YES),
    (YES, NO, NO),
    (YES, EITHER, EITHER),
    (NO, YES, NO),
    (NO, NO, NO),
    (NO, EITHER, NO),
    (EITHER, YES, EITHER),
    (EITHER, NO, NO),
    (EITHER, EITHER, EITHER),
]
"""Conjunction in the strong three-valued logic of Kleene, Introduction to Metamathematics (1952): published, the place
in it (section 64) from_memory.
"""


@pytest.mark.parametrize(("one", "other", "expected"), BOTH)
def test_the_published_table_of_both(one: Truth, other: Truth, expected: Truth) -> None:
    assert both(one, other) == expected
    assert any_of(negate(one), negate(other)) == negate(expected)


LIMITS: list[tuple[Callable[..., Truth], bool, float, float, Truth]] = [
    (at_most, True, 4.0, 6.0, YES),
    (at_most, True, 6.0, 6.0, YES),
    (at_most, True, 6.0, 6.5, EITHER),
    (at_most, True, 6.1, 6.5, NO),
    (at_most, False, 4.0, 5.9, YES),
    (at_most, False, 4.0, 6.0, EITHER),
    (at_most, False, 6.0, 6.0, NO),
    (at_most, False, 6.0, 6.5, NO),
    (at_least, True, 6.0, 8.0, YES),
    (at_least, True, 6.0, 6.0, YES),
    (at_least, True, 5.5, 6.0, EITHER),
    (at_least, True, 5.0, 5.9, NO),
    (at_least, False, 6.1, 8.0, YES),
    (at_least, False, 6.0, 8.0, EITHER),
    (at_least, False, 6.0, 6.0, NO),
    (at_least, False, 5.0, 6.0, NO),
]


@pytest.mark.parametrize(("keeps", "inclusive", "low", "high", "expected"), LIMITS)
def test_a_limit_of_6(keeps: Callable[..., Truth], inclusive: bool, low: float, high: float, expected: Truth) -> None:
    assert keeps(Interval(low, high), 6.0, inclusive=inclusive) == expected


def test_a_limit_itself_passes_unless_it_is_said_that_it_does_not() -> None:
    assert at_most(point(6.0), 6.0) == YES
    assert at_least(point(6.0), 6.0) == YES


HALVES = st.integers(-20, 20).map(lambda half: half / 2)
INTERVALS = st.tuples(HALVES, HALVES).map(lambda ends: Interval(min(ends), max(ends)))


def values(span: Interval) -> list[float]:
    """Every half from one end to the other."""
    return [half / 2 for half in range(int(span.low * 2), int(span.high * 2) + 1)]


@given(INTERVALS, HALVES, st.booleans())
def test_a_limit_is_kept_by_all_by_none_or_by_some(span: Interval, limit: float, inclusive: bool) -> None:
    kept = {value <= limit if inclusive else value < limit for value in values(span)}
    assert at_most(span, limit, inclusive=inclusive) == truth_of(kept)
    kept = {value >= limit if inclusive else value > limit for value in values(span)}
    assert at_least(span, limit, inclusive=inclusive) == truth_of(kept)


@given(INTERVALS, INTERVALS, st.integers(0, 8))
def test_arithmetic_gives_the_outermost_of_every_choice(one: Interval, other: Interval, factor: int) -> None:
    sums = [a + b for a, b in product(values(one), values(other))]
    assert one.plus(other) == Interval(min(sums), max(sums))
    times = [value * factor for value in values(one)]
    assert one.times(factor) == Interval(min(times), max(times))
    sizes = [abs(value) for value in values(one)]
    magnitude = one.magnitude()
    assert (magnitude.low, magnitude.high) == (min(sizes), max(sizes))
    together = values(one) + values(other)
    assert one.hull(other) == Interval(min(together), max(together))
    products = [a * b for a, b in product(values(one), values(other))]
    assert crown.product(one, other) == Interval(min(products), max(products))


def test_only_a_single_value_is_known() -> None:
    assert point(3.0) == Interval(3.0, 3.0)
    assert point(3.0).known
    assert not Interval(3.0, 3.1).known
