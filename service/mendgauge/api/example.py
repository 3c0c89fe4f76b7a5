"""The worked examples of the documentation: few cases, shared by every operation that takes a case.

They are short on purpose: whole work plans and repair plans stand in `openapi/examples`.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, NamedTuple

import msgspec

from mendgauge.api.controllers.batch import CaseBatch
from mendgauge.api.media import MediaAnswer
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
"""The sections of the example case that a price depends on."""


@dataclass(frozen=True)
class WorkedExample:
    """A request and the answer to it, as the documentation shows them.

    Attributes:
        name: The name of the request among the examples of the document.
        summary: The request in one line.
        request: The body; None for an operation that takes none.
        answer: Makes the answer, as the operation does.
    """

    name: str
    summary: str
    request: dict[str, Any] | None
    answer: Callable[[], Any]


class ExampleCase(NamedTuple):
    """A case that the documentation shows."""

    name: str
    summary: str
    case: dict[str, Any]

    def worked(self, answer: Callable[[Case], Any]) -> dict[str, Any]:
        """Return the `opt` of a handler whose documentation shows this case, and what the service answers to it."""
        return {
            "example": WorkedExample(
                self.name, self.summary, self.case, lambda: answer(msgspec.convert(self.case, Case))
            )
        }

    def shown(self, media: MediaAnswer) -> dict[str, Any]:
        """Return the same for a handler that answers with something other than JSON, which the document cannot show."""
        return {"example": WorkedExample(self.name, self.summary, self.case, lambda: None), "media": media}

    def worked_in_batch(self, answer: Callable[[CaseBatch], Any]) -> dict[str, Any]:
        """Return the same for a handler that takes many cases at once: this case is the only one."""
        batch = CaseBatch(items=msgspec.Raw(msgspec.json.encode([self.case])))
        summary = f"{self.summary}, in a batch"
        example = WorkedExample(f"{self.name}_in_batch", summary, {"items": [self.case]}, lambda: answer(batch))
        return {"example": example, "many_cases": True}


_CASE: dict[str, Any] = msgspec.json.decode(_EXAMPLE)
_SIDEWALL = {**_CASE["injuries"][0], "region": "sidewall", "across_mm": 95, "emerges_in": None}

NAIL_HOLE = ExampleCase("nail_hole", "A nail hole in the tread of a car tyre", _CASE)
NAIL_HOLE_WITH_PRICES = ExampleCase(
    "nail_hole_with_prices", "A nail hole in the tread of a car tyre, and the shop's prices", _CASE | EXAMPLE_PRICES
)
SIDEWALL_HOLE = ExampleCase(
    "sidewall_hole", "A nail hole in the sidewall, which ends the matter", _CASE | {"injuries": [_SIDEWALL]}
)
SIDEWALL_HOLE_WITH_PRICES = ExampleCase(
    "sidewall_hole_with_prices",
    "A nail hole in the sidewall, which ends the matter, and the shop's prices",
    SIDEWALL_HOLE.case | EXAMPLE_PRICES,
)
