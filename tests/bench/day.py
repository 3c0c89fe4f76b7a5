"""A day's mix over HTTP: how late one worker's answers are at 70 % of what it can answer, and what a second one adds.

Four of five cases are checked (`/v1/repairability`), the fifth is planned (`/v1/repair-plans`).

**The open loop.** No case comes twice, as on the day: what the service keeps between cases helps as far as markings
and facts come again. No other service runs beside the one worker. Each of nine rounds first finds the capacity, on the
next cases of the day as fast as 16 connections get answers, and then at once loads the service with 70 % of that, so
that a machine that is slower for a minute is asked for less. Requests are due by a Poisson process with a fixed seed,
whether or not others were answered. There are 64 connections, as a proxy would keep them: a request that finds all in
use waits in the load tool, and is late by that too, from the moment it was due. (When each such request opened one of
its own, a stall of 100 ms filled the kernel's queue of connections, and those that found it full came again a second
later.) The report has medians of the rounds, beside the least and the most of any, and what was not the service's
doing: how late the load tool itself took requests up, for how much of the time the service worked (more than 70 %: the
machine was faster when the capacity was found), and for how much it was ready to and the machine ran something else.

**Two workers** repeat a part of the day, so that both have seen all of it, in turn with one worker.
"""

from __future__ import annotations

import gc
import json
import os
import tempfile
import time
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from itertools import count, islice
from pathlib import Path
from random import Random
from statistics import median
from typing import Final, NamedTuple

import uvloop
from tests.bench.load import closed_loop, open_loop
from tests.bench.mix import SEED, draw
from tests.bench.over_http import request_of
from tests.bench.report import Report
from tests.torture.measured import cpu_seconds, ran_and_waited_seconds
from tests.torture.stops import served

_PATHS: Final = (*["/v1/repairability"] * 4, "/v1/repair-plans")

_SHARE: Final = 0.7
"""Of capacity, under which the open loop runs."""

_SEEN_BEFORE: Final = 8_000
"""Requests of the day that the service has answered when the open loop begins."""

_CAPACITY_REQUESTS: Final = 1_000
_OPEN_REQUESTS: Final = 2_500
_OPEN_ROUNDS: Final = 9
"""Of a round: first as fast as may be, then as they are due. Short ones, since the speed of a core may swing by a
quarter within seconds."""

_ROUNDS: Final = 5
_ROUND_SECONDS: Final = 2.0
"""Of the closed loop, on one worker and on two in turn."""

_REPEATED: Final = 400
_WARMING_SECONDS: Final = 10.0
"""The closed loop asks these of the day's requests again and again: two workers, each of which keeps what it worked out
for itself, would else be compared with one that has seen twice as much."""


class Load(NamedTuple):
    """How many requests were answered, and for how many seconds of the workers' CPU."""

    answered: float
    cpu_seconds: float


class Round(NamedTuple):
    """Of a round of the open loop: how late, ms, each request was answered, smallest first, and why it may have been.

    `taken_up` is how late the load tool was with each; `ran` and `waited` are the shares of the time in which the
    service worked, and in which it was ready to and did not.
    """

    late: Sequence[float]
    taken_up: Sequence[float]
    ran: float
    waited: float


def requests_of_the_day() -> Iterator[bytes]:
    """Yield requests without end, none of them twice."""
    for seed in count(SEED):
        for number, case in enumerate(draw(1_000, seed)):
            yield request_of(_PATHS[number % len(_PATHS)], json.dumps(case).encode())


def _some_of(requests: Sequence[bytes]) -> Iterator[bytes]:
    """Yield some of the requests, in any order and again and again."""
    random = Random(SEED)
    while True:
        yield random.choice(requests)


def _percentile(values: Sequence[float], share: float) -> float:
    return values[int(share * len(values))]


class _Cores(NamedTuple):
    """Cores of the workers and of the load tool."""

    of_workers: Sequence[int]
    of_load_tool: Sequence[int]

    @property
    def apart(self) -> bool:
        return self.of_workers != self.of_load_tool


@contextmanager
def _cores() -> Iterator[_Cores]:
    """Yield who is to run where: the load tool has a core of its own, where two are left without it.

    A service with one core would wait for the thread of its own log. This process, and what it starts, has the workers'
    cores until it takes its own.
    """
    there_are = sorted(os.sched_getaffinity(0))
    shared = len(there_are) < 3
    cores = _Cores(there_are if shared else there_are[:-1], there_are if shared else there_are[-1:])
    os.sched_setaffinity(0, cores.of_workers)
    try:
        yield cores
    finally:
        os.sched_setaffinity(0, there_are)


