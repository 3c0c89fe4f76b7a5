"""How many questions it takes until it is clear what to do: `make interview`.

Each tyre of the demo's fleet is taken with what a fleet system has of it, its marking and vehicle, and each of 1,000
drawn phone calls with what the caller says. Then the first question that the service names is answered, one at a time,
until it is no longer to ask first: book the tyre in, replace it, send it to a specialist. What the intake of the fleet
leaves out is taken as good.
"""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Iterable
from pathlib import Path
from statistics import median
from typing import Any, Final, NamedTuple

import msgspec
from rich.console import Console
from rich.table import Table
from tests.bench.calls import draw_calls

from mendgauge.case.case import Case
from mendgauge.core.errors import CaseError
from mendgauge.judging.trial_answers import put
from mendgauge.operations.repairability import check_repairability
from mendgauge.operations.repairability.answer import Repairability
from mendgauge.tyre.marking_facts import marking_facts_of

FLEET: Final = Path(__file__).parents[2] / "sdk" / "examples" / "morning_intake.json"

SOUND: Final[dict[str, Any]] = {
    "vehicle": {"max_speed_kmh": 100},
    "position": {"axle": "rear", "steered": False, "fitment": "single"},
    "tyre": {
        "tread_depth_mm": 6.0,
        "crown_thickness_mm": 8.0,
        "traits": {"complete": True},
        "maker_policy": {"repair": "permitted"},
    },
    "inspection": {"complete": True},
    "history": {"complete": True, "pressure_found_percent": 90, "losing_air": False},
    "earlier_repairs": [],
}
SOUND_INJURY: Final[dict[str, Any]] = {
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
    "plugged_from_outside": False,
    "object_in_place": True,
}


class Interview(NamedTuple):
    """What was asked, in order, and what there is to do then."""

    book: str
    asked: tuple[str, ...]
    answer: Repairability


def merged(base: Any, over: Any) -> Any:
    """Return `over` laid upon `base`, object by object."""
    if not isinstance(base, dict) or not isinstance(over, dict):
        return over
    return base | {name: merged(base[name], value) if name in base else value for name, value in over.items()}


def truth_of(intake: dict[str, Any]) -> dict[str, Any]:
    """Return all there is to know of a tyre: what the intake gives, and the rest good."""
    case: dict[str, Any] = merged(SOUND, intake)
    case["injuries"] = [merged(SOUND_INJURY, injury) for injury in intake.get("injuries") or [{}]]
    width = case["tyre"].get("tread_width_mm")
    case["tyre"]["tread_width_mm"] = width or 0.78 * marking_facts_of(case["tyre"]["marking"]).section_width.high
    return case


def known_to_a_fleet(truth: dict[str, Any]) -> dict[str, Any]:
    """Return what a fleet system has before anyone looks: marking and vehicle."""
    case = {name: truth[name] for name in ("reference", "rulebook", "house_rules") if name in truth}
    return case | {
        "vehicle": truth.get("vehicle", {}),
        "tyre": {"marking": truth["tyre"]["marking"]},
        "injuries": [{} for _ in truth["injuries"]],
    }


def answered(case: Case, field: str, truth: Case) -> Case:
    """Return the case with the true answer to a question: of a whole section, all that is to be found in it."""
    section, _, name = field.rpartition("/")
    if name == "complete":
        return put(case, section, value_at(truth, section))
    value = value_at(truth, field)
    # In a section that is complete, what is not named is not so.
    return put(case, field, False if value is None and value_at(truth, f"{section}/complete") else value)


def value_at(case: Case, field: str) -> Any:
    """Return what stands at a field; `None` where nothing does."""
    value: Any = case
    for part in filter(None, field.split("/")):
        value = value[int(part)] if isinstance(value, tuple) else getattr(value, part, None)
    return value


def interview(said: dict[str, Any], truth: dict[str, Any]) -> Interview:
    """Answer the first question of a case by the truth until there is something else to do than to ask."""
    case, whole = msgspec.convert(said | {"detail": "full"}, Case), msgspec.convert(truth, Case)
    asked: list[str] = []
    answer = check_repairability(case)
    while answer.next_step == "ask_first":
        field = next(one.field for one in answer.to_establish)
        assert field not in asked, (truth["reference"], asked, field)
        asked.append(field)
        case = answered(case, field, whole)
        answer = check_repairability(case)
    return Interview(answer.rulebook.id, tuple(asked), answer)


def of_the_fleet() -> list[Interview]:
    """Return the interviews about the demo's fleet; its one impossible case is refused, with nothing to ask."""
    found = []
    for tyre in json.loads(FLEET.read_bytes())["tyres"]:
        truth = truth_of(tyre["case"])
        try:
            found.append(interview(known_to_a_fleet(truth), truth))
        except CaseError:
            continue
    return found


def of_calls(count: int) -> list[Interview]:
    """Return the interviews about the first so many drawn phone calls."""
    return [interview(call.said, call.truth) for call in draw_calls(count)]


def _rows(table: Table, name: str, interviews: Iterable[Interview]) -> None:
    by_book: dict[str, list[Interview]] = {}
    for one in interviews:
        by_book.setdefault(one.book, []).append(one)
    for book, some in sorted(by_book.items()):
        counts = [len(one.asked) for one in some]
        steps = Counter(one.answer.next_step for one in some)
        shown = ", ".join(f"{step} {count}" for step, count in steps.most_common())
        table.add_row(name, book, str(len(some)), f"{median(counts):g}", str(max(counts)), shown)


def main() -> None:
    """Interview the fleet and a thousand callers, and print what it took."""
    fleet, calls = of_the_fleet(), of_calls(1_000)
    table = Table(
        "who", "book", "interviews", "questions, median", "most", "then", title="Asked until it is clear what to do"
    )
    _rows(table, "fleet", fleet)
    _rows(table, "phone", calls)
    console = Console(width=140)
    console.print(table)
    often = Counter(_pattern(field) for one in calls for field in one.asked)
    console.print("Asked by phone:", ", ".join(f"{field} {count}" for field, count in often.most_common(20)))


def _pattern(field: str) -> str:
    return field.replace("/0/", "/*/")


if __name__ == "__main__":
    main()
