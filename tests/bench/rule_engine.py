"""The same limits written for a general-purpose rule engine, against the rules of the house.

The engine's rules are a flat yes-or-no each on a case where everything is known: no intervals, no sources, no open
outcomes. It is given the easier task.
"""

from __future__ import annotations

from datetime import date

import msgspec
import rule_engine
from tests.bench.cases import FULL
from tests.bench.in_process import microseconds
from tests.bench.report import Report

from mendgauge.case.case import Case
from mendgauge.facts.yes_no import SIGNS, TRAITS
from mendgauge.intake.intake import take_in
from mendgauge.judging.assessment import assess_tyre

_RULES = (
    *(f"not {sign}" for sign in SIGNS),
    *(f"not {trait} or maker_permits" for trait in TRAITS),
    "maker_permits",
    "not sealant",
    "age_years < 6",
    "tread_depth >= 1.6 or mass > 3500 and tread_depth >= 1.0",
    "earlier_repairs + needed <= 1 or speed_kmh <= 210",
    "earlier_improper == 0",
    'region == "tread"',
    'depth == "through"',
    "diameter <= 25 or diameter <= 0.1 * section_width",
    "diameter <= 6 and cutter <= 6",
    "across + shift + mouth <= 0.35 * section_width and across + mouth <= 0.35 * section_width",
    "lean <= 25",
    "nearest_repair >= 80",
)


def compare(report: Report) -> None:
    """Measure one judgement of a full case by each."""
    case = msgspec.convert(FULL, Case)
    intake = take_in(case, date(2026, 11, 24))
    judged = microseconds(lambda: assess_tyre(intake.facts(intake.uses[0]), intake.edition))
    rules = [rule_engine.Rule(text) for text in _RULES]
    facts = _flat()
    assert all(rule.matches(facts) for rule in rules)
    engine = microseconds(lambda: [rule.matches(facts) for rule in rules])
    what = f"judging a full case by {len(_RULES)} rules or so"
    report.add(what, f"{judged:.1f} µs", f"rule engine {engine:.0f} µs", engine / judged, "at least 20, aim 40")


def _flat() -> dict[str, object]:
    facts: dict[str, object] = dict.fromkeys((*SIGNS, *TRAITS, "sealant"), False)
    return facts | {
        "maker_permits": True,
        "age_years": 3.4,
        "tread_depth": 5.0,
        "mass": 1900.0,
        "earlier_repairs": 0,
        "earlier_improper": 0,
        "needed": 1,
        "speed_kmh": 240.0,
        "region": "tread",
        "depth": "through",
        "diameter": 4.0,
        "cutter": 4.5,
        "section_width": 205.0,
        "across": 20.0,
        "shift": 1.1,
        "mouth": 2.3,
        "lean": 5.0,
        "nearest_repair": 1e9,
    }
