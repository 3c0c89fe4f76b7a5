"""A decision in process, against decoding its case and encoding its answer."""

from __future__ import annotations

import statistics
import timeit
from collections.abc import Callable

import msgspec
from tests.bench.cases import FULL, LEAN_MISSING, TWO_FACTS
from tests.bench.report import Report

from mendgauge.case.case import Case
from mendgauge.operations.repair_plans import plan_repair
from mendgauge.operations.repairability import check_repairability

_ROUNDS = 25


def microseconds(call: Callable[[], object]) -> float:
    """Median time of a call over many rounds, µs."""
    timer = timeit.Timer(call)
    number, _ = timer.autorange()
    number = max(1, number // 10)
    return statistics.median(timer.repeat(_ROUNDS, number)) / number * 1e6


def compare(report: Report) -> None:
    """Measure decisions on a full and on partial cases."""
    decode = msgspec.json.Decoder(Case).decode
    encode = msgspec.json.Encoder().encode
    body = encode(FULL)
    case = decode(body)
    answer = check_repairability(case)
    floor = microseconds(lambda: encode(answer) and decode(body))
    decision = microseconds(lambda: check_repairability(case))
    report.add("decode and encode a full case", f"{floor:.1f} µs")
    report.add(
        "repairability of a full case",
        f"{decision:.1f} µs",
        "decode and encode",
        decision / floor,
        "at most 15 µs, aim 10",
    )
    plan = microseconds(lambda: plan_repair(case))
    report.add("repair plan of a full case", f"{plan:.0f} µs", "a decision", plan / decision, "at most 60 µs")
    for what, request in (("one fact missing", LEAN_MISSING), ("two facts known", TWO_FACTS)):
        partial = msgspec.convert(request, Case)
        taken = microseconds(lambda partial=partial: check_repairability(partial))  # type: ignore[misc]
        report.add(f"repairability, {what}", f"{taken:.0f} µs", "a full case", taken / decision)
