"""Cases at a bench with a shelf of units, and what is chosen from it."""

from __future__ import annotations

import copy
from typing import Any

import msgspec
from tests.sound_case import changed

from mendgauge.case.case import Case
from mendgauge.operations.repair_units import choose_repair_units
from mendgauge.operations.repair_units.answer import Choice, RepairUnits

Json = dict[str, Any]

CAR: Json = changed(
    {
        "position/fitment": "single",
        "tyre/tread_depth_mm": 5,
        "tyre/new_tread_depth_mm": None,
        "tyre/tread_width_mm": 160,
        "injuries/0/measured_from": "inside",
        "injuries/0/diameter_mm": 4,
        "injuries/0/lean_deg": 5,
        "history/pressure_found_percent": 85,
    }
)
TRUCK: Json = {
    **CAR,
    "vehicle": {"kind": "truck", "gross_mass_kg": 18_000},
    "position": {"axle": "drive", "steered": False, "fitment": "dual_inner"},
    "tyre": {
        **CAR["tyre"],
        "marking": "315/80R22.5 156/150L",
        "tread_depth_mm": 12,
        "tread_width_mm": 260,
        "crown_thickness_mm": 17,
    },
}
UNIT: Json = {
    "code": "A",
    "kind": "one_piece",
    "stem_mm": 6,
    "stem_length_mm": 60,
    "patch_mm": 35,
    "construction": "radial",
    "reinforced": False,
    "price": "2.00",
}
STEM: Json = {"code": "S", "kind": "stem", "stem_mm": 6, "stem_length_mm": 60}
PATCH: Json = {"code": "P", "kind": "patch", "patch_mm": 35, "construction": "radial", "reinforced": False}


def bench(base: Json = CAR, *, stock: list[Json] | None = None, hole: Json | None = None, **changes: Any) -> Json:
    case = copy.deepcopy(base)
    case["injuries"][0].update(hole or {})
    if stock is not None:
        case["stock"] = stock
    for name, value in changes.items():
        part: Json = {**case.get(name, {}), **value} if isinstance(value, dict) else value
        case[name] = part
    return case


def answer(case: Json) -> RepairUnits:
    return choose_repair_units(msgspec.convert(case, Case))


def only(case: Json) -> Choice:
    (choice,) = answer(case).injuries[0].choices
    return choice


def codes(choice: Choice) -> list[str]:
    return [] if choice.chosen is None else [piece.code for piece in choice.chosen.pieces]


def reasons(choice: Choice) -> dict[str, list[str]]:
    return {unit.code: [reason.code for reason in unit.reasons] for unit in choice.passed_over}
