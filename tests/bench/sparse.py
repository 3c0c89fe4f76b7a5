"""A day's mix in process: what a case costs from its bytes to those of its answer, by CPU time.

Caches start cold, as the day's markings and patterns come. The processor's speed at the time is measured beside it, by
decoding and encoding the same bodies, so that figures of two runs compare by their ratio.
"""

from __future__ import annotations

import contextlib
import time
from collections.abc import Callable
from typing import Any, Final

import msgspec
from tests.bench.mix import draw
from tests.bench.report import Report

from mendgauge.case.case import Case
from mendgauge.core.errors import CaseError
from mendgauge.operations.repair_plans import plan_repair
from mendgauge.operations.repairability import check_repairability

_ASKED: Final[tuple[tuple[str, Callable[[Case], Any], str, str], ...]] = (
    ("check", check_repairability, "at most 150 µs, aim 80", "at most 800 µs, aim 400"),
    ("plan", plan_repair, "at most 500 µs, aim 250", "at most 2,000 µs, aim 1,000"),
)


def costs(operation: Callable[[Case], Any], bodies: list[bytes]) -> list[float]:
    """Return what each case costs, µs, smallest first; a day has contradictions in it, whose refusal counts as well."""
    decode, encode = msgspec.json.Decoder(Case).decode, msgspec.json.Encoder().encode
    found = []
    for body in bodies:
        start = time.process_time_ns()
        with contextlib.suppress(CaseError):
            encode(operation(decode(body)))
        found.append((time.process_time_ns() - start) / 1e3)
    return sorted(found)


def compare(report: Report) -> None:
    """Measure the checks and the plans of the whole day."""
    bodies = [msgspec.json.encode(case) for case in draw()]
    floor = costs(lambda case: case, bodies)[len(bodies) // 2]
    report.add("a day's mix: decode and encode the case", f"{floor:.0f} µs")
    for name, operation, median, late in _ASKED:
        taken = costs(operation, bodies)
        for part, share, asked in (("median", 0.5, median), ("p99", 0.99, late)):
            cost = taken[int(share * len(bodies))]
            report.add(f"a day's mix: {name}, {part}", f"{cost:.0f} µs", "decode and encode", cost / floor, asked)
