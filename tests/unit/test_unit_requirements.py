"""What a channel asks of a unit while it is open what the tyre runs on: all that it may ask in any use."""

from __future__ import annotations

from typing import Any

import msgspec
import pytest

from mendgauge.case.case import Case
from mendgauge.core.interval import Interval
from mendgauge.facts.injury import InjuryFacts
from mendgauge.facts.tyre import TyreFacts
from mendgauge.operations.repair_units.requirements import Requirements, requirements_of
from mendgauge.operations.workup import work_up
from mendgauge.tyre.marking_facts import marking_facts_of

HOLE = {
    "region": "tread",
    "depth": "through",
    "across_mm": {"low": -9, "high": 9},
    "diameter_mm": {"low": 4, "high": 9},
}
TRUTHS = ("one_piece", "reinforced")


def asked(marking: str, book: str, **vehicle: Any) -> tuple[Requirements, ...]:
    case = {"rulebook": book, "tyre": {"marking": marking}, "vehicle": vehicle, "injuries": [HOLE, HOLE]}
    with work_up(msgspec.convert(case, Case)) as workup:
        return requirements_of(workup)


@pytest.mark.parametrize("book", ["gb", "us", "de", "au"])
@pytest.mark.parametrize("marking", ["7.50-16", "225/70R15C 112/110R", "10.00-20"])
def test_what_is_asked_in_any_use_holds_what_is_asked_in_each(marking: str, book: str) -> None:
    in_any = asked(marking, book)
    differing = set()
    for kind in marking_facts_of(marking).kinds:
        for whole, one in zip(in_any, asked(marking, book, kind=kind), strict=True):
            for name in Requirements.__struct_fields__:
                held, of_kind = getattr(whole, name), getattr(one, name)
                if isinstance(of_kind, Interval):
                    assert held.low <= of_kind.low <= of_kind.high <= held.high, f"{kind}: {name}"
                elif name in TRUTHS:
                    assert held | of_kind == held, f"{kind}: {name}"
                if held != of_kind:
                    differing.add(name)
    assert {"length", "shoulder"} & differing, "the uses ask alike, and nothing is tried"


def test_what_is_supposed_of_a_tyre_is_what_a_case_that_says_so_gives() -> None:
    said = {"rulebook": "gb", "tyre": {"marking": "7.50-16"}, "injuries": [HOLE, HOLE], "earlier_repairs": [{}]}
    narrowed = {
        **said,
        "tyre": {"marking": "7.50-16", "tread_depth_mm": {"low": 4, "high": 9}, "crown_thickness_mm": 12},
        "injuries": [HOLE, {**HOLE, "lean_deg": {"low": 0, "high": 20}}],
    }
    case = msgspec.convert(narrowed, Case)
    with work_up(msgspec.convert(said, Case)) as before, work_up(case) as anew:
        for tyre, expected in zip(before.facts, anew.facts, strict=True):
            supposed = tyre.supposing(case)
            for name in set(TyreFacts.__slots__) - {"injuries", "earlier", "liner", "case"}:
                assert getattr(supposed, name) == getattr(expected, name), name
            for one, other in zip(supposed.injuries, expected.injuries, strict=True):
                assert one.tyre is supposed
                for name in set(InjuryFacts.__slots__) - {"tyre"}:
                    assert getattr(one, name) == getattr(other, name), name
