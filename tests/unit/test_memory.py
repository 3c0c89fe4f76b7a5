"""What a worker keeps of the cases it has seen: nothing of a plan, little of a marking, of a bounded number of them."""

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


def test_a_plan_leaves_nothing_to_the_collector() -> None:
    """What is freed by its last reference costs no collection; each plan once left a hundred objects in cycles."""
    cases = [msgspec.convert(case, Case) for case in islice(cases_of_distinct(20), 20)]
    for case in cases:
        plan_repair(case)
    gc.collect()
    gc.disable()
    try:
        for case in cases:
            plan_repair(case)
        assert gc.collect() == 0
    finally:
        gc.enable()
