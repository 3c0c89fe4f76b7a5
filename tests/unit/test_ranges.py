"""The ends of a range are in order, and each is held to what the contract lets a bare number be."""

from __future__ import annotations

from datetime import date
from math import isfinite
from typing import Any

import msgspec
import pytest

from mendgauge.case.case import Case, History, Position, Tyre, Vehicle
from mendgauge.case.fields import MEASURED
from mendgauge.case.injury import EarlierRepair, Injury
from mendgauge.case.service import AxleMate, InService
from mendgauge.case.shop import Bench
from mendgauge.core.errors import CaseError
from mendgauge.intake.contradictions import check_case

SECTIONS: dict[type[msgspec.Struct], str] = {
    Vehicle: "/vehicle",
    Position: "/position",
    Tyre: "/tyre",
    Injury: "/injuries/0",
    EarlierRepair: "/earlier_repairs/0",
    History: "/history",
    InService: "/in_service",
    AxleMate: "/in_service/axle_mates/0",
    Bench: "/bench",
}
FIELDS = [(section, bound.field, bound.low, bound.high) for section in SECTIONS for bound in MEASURED[section]]


def refused(section: type[msgspec.Struct], field: str, low: float, high: float) -> dict[str, str]:
    """What is refused of a case with a range at a field, by pointer."""
    value: Any = {field: {"low": low, "high": high}}
    for part in reversed(SECTIONS[section].strip("/").split("/")):
        value = [value] if part == "0" else {part: value}
    case = {"rulebook": "gb", **value, "tyre": {"marking": "205/55R16 91V", **value.get("tyre", {})}}
    try:
        check_case(msgspec.convert(case, Case), date(2026, 11, 24))
    except CaseError as error:
        details: dict[str, str] = {}
        for flaw in error.errors:
            details[flaw.pointer] = f"{details.get(flaw.pointer, '')} {flaw.detail}".strip()
        return details
    return {}


def test_every_section_with_a_measurement_is_here() -> None:
    assert set(SECTIONS) == set(MEASURED)


@pytest.mark.parametrize(("section", "field", "low"), [field[:3] for field in FIELDS])
def test_the_ends_are_in_order(section: type[msgspec.Struct], field: str, low: float) -> None:
    least = max(low, 0.0)
    place = f"{SECTIONS[section]}/{field}"
    assert f"`low` is {least + 2:g} and `high` is {least + 1:g}" in refused(section, field, least + 2, least + 1)[place]
    assert "`low`" not in refused(section, field, least + 1, least + 1).get(place, "")


@pytest.mark.parametrize(("section", "field", "low", "high"), FIELDS)
def test_each_end_keeps_the_bounds_of_a_number(
    section: type[msgspec.Struct], field: str, low: float, high: float
) -> None:
    flaws = refused(section, field, low - 1 if isfinite(low) else 0.0, high + 1 if isfinite(high) else 0.0)
    place = f"{SECTIONS[section]}/{field}"
    assert ("too small" in flaws.get(f"{place}/low", "")) == isfinite(low)
    assert ("too large" in flaws.get(f"{place}/high", "")) == isfinite(high)
