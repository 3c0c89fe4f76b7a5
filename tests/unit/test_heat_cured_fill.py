"""A channel filled and cured by heat: units, work plan and price all speak of the same patch, and of no stem."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import msgspec

from mendgauge.case.case import Case
from mendgauge.operations.repair_plans import plan_repair

TILL = Path(__file__).parents[2] / "openapi" / "examples" / "quote_repair" / "uk_counter_vat_inclusive.json"


def test_units_plan_and_price_agree() -> None:
    request: dict[str, Any] = json.loads(TILL.read_bytes())["request"] | {"detail": "full"}
    request["bench"] = request.get("bench", {}) | {"heat_cured_fill": "tread_rubber"}
    plan = plan_repair(msgspec.convert(request, Case))
    assert plan.repair_units is not None
    assert plan.work_plan is not None
    assert plan.quote is not None
    (unit,) = plan.repair_units.injuries
    (choice,) = unit.choices
    assert choice.chosen is not None
    assert choice.chosen.kind == "two_piece"
    assert [reason.code for reason in choice.because] == ["filled_by_heat"]
    (patch,) = [piece.code for piece in choice.chosen.pieces if piece.kind == "patch"]
    fitted = [figure.says for step in plan.work_plan.steps for figure in step.parameters if figure.name == "unit"]
    assert fitted == [patch]
    assert [line.code for line in plan.quote.lines if line.kind == "unit"] == [patch]
