"""A batch is sent as it is made: it never holds its answer, and others have their turn between two of its items."""

from __future__ import annotations

import asyncio
import json
import threading
import tracemalloc
from types import SimpleNamespace
from typing import Any

import msgspec
import pytest

from mendgauge.api.controllers import batch as batches
from mendgauge.api.controllers.batch import PART_BYTES, CaseBatch, ItemOutcome, outcomes, streamed
from mendgauge.api.long_cases import INJURIES_SHORT
from mendgauge.api.under_way import TURN_SECONDS
from mendgauge.case.case import Case

MB = 1_000_000
ITEM = {"rulebook": "gb", "tyre": {"marking": "205/55R16 91V"}}


class Outcome(ItemOutcome, frozen=True, kw_only=True):
    """An item and some text."""

    answer: str | None


def of(items: int) -> CaseBatch:
    return CaseBatch(items=msgspec.Raw(msgspec.json.encode([ITEM] * items)))


def parts(batch: CaseBatch, answer: Any, turn: asyncio.Lock) -> Any:
    """The parts of a batch's answer, as they are made."""
    request: Any = SimpleNamespace(scope={"state": {"turn": turn}})
    response: Any = streamed(outcomes(batch, answer, Outcome, "DEPOT-3"), request)
    return response.iterator


def test_no_more_of_an_answer_is_held_than_one_part() -> None:
    """A hundred megabytes of answers pass through less than one."""

    async def run() -> tuple[int, int]:
        total = longest = 0
        async for part in parts(of(1000), lambda _case: "x" * 100_000, asyncio.Lock()):
            total, longest = total + len(part), max(longest, len(part))
        return total, longest

    tracemalloc.start()
    total, longest = asyncio.run(run())
    _, peak = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    assert total > 100 * MB
    assert longest < PART_BYTES + 101_000
    assert peak < 2 * MB


def test_the_parts_make_one_answer() -> None:

    async def run() -> bytes:
        return b"".join([part async for part in parts(of(50), lambda _case: "y" * 9000, asyncio.Lock())])

    answer = json.loads(asyncio.run(run()))
    assert list(answer) == ["items", "ok", "failed"]
    assert (answer["ok"], answer["failed"], len(answer["items"])) == (50, 0, 50)


def test_others_wait_for_one_turn_and_not_for_one_of_every_batch(monkeypatch: pytest.MonkeyPatch) -> None:
    """Eight batches whose items take a millisecond each, by a clock that runs only while they work."""
    clock = 0.0
    monkeypatch.setattr(batches, "perf_counter", lambda: clock)

    def answer(_case: Case) -> str:
        nonlocal clock
        clock += 0.001
        return "x"

    async def run() -> float:
        turn, longest = asyncio.Lock(), 0.0

        async def consume() -> None:
            async for _ in parts(of(60), answer, turn):
                pass

        callers = [asyncio.create_task(consume()) for _ in range(8)]
        while not all(caller.done() for caller in callers):
            before = clock
            await asyncio.sleep(0)
            longest = max(longest, clock - before)
        return longest

    assert asyncio.run(run()) <= TURN_SECONDS + 0.0011
    assert clock == pytest.approx(8 * 60 * 0.001)


def test_the_loop_goes_on_while_a_long_item_is_worked_out() -> None:
    """Its answer comes only once the loop, which goes on, has let it."""
    begun, may_end = threading.Event(), threading.Event()

    def answer(_case: Case) -> str:
        begun.set()
        return f"{may_end.wait(20)}"

    async def run() -> bytes:
        async def let_it_end() -> None:
            while not begun.is_set():
                await asyncio.sleep(0.001)
            may_end.set()

        letting = asyncio.create_task(let_it_end())
        long = {**ITEM, "injuries": [{}] * (INJURIES_SHORT + 1)}
        batch = CaseBatch(items=msgspec.Raw(msgspec.json.encode([long, ITEM, {"a": 1}, long])))
        whole = b"".join([part async for part in parts(batch, answer, asyncio.Lock())])
        await letting
        return whole

    answered = json.loads(asyncio.run(run()))
    assert [one["answer"] for one in answered["items"]] == ["True", "True", None, "True"]
    assert (answered["ok"], answered["failed"]) == (3, 1)
