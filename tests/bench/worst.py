"""What the longest lists that the contract admits cost, and how cost grows with each; the worst bodies found.

A list grows by doubling. Where cost is linear in it, twice as many cost at most twice as much: the growth beside each
row is that of the last doubling.
"""

from __future__ import annotations

import gc
import time
from collections.abc import Callable, Sequence
from functools import partial
from pathlib import Path
from typing import Any, Final, NamedTuple

import msgspec
from rich.table import Table
from tests.bench.mix import draw
from tests.bench.report import Report
from tests.sound_case import changed

from mendgauge.api.controllers.batch import CaseBatch, outcomes
from mendgauge.api.controllers.repair_plans import RepairPlanOutcome
from mendgauge.api.controllers.repairability import RepairabilityOutcome
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
    "price_book": {"currency": "GBP", "flat_rates": [_INCLUSIVE], "inspection": "12.00", "disposal": "3.00"},
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


def stock(units: int, stem_mm: float = 8) -> list[dict[str, Any]]:
    """Return a stock of stems and patches of which each may do, and none makes another needless."""
    stems = (
        {"code": f"S{number}", "kind": "stem", "stem_mm": stem_mm, "stem_length_mm": 100 + number}
        for number in range((units + 1) // 2)
    )
    patches = (
        {
            "code": f"P{number}",
            "kind": "patch",
            "patch_shape": "rectangular",
            "patch_width_mm": 60 + number,
            "patch_length_mm": 400 - 2 * number,
            "construction": "either",
            "reinforced": True,
        }
        for number in range(units // 2)
    )
    return [{**unit, "price": f"{place + 1}.00", "on_hand": 1} for place, unit in enumerate((*stems, *patches))]


_TRUCK: Final = changed(
    {
        "vehicle/kind": "truck",
        "vehicle/gross_mass_kg": 18_000,
        "position/axle": "drive",
        "position/fitment": "dual_inner",
        "tyre/marking": "315/80R22.5 156/150L",
        "tyre/tread_depth_mm": 12,
        "tyre/new_tread_depth_mm": None,
        "tyre/tread_width_mm": 260,
        "tyre/crown_thickness_mm": 17,
        "injuries/0/measured_from": "inside",
    }
)


def sound(injuries: int, earlier: int, **more: Any) -> dict[str, Any]:
    """Return a truck tyre with so many small holes and proper repairs, of which everything is known: it is repaired."""
    (hole,) = _TRUCK["injuries"]
    repair = {"method": "one_piece", "proper": True, "across_mm": 70, "measured_from": "inside", "patch_mm": 35}
    return {
        **_TRUCK,
        **PRICED,
        "vehicle": _TRUCK["vehicle"],
        "detail": "brief",
        "injuries": [{**hole, "across_mm": 0, "around_mm": 150 * place} for place in range(injuries)],
        "earlier_repairs": [{**repair, "around_mm": 60 * place} for place in range(earlier)],
        **more,
    }


def left_open(fields: int) -> dict[str, Any]:
    """Return the sound case with so many of its facts left out."""
    case: dict[str, Any] = msgspec.json.decode(msgspec.json.encode(sound(1, 1)))
    for way in _FACTS[:fields]:
        *sections, name = way
        node: Any = case
        for section in sections:
            node = node[section]
        del node[name]
    return case


_FACTS: Final = (
    *((("injuries", 0, name)) for name in ("lean_deg", "diameter_mm", "across_mm", "around_mm", "depth", "region")),
    *((("tyre", name)) for name in ("tread_depth_mm", "date_code", "crown_thickness_mm", "tread_width_mm")),
    *((("earlier_repairs", 0, name)) for name in ("proper", "across_mm", "around_mm", "patch_mm")),
    ("position", "fitment"),
    ("vehicle", "gross_mass_kg"),
    ("position", "axle"),
    ("inspection",),
    ("history",),
    ("tyre", "traits"),
    ("tyre", "maker_policy"),
    ("position",),
    ("vehicle",),
    ("earlier_repairs",),
)


class Growth(NamedTuple):
    """A list that grows: how long it gets, and the case that has it so long."""

    what: str
    sizes: Sequence[int]
    body: Callable[[int], dict[str, Any]]


GROWTHS: Final = (
    Growth("injuries, all unknown", (5, 10, 20), lambda count: blank(count, 0, **PRICED)),
    Growth("injuries, all known", (5, 10, 20), lambda count: sound(count, 0)),
    Growth("earlier repairs, all unknown", (12, 25, 50), lambda count: blank(1, count, **PRICED)),
    Growth("earlier repairs, all known", (12, 25, 50), lambda count: sound(1, count)),
    Growth("facts left open", (6, 12, 24), left_open),
    Growth("stock, a hole all unknown", (50, 100, 200), lambda units: blank(1, 0, **PRICED, stock=stock(units))),
    Growth("stock, a hole all known", (50, 100, 200), lambda units: sound(1, 0, stock=stock(units, 4.5))),
    Growth("stock, 20 holes all unknown", (50, 100, 200), lambda units: blank(20, 0, **PRICED, stock=stock(units))),
    Growth("stock, 20 holes all known", (50, 100, 200), lambda units: sound(20, 0, stock=stock(units, 4.5))),
)

_IN_RANGES: Final = [{"across_mm": {"low": -9, "high": 9}, "diameter_mm": {"low": 2, "high": 10}} for _ in range(20)]
WORST: Final[dict[str, dict[str, Any]]] = {
    "20 holes, 50 repairs": blank(20, 50, **PRICED),
    "20 holes, 50 repairs, a stock of 200": blank(20, 50, **PRICED, stock=stock(200)),
    "20 holes, 50 repairs, a stock of 200, in full": blank(20, 50, **PRICED, stock=stock(200), detail="full"),
    "20 holes in ranges, 50 repairs, any vehicle": blank(20, 50, "10.00-20", **PRICED) | {"injuries": _IN_RANGES},
    "the same, a stock of 200": blank(20, 50, "7.50-16", **PRICED, stock=stock(200)) | {"injuries": _IN_RANGES},
}
"""Bodies that are dear by thought."""

FOUND: Final[dict[str, Any]] = {
    "rulebook": "de",
    "price_book": PRICED["price_book"],
    "tyre": {"marking": "7.50-16", "tread_depth_mm": {"low": 2, "high": 10}, "traits": {"complete": True}},
    "injuries": [
        {
            "across_mm": {"low": -9, "high": 9},
            "around_mm": {"low": 37 * place, "high": 37 * place + 400},
            "measured_from": "inside",
            "diameter_mm": {"low": 2, "high": 10},
        }
        for place in range(20)
    ],
    "earlier_repairs": [
        {"across_mm": place - 25, "around_mm": 40 * place, "patch_mm": {"low": 20, "high": 40}, "proper": True}
        for place in range(50)
    ],
    "inspection": {"complete": True},
    "stock": stock(200),
}
"""The dearest of a thousand bodies whose parts were drawn and changed wherever that made a plan dearer.

A tyre of any vehicle, whose verdict is open for every hole alone: each is looked at in seven uses.
"""

DEAREST: Final[dict[str, dict[str, Any]]] = msgspec.json.decode((Path(__file__).parent / "dearest.json").read_bytes())
"""The dearest bodies that `tests.bench.dearest` found: before so long a case was bounded, and since."""

MOST_MS: Final = 100
AIM_MS: Final = 50
"""What one call may cost at most, and what is aimed at."""


def cpu_ms(operation: Callable[[Any], Any], case: Any) -> float:
    """Return the CPU time of one call, ms: the least of three."""
    least = []
    for _ in range(3):
        start = time.process_time()
        operation(case)
        least.append(time.process_time() - start)
    return min(least) * 1e3


def _whole(operation: Callable[[Case], Any], outcome: Callable[..., Any], batch: CaseBatch) -> None:
    for one in outcomes(batch, operation, outcome, "bench"):
        msgspec.json.encode(one)


_BATCHES: Final = (
    partial(_whole, check_repairability, RepairabilityOutcome),
    partial(_whole, plan_repair, RepairPlanOutcome),
)


def compare(report: Report) -> None:
    """Measure how cost grows with each list, and what the worst bodies cost."""
    # As the service does once it is ready: what was loaded is not looked through while a case is worked out.
    gc.collect()
    gc.freeze()
    growth = Table("ms, at the longest (last doubling)", title="twice as long at most twice the cost")
    worst = Table("ms", title=f"at most {MOST_MS} ms, aim {AIM_MS}")
    for table in (growth, worst):
        for name in ("check", "units", "trim", "limits", "work", "quote", "plan"):
            table.add_column(name, justify="right")
    for grown in GROWTHS:
        cases = [msgspec.convert(grown.body(size), Case) for size in grown.sizes]
        costs = ([cpu_ms(operation, case) for case in cases] for operation in OPERATIONS)
        growth.add_row(
            f"{grown.what}: {grown.sizes[-1]}", *(f"{cost[-1]:.1f} ({cost[-1] / cost[-2]:.1f})" for cost in costs)
        )
    worst.add_column("most / target", justify="right")
    for what, body in (*WORST.items(), ("what a search found", FOUND), *DEAREST.items()):
        case = msgspec.convert(body, Case)
        of_each = [cpu_ms(operation, case) for operation in OPERATIONS]
        worst.add_row(what, *(f"{cost:.0f}" for cost in of_each), f"{max(of_each):.0f} / {MOST_MS}")
    report.beside(growth, worst)
    for operation, name in zip(_BATCHES, ("checks", "plans"), strict=True):
        half, whole = (
            cpu_ms(operation, CaseBatch(items=msgspec.Raw(msgspec.json.encode(draw(items))))) for items in (500, 1000)
        )
        report.add(f"a batch of 1,000 {name}, a day's mix", f"{whole:.0f} ms", f"500: {half:.0f} ms", whole / half, "2")
