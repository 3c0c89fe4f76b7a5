"""A brief answer is the full one with parts left out: nothing in it is new, nothing that anyone acts on is missing."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.property.cases import Drawn, full_cases
from tests.property.vague import full_or_vague

from mendgauge.case.case import Case
from mendgauge.core.errors import CaseError
from mendgauge.operations.quotes import quote_repair
from mendgauge.operations.repair_plans import plan_repair
from mendgauge.operations.repair_units import choose_repair_units
from mendgauge.operations.repairability import check_repairability
from mendgauge.operations.service_limits import find_service_limits
from mendgauge.operations.stem_trim import trim_stems
from mendgauge.operations.work_plans import plan_work

EXAMPLES = Path(__file__).parents[2] / "openapi" / "examples"
OPERATIONS: tuple[Callable[[Case], Any], ...] = (
    check_repairability,
    choose_repair_units,
    trim_stems,
    find_service_limits,
    plan_work,
    quote_repair,
    plan_repair,
)
CASES = {
    str(file.relative_to(EXAMPLES)): case
    for file in sorted(EXAMPLES.rglob("*.json"))
    if "tyre" in (case := json.loads(file.read_bytes())["request"])
}


def answered(operation: Callable[[Case], Any], case: dict[str, Any], detail: str) -> Any:
    return json.loads(msgspec.json.encode(operation(msgspec.convert({**case, "detail": detail}, Case))))


def new_in(brief: Any, full: Any, sources: dict[str, Any], at: str = "") -> list[str]:
    """What stands in a brief answer and not at its place in the full one; a list may have lost some of its items."""
    if isinstance(brief, dict) and isinstance(full, dict):
        found = []
        if (key := brief.get("cites")) is not None and sources[key] != {name: full.get(name) for name in sources[key]}:
            found.append(f"{at}/cites")
        for name, value in brief.items():
            if name in ("cites", "sources"):
                continue
            found += new_in(value, full[name], sources, f"{at}/{name}") if name in full else [f"{at}/{name}"]
        return found
    if isinstance(brief, list) and isinstance(full, list):
        rest, found = list(full), []
        for place, item in enumerate(brief):
            while rest and new_in(item, rest[0], sources):
                rest.pop(0)
            if not rest:
                return [f"{at}/{place}"]
            rest.pop(0)
        return found
    return [] if brief == full else [at]


def cited_in(answer: Any) -> set[str]:
    """Every key into the table of sources that stands in an answer."""
    if isinstance(answer, list):
        return {key for part in answer for key in cited_in(part)}
    if not isinstance(answer, dict):
        return set()
    own = {answer["cites"]} if "cites" in answer else set()
    return own | {key for part in answer.values() for key in cited_in(part)}


@pytest.mark.parametrize("operation", OPERATIONS, ids=lambda operation: operation.__name__)
@pytest.mark.parametrize("case", CASES.values(), ids=CASES.keys())
def test_a_brief_answer_is_the_full_one_with_parts_left_out(
    case: dict[str, Any], operation: Callable[[Case], Any]
) -> None:
    try:
        brief, full = (answered(operation, case, detail) for detail in ("brief", "full"))
    except CaseError:
        return
    sources = brief.get("sources", {})
    assert new_in(brief, full, sources) == []
    assert cited_in(brief) == set(sources)
    assert brief["verdict"] == full["verdict"]
    assert brief.get("next_step") == full.get("next_step")


@pytest.mark.parametrize("case", CASES.values(), ids=CASES.keys())
def test_no_caution_and_no_reason_against_the_repair_is_left_out(case: dict[str, Any]) -> None:
    try:
        brief, full = (answered(check_repairability, case, detail) for detail in ("brief", "full"))
        limits, all_limits = (answered(find_service_limits, case, detail) for detail in ("brief", "full"))
    except CaseError:
        return

    def said(answer: Any, part: str) -> list[str]:
        return [one["says"] for one in answer[part] if one.get("outcome", "broken") == "broken"]

    for part in ("findings", "cautions"):
        assert said(brief, part) == said(full, part)
    assert ("until_then" in brief) == ("until_then" in full)
    if "until_then" in full:
        assert said(brief["until_then"], "says") == said(full["until_then"], "says")
    assert said(limits, "findings") == said(all_limits, "findings")
    assert [one["says"] for one in limits["speed"]["ceilings"]] == [
        one["says"] for one in all_limits["speed"]["ceilings"]
    ]
    assert [one["long"] for one in limits["caveats"]] == [one["long"] for one in all_limits["caveats"]]


@pytest.mark.parametrize("case", CASES.values(), ids=CASES.keys())
def test_a_brief_plan_leaves_out_no_caution(case: dict[str, Any]) -> None:
    try:
        brief, full = (answered(plan_repair, case, detail) for detail in ("brief", "full"))
    except CaseError:
        return

    def cautions(plan: Any) -> set[str]:
        parts = (plan["repairability"], plan["repair_units"], plan["stem_trims"], plan["work_plan"])
        found = {one["says"] for part in parts if part is not None for one in part["cautions"]}
        return found | {one["says"] for one in (plan["quote"] or {"caveats": ()})["caveats"]}

    assert cautions(brief) == cautions(full)


@given(full_cases(), st.data(), st.booleans(), st.one_of(st.none(), st.floats(5.0, 20.0)))
def test_the_units_kept_for_a_lone_hole_are_those_that_a_full_answer_works_out(
    drawn: Drawn, data: st.DataObject, unmeasured: bool, crown: float | None
) -> None:
    """`unmeasured` are its lean and the crown, `crown` is the thickest that the house sets one piece in."""
    case = data.draw(full_or_vague(drawn))
    case = {name: part for name, part in case.items() if name not in ("earlier_repairs", "stock", "house_rules")}
    case["injuries"] = (case.get("injuries") or [{}])[:1]
    if crown is not None:
        case["house_rules"] = {"max_one_piece_crown_mm": crown}
    if unmeasured:
        case["injuries"] = [{name: value for name, value in case["injuries"][0].items() if name != "lean_deg"}]
        case["tyre"] = {name: value for name, value in case["tyre"].items() if name != "crown_thickness_mm"}
    try:
        brief, full = (answered(choose_repair_units, case, detail) for detail in ("brief", "full"))
    except CaseError:
        return
    assert new_in(brief["injuries"], full["injuries"], brief.get("sources", {})) == []
