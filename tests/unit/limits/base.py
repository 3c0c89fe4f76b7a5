"""Sound cases of a car, a truck, a bus and a motorcycle, and what their service limits say."""

from __future__ import annotations

from typing import Any, Final

import msgspec

from mendgauge.case.case import Case
from mendgauge.operations.service_limits import find_service_limits
from mendgauge.operations.service_limits.answer import ServiceLimits

Json = dict[str, Any]

INJURY: Final[Json] = {
    "region": "tread",
    "depth": "through",
    "across_mm": 10,
    "around_mm": 640,
    "measured_from": "outside",
    "diameter_mm": 2.5,
    "stage": "found",
    "lean_deg": 5,
    "lean_toward_deg": 0,
    "emerges_in": "groove",
}
CAR: Final[Json] = {
    "detail": "full",
    "rulebook": "gb",
    "assessed_on": "2026-11-24",
    "vehicle": {"kind": "car", "gross_mass_kg": 1900, "max_speed_kmh": 200},
    "position": {"axle": "rear", "steered": False, "fitment": "single", "axle_load_kg": 980},
    "tyre": {
        "marking": "205/55R16 91V",
        "date_code": "2323",
        "tread_depth_mm": 5.0,
        "traits": {"complete": True},
        "maker_policy": {"repair": "permitted", "speed_rating_after_repair": "retained"},
    },
    "in_service": {"axle_mates": [{"place": "other_end", "marking": "205/55R16 91V", "tread_depth_mm": 5.5}]},
    "injuries": [INJURY],
    "earlier_repairs": [],
    "inspection": {"complete": True},
    "history": {"complete": True, "pressure_found_percent": 90},
}
TRUCK: Final[Json] = {
    "vehicle": {"kind": "truck", "gross_mass_kg": 18_000, "max_speed_kmh": 90},
    "position": {"axle": "drive", "fitment": "dual_outer", "axle_load_kg": 11_000},
    "tyre": {"marking": "315/80R22.5 156/150L", "tread_depth_mm": 10, "tread_width_mm": 270},
    "in_service": {
        "overall_diameter_mm": 1070,
        "axle_mates": [
            {
                "place": "dual_mate",
                "marking": "315/80R22.5 156/150L",
                "tread_depth_mm": 10,
                "overall_diameter_mm": 1070,
            },
            {"place": "other_end", "marking": "315/80R22.5 156/150L", "tread_depth_mm": 10},
        ],
    },
}
BUS: Final[Json] = {
    "vehicle": {"kind": "bus", "gross_mass_kg": 18_000, "max_speed_kmh": 100},
    "position": {"axle": "steer", "steered": True, "fitment": "single", "axle_load_kg": 6900},
    "tyre": {"marking": "295/80R22.5 152/148M", "tread_depth_mm": 9, "tread_width_mm": 240},
    "in_service": {"axle_mates": [{"marking": "295/80R22.5 152/148M", "tread_depth_mm": 9}]},
}
MOTORCYCLE: Final[Json] = {
    "vehicle": {"kind": "motorcycle", "gross_mass_kg": 400, "max_speed_kmh": 190},
    "position": {"axle": "rear", "fitment": "single", "axle_load_kg": 220},
    "tyre": {"marking": "130/90-16 M/C 67H", "tread_depth_mm": 4, "tread_width_mm": 130},
    "in_service": {"axle_mates": []},
}


def laid_over(base: Any, over: Any) -> Any:
    """Tables merge, anything else replaces; `None` takes a field away."""
    if isinstance(base, dict) and isinstance(over, dict):
        merged = base | {key: laid_over(base.get(key), value) for key, value in over.items()}
        return {key: value for key, value in merged.items() if value is not None}
    return over


def limits(*over: Json) -> ServiceLimits:
    case: Json = CAR
    for one in over:
        case = laid_over(case, one)
    return find_service_limits(msgspec.convert(case, Case))


def policy(**words: Any) -> Json:
    return {"tyre": {"maker_policy": words}}


def marking(text: str, **tyre: Any) -> Json:
    return {
        "tyre": {"marking": text, **tyre},
        "in_service": {"axle_mates": [{"place": "other_end", "marking": text, "tread_depth_mm": 5.0}]},
    }


def codes(answer: ServiceLimits) -> set[str]:
    return {caveat.code for caveat in answer.caveats}


def asked(answer: ServiceLimits) -> list[str]:
    return [question.field for question in answer.to_establish]


def outcome(answer: ServiceLimits, rule: str) -> tuple[str, str | None]:
    found = {finding.rule: (finding.outcome, finding.effect) for finding in answer.findings}
    return found.get(rule, ("met", None))
