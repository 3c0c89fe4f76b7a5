"""The bodies that ask most of the service: as many injuries and earlier repairs as a case may have, and all unknown."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator
from typing import Any, Final

import msgspec
from tests.bench.report import Report

from mendgauge.case.case import Case
from mendgauge.operations.quotes import quote_repair
from mendgauge.operations.repair_plans import plan_repair
from mendgauge.operations.repair_units import choose_repair_units
from mendgauge.operations.repairability import check_repairability
from mendgauge.operations.service_limits import find_service_limits
from mendgauge.operations.stem_trim import trim_stems
from mendgauge.operations.work_plans import plan_work

OPERATIONS: Final[tuple[Callable[[Case], Any], ...]] = (
    check_repairability,
    choose_repair_units,
    trim_stems,
    find_service_limits,
    plan_work,
    quote_repair,
    plan_repair,
)

_INCLUSIVE: Final = {"code": "ALL", "title": "Repair", "price": "30.00", "covers": ["unit", "consumable"]}
PRICED: Final[dict[str, Any]] = {
    "vehicle": {"kind": "car"},
    "price_book": {"currency": "GBP", "flat_rates": [_INCLUSIVE]},
}
_SOUND: Final = {
    "region": "tread",
    "depth": "through",
    "across_mm": 10,
    "measured_from": "outside",
    "diameter_mm": 4,
    "stage": "found",
    "lean_deg": 5,
    "lean_toward_deg": 0,
    "emerges_in": "groove",
}


def blank(injuries: int, earlier: int, marking: str = "205/55R16 91V", **more: Any) -> dict[str, Any]:
    """Return a case of so many injuries and earlier repairs, none of which anything is known of."""
    return {
        "rulebook": "gb",
        "tyre": {"marking": marking},
        "injuries": [{} for _ in range(injuries)],
        "earlier_repairs": [{} for _ in range(earlier)],
        **more,
    }


def one_field_short() -> dict[str, Any]:
    """Return a case of twenty injuries whose every rule hangs on one measurement: the tread."""
    around = ({**_SOUND, "around_mm": 90 * place} for place in range(20))
    return {"rulebook": "gb", "tyre": {"marking": "315/80R22.5 156/150L"}, "injuries": list(around)}


def sizes() -> Iterator[tuple[int, int]]:
    """Yield the numbers of injuries and of earlier repairs that the table of costs has."""
    for injuries in (1, 5, 20):
        for earlier in (0, 10, 50):
            yield injuries, earlier


def cpu_ms(operation: Callable[[Case], Any], case: Case) -> float:
    """Return the CPU time of one call, ms: the least of three."""
    least = []
    for _ in range(3):
        start = time.process_time()
        operation(case)
        least.append(time.process_time() - start)
    return min(least) * 1e3


def compare(report: Report) -> None:
    """Measure how cost grows with the injuries and earlier repairs of which nothing is known."""
    for injuries, earlier in sizes():
        case = msgspec.convert(blank(injuries, earlier, **PRICED), Case)
        check, plan = cpu_ms(check_repairability, case), cpu_ms(plan_repair, case)
        what = f"{injuries} injuries, {earlier} earlier repairs, all unknown"
        report.add(what, f"{check:.0f} ms checked, {plan:.0f} ms planned", asked="at most 100 ms, aim 50")
    case = msgspec.convert(one_field_short(), Case)
    report.add("20 injuries, the tread unknown", f"{cpu_ms(check_repairability, case):.0f} ms checked")
