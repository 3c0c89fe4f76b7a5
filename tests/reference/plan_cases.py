"""Jobs of every kind that a bench meets, in an invented town: what the table of the procedure is looked up in."""

from __future__ import annotations

from copy import deepcopy
from datetime import date
from typing import Any, Final, TypeAlias

import msgspec

from mendgauge.case.case import Case
from mendgauge.operations.work_plans import plan_work
from mendgauge.operations.work_plans.answer import WorkPlan

Json: TypeAlias = dict[str, Any]

ON: Final = date(2026, 11, 24)
CAR: Final[Json] = {
    "reference": "ORMSLEY/CAR-015/FRONT-NEAR",
    "detail": "full",
    "rulebook": "gb",
    "vehicle": {"kind": "car", "gross_mass_kg": 1850, "max_speed_kmh": 200},
    "position": {"axle": "front", "steered": True, "fitment": "single"},
    "tyre": {
        "marking": "205/55R16 91H",
        "date_code": "2323",
        "tread_depth_mm": 5.0,
        "new_tread_depth_mm": 8.0,
        "tread_width_mm": 165,
        "crown_thickness_mm": 7,
        "traits": {"complete": True},
        "maker_policy": {"repair": "permitted"},
    },
    "injuries": [
        {
            "region": "tread",
            "depth": "through",
            "across_mm": 12,
            "around_mm": 640,
            "measured_from": "outside",
            "diameter_mm": 4.0,
            "stage": "found",
            "lean_deg": 3,
            "lean_toward_deg": 90,
            "emerges_in": "groove",
        }
    ],
    "earlier_repairs": [],
    "inspection": {"complete": True},
    "history": {"complete": True, "pressure_found_percent": 88},
    "bench": {
        "air_temperature_c": 19,
        "relative_humidity_percent": 52,
        "liner_temperature_c": 17,
        "wheel": "on_vehicle",
        "pressure_sensor": False,
    },
}


def changed(case: Json, **by: Any) -> Json:
    """A copy of a case with other values: `injury` changes its injury, a dictionary a section, all else the case."""
    other = deepcopy(case)
    other["injuries"][0].update(by.pop("injury", {}))
    for name, value in by.items():
        other[name] = {**other.get(name, {}), **value} if isinstance(value, dict) else value
    return other


VAN: Final = changed(
    CAR,
    vehicle={"kind": "van", "gross_mass_kg": 3500},
    position={"axle": "rear", "steered": False},
    tyre={"marking": "225/70R15C 112/110S", "tread_width_mm": 180, "crown_thickness_mm": 9, "tread_depth_mm": 6.0},
)
TRUCK: Final = changed(
    CAR,
    vehicle={"kind": "truck", "gross_mass_kg": 26_000, "max_speed_kmh": 90},
    position={"axle": "drive", "steered": False, "fitment": "dual_inner"},
    tyre={
        "marking": "315/80R22.5 156/150L",
        "tread_width_mm": 260,
        "crown_thickness_mm": 17,
        "tread_depth_mm": 11.0,
        "new_tread_depth_mm": 18.0,
    },
    injury={"diameter_mm": 9.0},
)
MOTORCYCLE: Final = changed(
    CAR,
    vehicle={"kind": "motorcycle", "gross_mass_kg": 400},
    tyre={"marking": "140/70-17 M/C 66H", "tread_width_mm": 130, "crown_thickness_mm": 6, "tread_depth_mm": 4.0},
    injury={"across_mm": 5, "diameter_mm": 3.0},
)
ON_LUG: Final = {"emerges_in": "lug"}
LEANING: Final = {"lean_deg": 32, "lean_toward_deg": 85, "emerges_in": "lug"}
LOOSE: Final = {"wheel": "loose"}

JOBS: Final[dict[str, Json]] = {
    "car": CAR,
    "car, loose wheel": changed(CAR, bench=LOOSE),
    "van": VAN,
    "van, loose wheel": changed(VAN, bench=LOOSE),
    "van, leaning": changed(VAN, injury=LEANING),
    "truck, single": changed(TRUCK, position={"fitment": "single"}),
    "truck, loose wheel": changed(TRUCK, position={"fitment": "single"}, bench=LOOSE),
    "truck, inner dual": TRUCK,
    "trailer": changed(TRUCK, vehicle={"kind": "trailer"}, position={"axle": "trailer", "fitment": "single"}),
    "car, on a lug": changed(CAR, injury=ON_LUG),
    "car, two holes": {**CAR, "injuries": [CAR["injuries"][0], {**CAR["injuries"][0], "around_mm": 700}]},
    "car, sensor": changed(CAR, bench={"pressure_sensor": True}),
    "car, sealant": changed(CAR, history={"sealant_used": True}),
    "car, cold and damp": changed(CAR, bench={"air_temperature_c": 8, "relative_humidity_percent": 80}),
    "car, too cold": changed(CAR, bench={"air_temperature_c": 3, "liner_temperature_c": 3}),
    "car, cured by heat": changed(CAR, bench={"heat_cured_fill": "tread_rubber"}),
    "car, two-part fill cured by heat": changed(CAR, bench={"heat_cured_fill": "two_part"}),
    "car, foam": changed(CAR, tyre={"traits": {"complete": True, "foam_lined": True}}),
    "car, self-sealing": changed(CAR, tyre={"traits": {"complete": True, "self_sealing": True}}),
    "van, tube": changed(VAN, tyre={"traits": {"complete": True, "tube_type": True}}),
    "truck, run low": changed(TRUCK, history={"pressure_found_percent": 60}),
    "American car": changed(CAR, rulebook="us"),
    "Australian car": changed(CAR, rulebook="au"),
    "motorcycle": MOTORCYCLE,
    "motorcycle, loose wheel": changed(MOTORCYCLE, bench=LOOSE),
}


def plan(case: Json) -> WorkPlan:
    """The plan of a job on the day the examples are judged on."""
    return plan_work(msgspec.convert(case, Case), ON)
