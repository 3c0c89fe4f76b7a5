"""Taking a case in: it is checked, its instruments' tolerances are applied, and what it is judged by is found."""

from __future__ import annotations

from datetime import UTC, date, datetime

import msgspec

from mendgauge.case.case import Case
from mendgauge.facts.tyre import TyreFacts
from mendgauge.intake.contradictions import check_case, check_crossings
from mendgauge.intake.tolerances import usual, with_tolerances
from mendgauge.rulebooks import Edition
from mendgauge.tyre.marking_facts import marking_facts_of
from mendgauge.tyre.tyre_class import Use


class Intake(msgspec.Struct, frozen=True):
    """A case fit to be judged: the edition and the day it is judged by, and what the tyre may be in use as."""

    case: Case
    edition: Edition
    on: date
    uses: tuple[Use, ...]

    def facts(self, use: Use) -> TyreFacts:
        """Return the case as the rules see it, for one use."""
        return TyreFacts(self.case, use, self.edition, self.on)


def take_in(case: Case, today: date | None = None) -> Intake:
    """Return a case, checked and with its tolerances applied. `today` stands in for a missing `assessed_on`.

    Raise `CaseError` for a case that contradicts itself or names a rulebook that is not there.
    """
    on = case.assessed_on or today or datetime.now(tz=UTC).date()
    edition = check_case(case, on).in_force(on)
    if case.measuring is not None:
        case = with_tolerances(case, case.measuring)
    uses = marking_facts_of(case.tyre.marking).uses_on[None if case.vehicle is None else case.vehicle.kind]
    for injury in case.injuries or ():
        if injury.other_side_across_mm is not None:
            lenient = with_tolerances(case, usual(edition))
            check_crossings([TyreFacts(lenient, use, edition, on) for use in uses])
            break
    return Intake(case, edition, on, uses)
