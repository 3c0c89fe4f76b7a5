"""What a worker keeps of the markings it has seen: little of each, and of no more than a bounded number."""

from __future__ import annotations

import gc
from collections.abc import Iterable
from itertools import islice

import msgspec
from tests.torture.markings import cases_of_distinct

from mendgauge.case.case import Case
from mendgauge.operations.repair_plans import plan_repair

MARKINGS = 150
OBJECTS_A_MARKING = 50
"""A collection visits every object that is kept: 1,024 markings of 50 take about 10 ms, of 100 twice that."""


def plan(cases: Iterable[dict[str, object]]) -> int:
    """Plan every case, and count the objects that the collector then watches."""
    for case in cases:
        plan_repair(msgspec.convert(case, Case))
    gc.collect()
    return len(gc.get_objects())


def test_little_is_kept_of_a_marking() -> None:
    cases = iter(list(cases_of_distinct(2 * MARKINGS)))

    before = plan(islice(cases, MARKINGS))

    assert (plan(cases) - before) / MARKINGS <= OBJECTS_A_MARKING
