"""The worked example of the documentation: one case, sent to every operation that takes a case."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

import msgspec

from mendgauge.api.controllers.batch import CaseBatch
from mendgauge.case.case import Case

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

EXAMPLE_PRICES: dict[str, Any] = {
    "price_book": {
        "currency": "GBP",
        "prices_include_tax": True,
        "flat_rates": [
            {
                "code": "CAR-REP",
                "title": "Puncture repair, car",
                "price": "29.00",
                "kinds": ["car"],
                "covers": ["unit", "consumable"],
            }
        ],
        "inspection": "12.00",
        "taxes": [{"name": "VAT", "percent": "20"}],
        "valid_days": 14,
    },
    "replacement": {"price": "110.00"},
}
"""The sections of the example case that a price hangs on."""


def worked_example(answer: Callable[[Case], Any], more: Mapping[str, Any] | None = None) -> dict[str, Any]:
    """Return the `opt` of a handler whose documentation shows the example case, and what the service answers to it.

    `more` sections of the case stand in the examples of those operations alone that ask for them.
    """
    case = msgspec.json.decode(_EXAMPLE) | dict(more or {})
    return {"example": (case, lambda: answer(msgspec.convert(case, Case)))}


def worked_batch(answer: Callable[[CaseBatch], Any], more: Mapping[str, Any] | None = None) -> dict[str, Any]:
    """Return the same for a handler that takes many cases at once: the example case is the only one."""
    case = msgspec.json.decode(_EXAMPLE) | dict(more or {})
    batch = CaseBatch(items=msgspec.Raw(msgspec.json.encode([case])))
    return {"example": ({"items": [case]}, lambda: answer(batch)), "many_cases": True}
