"""The worked example of the documentation: one case, sent to every operation that takes a case."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import msgspec

from mendgauge.api.batch import CaseBatch
from mendgauge.case import Case

_EXAMPLE = b"""{
    "reference": "DEPOT-3/OFFSIDE-REAR",
    "rulebook": "gb",
    "assessed_on": "2026-11-24",
    "vehicle": {"kind": "car", "gross_mass_kg": 1900, "max_speed_kmh": 215},
    "position": {"axle": "rear", "steered": false, "fitment": "single", "axle_load_kg": 980},
    "tyre": {
        "marking": "205/55R16 91V", "date_code": "2323", "tread_depth_mm": 5.0, "new_tread_depth_mm": 8.0,
        "traits": {"complete": true}, "maker_policy": {"repair": "permitted", "speed_rating_after_repair": "retained"}
    },
    "injuries": [{
        "region": "tread", "depth": "through", "across_mm": 20, "around_mm": 640, "measured_from": "outside",
        "diameter_mm": {"low": 3.5, "high": 4.5}, "stage": "found", "emerges_in": "groove", "object": "nail"
    }],
    "earlier_repairs": [],
    "inspection": {"complete": true},
    "history": {"complete": true, "pressure_found_percent": 85}
}"""


EXAMPLE_CASE = msgspec.json.decode(_EXAMPLE, type=Case)


def worked_example(answer: Callable[[Case], Any]) -> dict[str, Any]:
    """The `opt` of a handler whose documentation shows the example case, and what the service answers to it."""
    return {"example": (msgspec.json.decode(_EXAMPLE), lambda: answer(EXAMPLE_CASE))}


def worked_batch(answer: Callable[[CaseBatch], Any]) -> dict[str, Any]:
    """The same of a handler that takes cases by the batch: the example case is the only one."""
    batch = {"items": [msgspec.json.decode(_EXAMPLE)]}
    return {"example": (batch, lambda: answer(CaseBatch(items=(msgspec.Raw(_EXAMPLE),))))}
