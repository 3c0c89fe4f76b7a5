"""What a worker keeps of the cases it has seen: nothing of a plan, little of a marking, of a bounded number of them."""

from __future__ import annotations

import asyncio
import gc
from collections.abc import Iterable
from contextlib import suppress
from itertools import islice

import msgspec
import pytest
from litestar import Litestar
from tests.bench.mix import draw
from tests.torture.markings import cases_of_distinct

from mendgauge.api import garbage
from mendgauge.case.case import Case
from mendgauge.core.errors import CaseError
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


def test_what_lasts_is_looked_through_once_and_holds_no_garbage() -> None:
    """Entries of full caches go by their last reference, exempt from collections or not."""
    gc.unfreeze()
    garbage.exempt_what_lasts()
    for number, case in enumerate(draw(1_200), 1):
        with suppress(CaseError):
            plan_repair(msgspec.convert(case, Case))
        if number % 400 == 0:
            kept = gc.get_freeze_count()
            garbage.exempt_what_lasts()
            assert gc.get_freeze_count() > kept
            assert len(gc.get_objects()) < 10
    gc.unfreeze()
    assert gc.collect() == 0


def test_what_a_request_holds_is_not_exempted(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(garbage, "PERIOD_SECONDS", 0.001)
    app, in_flight = Litestar(), 1
    app.state.in_flight = lambda: in_flight

    async def exempted() -> list[int]:
        nonlocal in_flight
        counts = [gc.get_freeze_count()]
        async with garbage.collections_kept_short(app):
            kept = [[number] for number in range(20_000)]
            await asyncio.sleep(0.1)
            counts.append(gc.get_freeze_count())
            in_flight = 0
            await asyncio.sleep(0.1)
            counts.append(gc.get_freeze_count())
        assert len(kept) == 20_000
        return counts

    before, under_way, idle = asyncio.run(exempted())
    assert under_way == before
    assert idle >= before + 20_000
    gc.unfreeze()
