"""A fleet's intake of one morning, as it stands in `morning_intake.json`."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import msgspec

from mendgauge_client import TyreCase

INTAKE = Path(__file__).with_name("morning_intake.json")


class IntakeTyre(msgspec.Struct, forbid_unknown_fields=True):
    """A tyre that came in: where, who reported it, and what is known."""

    depot: str
    reported_by: str
    case: TyreCase


class Intake(msgspec.Struct, forbid_unknown_fields=True):
    """What came in to a fleet in one morning."""

    fleet: str
    day: date
    tyres: list[IntakeTyre]


def read_intake(path: Path = INTAKE) -> Intake:
    """Read the intake of a file, its cases ready to be sent."""
    intake = msgspec.json.decode(path.read_bytes(), type=Intake)
    for tyre in intake.tyres:
        tyre.case.assessed_on = intake.day
        tyre.case.detail = "full"  # lists the rules that are met too: a repairable tyre has its reasons as well
    return intake
