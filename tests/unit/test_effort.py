"""What a body costs is bounded, whatever it holds: counted in calls of functions, never in time."""

from __future__ import annotations

import sys
from collections.abc import Callable
from types import FrameType
from typing import Any

import msgspec
import pytest
from tests.bench.worst import DEAREST, FOUND, OPERATIONS, PRICED, WORST, blank, one_field_short, sound, stock

from mendgauge.case.case import Case
from mendgauge.core.errors import CaseError
from mendgauge.rulebooks.loader import find_edition

MOST_CALLS = 600_000
"""With the rules of a book bound for a dozen uses; the dearest body known then makes 370,000, in 60 to 90 ms."""

BODIES = {
    "twenty injuries beside fifty repairs, with prices": blank(20, 50, **PRICED),
    "twenty injuries beside fifty repairs, on any vehicle": blank(20, 50, "205/55R16"),
    "all but the tread known": one_field_short(),
    "twenty injuries and a long stock, all known": sound(20, 0, stock=stock(200, 4.5)),
    **WORST,
    "what a search found": FOUND,
    **DEAREST,
}


def calls_of(operation: Callable[[Case], Any], case: Case) -> int:
    """Return how many functions an operation calls."""
    count = 0

    def note(_frame: FrameType, event: str, _argument: object) -> None:
        nonlocal count
        count += event in ("call", "c_call")

    sys.setprofile(note)
    try:
        operation(case)
    except CaseError:
        pass  # a case without prices has no quote
    finally:
        sys.setprofile(None)
    return count


@pytest.fixture(scope="module", autouse=True)
def _books_are_read() -> None:
    """A book is read once in a process."""
    for body in BODIES.values():
        find_edition(body["rulebook"])


@pytest.mark.parametrize("operation", OPERATIONS, ids=lambda operation: operation.__name__)
@pytest.mark.parametrize("body", BODIES.values(), ids=BODIES.keys())
def test_no_body_costs_more_than_its_bound(body: dict[str, Any], operation: Callable[[Case], Any]) -> None:
    case = msgspec.convert(body, Case)
    assert calls_of(operation, case) <= MOST_CALLS
