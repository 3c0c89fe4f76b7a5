"""Pictures and pages, each a hundred times as dear as a decision: the median and the 99th percentile."""

from __future__ import annotations

import time
from collections.abc import Callable

import msgspec
from tests.bench.cases import FULL
from tests.bench.report import Report

from mendgauge.case.case import Case
from mendgauge.operations.drawings import draw_tyre
from mendgauge.operations.gauges import draw_gauge, print_gauge
from mendgauge.operations.job_cards import print_card, write_card

_TIMES = 300


def compare(report: Report) -> None:
    """Measure a drawing, a gauge and a job card."""
    case = msgspec.convert(FULL, Case)

    def other(place: int) -> Case:
        return msgspec.structs.replace(case, reference=f"{place}")

    for what, make, asked in (
        ("drawing as SVG", lambda place: draw_tyre(other(place)), ""),
        ("gauge as PDF", lambda _: print_gauge(draw_gauge("205/55R16 91V", "gb", "car")), ""),
        ("job card as PDF", lambda place: print_card(write_card(other(place))), "at most 100 ms at p99"),
    ):
        typical, slow = _milliseconds(make)
        report.add(what, f"{typical:.0f} ms, p99 {slow:.0f} ms", asked=asked)


def _milliseconds(make: Callable[[int], object]) -> tuple[float, float]:
    """Return the median and the 99th percentile of many runs, each of another case, the first not counted."""
    make(-1)
    taken = []
    for place in range(_TIMES):
        began = time.perf_counter()
        make(place)
        taken.append((time.perf_counter() - began) * 1e3)
    taken.sort()
    return taken[_TIMES // 2], taken[_TIMES * 99 // 100]