class _Service(NamedTuple):
    """Where a service answers, and the processes that it answers from."""

    port: int
    processes: Sequence[int]

    def loaded(self, requests: Iterator[bytes], seconds: float) -> Load:
        """Return what is answered under the closed loop, and for how much CPU."""
        before = sum(map(cpu_seconds, self.processes))
        rate = uvloop.run(closed_loop(self.port, requests, seconds))
        return Load(rate * seconds, sum(map(cpu_seconds, self.processes)) - before)

    def round(self, day: Iterator[bytes], random: Random) -> Round:
        """Return how late the next requests of the day are answered at a share of what is answered at most."""
        at_most, as_due = list(islice(day, _CAPACITY_REQUESTS)), list(islice(day, _OPEN_REQUESTS))
        capacity = uvloop.run(closed_loop(self.port, iter(at_most)))
        ran, waited = ran_and_waited_seconds(self.processes[0])
        began = time.perf_counter()
        answered = uvloop.run(open_loop(self.port, as_due, _SHARE * capacity, random))
        took = time.perf_counter() - began
        ran_then, waited_then = ran_and_waited_seconds(self.processes[0])
        return Round(
            sorted(1000 * one.answered for one in answered),
            sorted(1000 * one.taken_up for one in answered),
            (ran_then - ran) / took,
            (waited_then - waited) / took,
        )


@contextmanager
def _service(workers: int, warming: Iterator[bytes], seconds: float = float("inf")) -> Iterator[_Service]:
    """Start a service and have it answer what it is to have seen, to the last request or for so many seconds."""
    with tempfile.TemporaryDirectory() as folder, served("file", Path(folder), WORKERS=workers) as (process, port):
        uvloop.run(closed_loop(port, warming, seconds))
        yield _Service(port, [process.pid, *_children(process.pid)])
        process.terminate()  # and with it its workers
        process.wait(30)


def _children(process: int) -> list[int]:
    tasks = Path(f"/proc/{process}/task").glob("*/children")
    return [int(child) for task in tasks for child in task.read_text("ascii").split()]


@contextmanager
def _without_collections() -> Iterator[None]:
    """Keep the load tool's own garbage collections out of what it measures."""
    gc.collect()
    gc.disable()
    try:
        yield
    finally:
        gc.enable()


def _open_loop(report: Report) -> None:
    day, random = requests_of_the_day(), Random(SEED)
    with _cores() as cores, _service(1, islice(day, _SEEN_BEFORE)) as one, _without_collections():
        os.sched_setaffinity(0, cores.of_load_tool)
        rounds = [one.round(day, random) for _ in range(_OPEN_ROUNDS)]
    for name, share, asked in (("p50", 0.5, ""), ("p99", 0.99, "under 10 ms"), ("p99.9", 0.999, "")):
        what = f"a day's mix at {_SHARE:.0%} of capacity, open loop: {name}"
        report.add(what, *_of_rounds([_percentile(each.late, share) for each in rounds], ".2f", "ms"), asked=asked)
    taken_up = [_percentile(each.taken_up, 0.99) for each in rounds]
    report.add("the load tool was late itself, p99", *_of_rounds(taken_up, ".2f", "ms"))
    for what, shares in (
        ("the service worked", [100 * each.ran for each in rounds]),
        ("the service was ready to work and did not", [100 * each.waited for each in rounds]),
    ):
        report.add(what, *_of_rounds(shares, ".0f", "% of the time"))


def _of_rounds(figures: Iterable[float], how: str, unit: str) -> tuple[str, str]:
    """Return the median of a figure that each round has, and between what it was."""
    least, *_, most = inorder = sorted(figures)
    return f"{median(inorder):{how}} {unit}", f"rounds: {least:{how}} to {most:{how}}"


def _two_workers(report: Report) -> None:
    """Measure one worker and two on the same requests, in turn, so that a busy moment of the machine hits both."""
    again = _some_of(list(islice(requests_of_the_day(), _REPEATED)))
    with _cores() as cores, _service(1, again, _WARMING_SECONDS) as one, _service(2, again, _WARMING_SECONDS) as two:
        os.sched_setaffinity(0, cores.of_load_tool)
        rounds = [(one.loaded(again, _ROUND_SECONDS), two.loaded(again, _ROUND_SECONDS)) for _ in range(_ROUNDS)]
    of_one, of_two = (
        Load(sum(load.answered for load in side), sum(load.cpu_seconds for load in side))
        for side in zip(*rounds, strict=True)
    )
    seconds = _ROUNDS * _ROUND_SECONDS
    where = f"load tool on core {cores.of_load_tool[0]}" if cores.apart else "load tool on the workers' cores"
    report.add(f"a day's mix, one worker, {where}", f"{of_one.answered / seconds:.0f} a second")
    report.add(
        f"a day's mix, two workers, {where}",
        f"{of_two.answered / seconds:.0f} a second",
        "one worker",
        of_two.answered / of_one.answered,
        "at least 1.80" if cores.apart else "",
    )
    # Where the load tool has no core of its own, as on two cores, what the workers do in a second of CPU is comparable.
    of_one_cpu, of_two_cpu = of_one.answered / of_one.cpu_seconds, of_two.answered / of_two.cpu_seconds
    report.add(
        "the same, for a second of their CPU",
        f"{of_two_cpu:.0f}",
        "one worker",
        2 * of_two_cpu / of_one_cpu,
        "at least 1.80",
    )


def compare(report: Report) -> None:
    """Measure the open loop, then one worker and two."""
    _open_loop(report)
    _two_workers(report)
