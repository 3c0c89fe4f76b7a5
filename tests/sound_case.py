"""A sound case from the bench, changed field by field, and what one rule makes of it."""

from __future__ import annotations

import copy
from typing import Any

import msgspec

from mendgauge.answers.finding import Finding
from mendgauge.case.case import Case
from mendgauge.operations.repairability import check_repairability
from mendgauge.operations.repairability.answer import Repairability

EARLIER = {"method": "one_piece", "proper": True, "across_mm": 20, "measured_from": "inside", "patch_mm": 40}

BASE: dict[str, Any] = {
    "rulebook": "gb",
    "assessed_on": "2026-11-24",
    "vehicle": {"kind": "car", "gross_mass_kg": 1900},
    "position": {"axle": "rear", "steered": False},
    "tyre": {
        "marking": "205/55R16 91H",
        "date_code": "2323",
        "tread_depth_mm": 5.0,
        "new_tread_depth_mm": 5.0,
        "crown_thickness_mm": 7.0,
        "traits": {"complete": True},
        "maker_policy": {"repair": "permitted"},
    },
    "injuries": [
        {
            "region": "tread",
            "depth": "through",
            "across_mm": 20,
            "around_mm": 640,
            "measured_from": "outside",
            "diameter_mm": 4.0,
            "stage": "found",
            "lean_deg": 0,
            "lean_toward_deg": 0,
            "emerges_in": "groove",
        }
    ],
    "earlier_repairs": [],
    "inspection": {"complete": True},
    "history": {"complete": True},
    "detail": "full",
}


def changed(changes: dict[str, Any], base: dict[str, Any] = BASE) -> dict[str, Any]:
    """The sound base case with changes to fields, by their place; `None` takes a field away."""
    case = copy.deepcopy(base)
    for pointer, value in changes.items():
        *path, name = pointer.split("/")
        within: Any = case
        for part in path:
            within = within[int(part)] if isinstance(within, list) else within[part]
        if value is None:
            within.pop(name)
        else:
            within[name] = value
    return case


def answer(changes: dict[str, Any]) -> Repairability:
    """The answer for the sound base case with changes to fields."""
    return check_repairability(msgspec.convert(changed(changes), Case))


def finding(rule: str, found: Repairability) -> Finding:
    """What a rule made of the first injury or the tyre."""
    return next(one for one in found.findings if one.rule == rule)


def finding_of(rule: str, changes: dict[str, Any]) -> tuple[str, str, Any, Any, Any]:
    """Verdict, outcome, observed, limit and margin of a rule."""
    found = answer(changes)
    one = finding(rule, found)
    observed = one.observed and (one.observed.low, one.observed.high, one.observed.unit)
    limit = one.limit and (one.limit.value, one.limit.unit, one.limit.sense, one.limit.inclusive)
    return found.verdict, one.outcome, observed, limit, one.margin
