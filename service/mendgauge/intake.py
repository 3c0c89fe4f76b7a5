"""Taking a case in: it is checked, its instruments' tolerances are applied, and what it is judged by is found."""

from __future__ import annotations

from datetime import UTC, date, datetime

import msgspec

from mendgauge.case import Case
from mendgauge.consistency import check_case, check_crossings
from mendgauge.facts import TyreFacts, frame_of
from mendgauge.rulebooks import Edition
from mendgauge.tolerance import usual, with_tolerances
from mendgauge.words import VehicleKind


class Intake(msgspec.Struct, frozen=True):
    """A case fit to be judged: the edition and the day it is judged by, and the vehicles the tyre may be on."""

    case: Case
    edition: Edition
    on: date
    kinds: tuple[VehicleKind, ...]

    def facts(self, kind: VehicleKind) -> TyreFacts:
        """The case as the rules see it, for a vehicle of one kind."""
        return TyreFacts(self.case, kind, self.edition, self.on)


def take_in(case: Case, today: date | None = None) -> Intake:
    """A case, checked and with its tolerances applied. `today` stands in for a missing `assessed_on`.

    Raises `CaseError` for a case that contradicts itself or names a rulebook that is not there.
    """
    on = case.assessed_on or today or datetime.now(tz=UTC).date()
    edition = check_case(case, on)
    if case.measuring is not None:
        case = with_tolerances(case, case.measuring)
    intake = Intake(case, edition, on, kinds_of(case))
    if any(injury.other_side_across_mm is not None for injury in case.injuries or ()):
        lenient = with_tolerances(case, usual(edition))
        check_crossings([TyreFacts(lenient, kind, edition, on) for kind in intake.kinds])
    return intake


def kinds_of(case: Case) -> tuple[VehicleKind, ...]:
    """The kinds of vehicle the tyre may be on: the one given, or all that run on such a tyre."""
    if case.vehicle is not None and case.vehicle.kind is not None:
        return (case.vehicle.kind,)
    return tuple(frame_of(case.tyre.marking).classes)
