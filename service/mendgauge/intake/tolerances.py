"""A shop's instruments applied to its case: every bare number becomes the range it was measured to."""

from __future__ import annotations

from typing import Any, TypeVar

import msgspec

from mendgauge.case.case import Case, Tyre
from mendgauge.case.fields import MEASURED
from mendgauge.case.injury import EarlierRepair, Injury
from mendgauge.case.instruments import Measuring
from mendgauge.case.service import AxleMate, InService
from mendgauge.core.vocabulary import Measured, Range
from mendgauge.rulebooks import Edition

T = TypeVar("T", Tyre, Injury, EarlierRepair, InService, AxleMate)


def usual(edition: Edition) -> Measuring:
    """Return how well a workshop measures when it does not say."""
    found = edition.workshop.tolerances[0]
    return Measuring(
        ruler_mm=found.ruler_mm,
        calliper_mm=found.calliper_mm,
        depth_gauge_mm=found.depth_gauge_mm,
        probe_deg=found.probe_deg,
    )


def with_tolerances(case: Case, measuring: Measuring) -> Case:
    """Return the case with its bare numbers as ranges of a tolerance either way; ranges stay as they were sent.

    A channel cut clean keeps its diameter: that is the cutter's nominal size and was not measured.
    """
    return msgspec.structs.replace(
        case,
        tyre=_widened(case.tyre, measuring),
        injuries=None if case.injuries is None else tuple(_widened_injury(one, measuring) for one in case.injuries),
        earlier_repairs=None
        if case.earlier_repairs is None
        else tuple(_widened(one, measuring) for one in case.earlier_repairs),
        in_service=None if case.in_service is None else _widened_service(case.in_service, measuring),
    )


def _widened_service(service: InService, measuring: Measuring) -> InService:
    widened, mates = _widened(service, measuring), service.axle_mates
    if mates is None:
        return widened
    return msgspec.structs.replace(widened, axle_mates=tuple(_widened(mate, measuring) for mate in mates))


def _widened_injury(injury: Injury, measuring: Measuring) -> Injury:
    widened = _widened(injury, measuring)
    if injury.stage == "prepared":
        return msgspec.structs.replace(widened, diameter_mm=injury.diameter_mm)
    return widened


def _widened(measured: T, measuring: Measuring) -> T:
    changed: dict[str, Any] = {}
    for one in MEASURED[type(measured)]:
        value: Measured | None = getattr(measured, one.field)
        tolerance = None if one.instrument is None else getattr(measuring, one.instrument)
        if tolerance is None or value is None or isinstance(value, Range):
            continue
        low, high = value - tolerance, value + tolerance
        # A direction has no ends to stop at: 2 degrees less than 0 is as good as 358.
        if one.field != "lean_toward_deg":
            low, high = max(low, one.low), min(high, one.high)
        changed[one.field] = Range(low=low, high=high)
    return msgspec.structs.replace(measured, **changed) if changed else measured
