"""How many questions a verdict takes: `make interview`.

Each tyre of the demo's fleet is taken with what a fleet system has of it, its marking and vehicle, and then asked about
one question at a time, always the first that the service names, until the verdict is firm. What the intake leaves out
is taken as good. That is compared with asking for every fact that the rules of its book look at.
"""

from __future__ import annotations

import json
import sys
from pathlib import Path
from typing import Any

import msgspec
from rich.console import Console
from rich.table import Table

sys.path.insert(0, str(Path(__file__).parents[2]))

from mendgauge.case.case import Case
from mendgauge.core.errors import CaseError
from mendgauge.judging.trial_answers import put
from mendgauge.operations.repairability import check_repairability
from mendgauge.operations.repairability.answer import Repairability
from mendgauge.tyre.marking_facts import marking_facts_of

FLEET = Path(__file__).parents[2] / "sdk" / "examples" / "morning_intake.json"

SOUND: dict[str, Any] = {
    "position": {"axle": "rear", "steered": False, "fitment": "single"},
    "tyre": {
        "tread_depth_mm": 6.0,
        "crown_thickness_mm": 8.0,
        "traits": {"complete": True},
        "maker_policy": {"repair": "permitted"},
    },
    "inspection": {"complete": True},
    "history": {"complete": True, "pressure_found_percent": 90},
    "earlier_repairs": [],
}
SOUND_INJURY: dict[str, Any] = {
    "region": "tread",
    "depth": "through",
    "across_mm": 10,
    "around_mm": 500,
    "measured_from": "outside",
    "diameter_mm": 4.0,
    "stage": "found",
    "lean_deg": 5,
    "lean_toward_deg": 0,
    "emerges_in": "groove",
}


def merged(base: Any, over: Any) -> Any:
    """`over` laid upon `base`, object by object."""
    if not isinstance(base, dict) or not isinstance(over, dict):
        return over
    return base | {name: merged(base[name], value) if name in base else value for name, value in over.items()}


def truth_of(intake: dict[str, Any]) -> dict[str, Any]:
    """All there is to know of a tyre: what the intake gives, and the rest good."""
    case: dict[str, Any] = merged(SOUND, intake)
    case["injuries"] = [merged(SOUND_INJURY, injury) for injury in intake.get("injuries") or [{}]]
    width = case["tyre"].get("tread_width_mm")
    case["tyre"]["tread_width_mm"] = width or 0.78 * marking_facts_of(case["tyre"]["marking"]).section_width.high
    return case


def known_to_a_fleet(truth: dict[str, Any]) -> dict[str, Any]:
    """What a fleet system has before anyone looks: marking and vehicle."""
    case = {name: truth[name] for name in ("reference", "rulebook", "house_rules") if name in truth}
    return case | {
        "vehicle": truth.get("vehicle", {}),
        "tyre": {"marking": truth["tyre"]["marking"]},
        "injuries": [{} for _ in truth["injuries"]],
    }


def judge(case: Case) -> Repairability:
    """The service's answer, every question with it."""
    return check_repairability(case)


def answered(case: Case, field: str, truth: Case) -> Case:
    """The case with the true answer to a question: of a whole section, all that is to be found in it."""
    section, _, name = field.rpartition("/")
    if name == "complete":
        return put(case, section, value_at(truth, section))
    value = value_at(truth, field)
    # In a section that is complete, what is not named is not so.
    return put(case, field, False if value is None and value_at(truth, f"{section}/complete") else value)


def value_at(case: Case, field: str) -> Any:
    """What stands at a field; `None` where nothing does."""
    value: Any = case
    for part in filter(None, field.split("/")):
        value = value[int(part)] if isinstance(value, tuple) else getattr(value, part, None)
    return value


def interview(truth: dict[str, Any]) -> tuple[Repairability, int, int]:
    """The verdict reached, the questions it took, and how many facts asking for everything would have asked for."""
    case, whole = (msgspec.convert(body, Case) for body in (known_to_a_fleet(truth), truth))
    answer = judge(case)
    everything = sum(not missing.field.endswith("/complete") for missing in answer.to_establish)
    asked: list[str] = []
    while answer.verdict == "inspect":
        field = next((one.field for one in answer.to_establish if one.field not in asked), None)
        if field is None:
            break
        asked.append(field)
        case = answered(case, field, whole)
        answer = judge(case)
    return answer, len(asked), everything


def main() -> None:
    """Interview the fleet and print what it took."""
    table = Table("tyre", "verdict", "questions asked", "facts in question", "share", title="Asked until firm")
    asked_in_all = facts_in_all = 0
    for tyre in json.loads(FLEET.read_bytes())["tyres"]:
        truth = truth_of(tyre["case"])
        try:
            answer, asked, facts = interview(truth)
        except CaseError:
            continue  # the intake's one impossible case is refused, with nothing to ask
        asked_in_all += asked
        facts_in_all += facts
        share = f"{asked / facts:.0%}" if facts else ""
        table.add_row(truth["reference"], answer.verdict, str(asked), str(facts), share)
    table.add_section()
    table.add_row("all", "", str(asked_in_all), str(facts_in_all), f"{asked_in_all / facts_in_all:.0%}")
    Console().print(table)


if __name__ == "__main__":
    main()
