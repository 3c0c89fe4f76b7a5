"""What is looked at again after the repair, and when."""

from __future__ import annotations

from datetime import date, timedelta
from functools import lru_cache
from math import floor
from typing import Final

from msgspec.structs import replace

from mendgauge.answers.bound_edition import BoundEdition
from mendgauge.core.interval import YES
from mendgauge.facts.position import PositionFacts
from mendgauge.operations.service_limits.answer import FollowUpDue
from mendgauge.operations.service_limits.applicable import over_all
from mendgauge.rulebooks.resolver import applicable
from mendgauge.rulebooks.schema.limits import FollowUp
from mendgauge.wording.quantities import quantity

_HOURS_A_DAY: Final = 24


def follow_ups(tyres: list[PositionFacts], bound: BoundEdition, on: date) -> tuple[FollowUpDue, ...]:
    """Return the follow-ups that are due; where the vehicle is not known, the strictest of each."""
    found = over_all([applicable(bound.edition, "follow_ups", tyre) for tyre in tyres])
    # What hangs on a kind of tyre is due only where the tyre surely is of that kind.
    due = frozenset([id(entry) for entry, holds in found if entry.trait is None or holds == YES])
    return tuple([replace(one, due_on=_due_on(one, on)) for one in _strictest(due, bound)])


@lru_cache(maxsize=512)
def _strictest(due: frozenset[int], bound: BoundEdition) -> tuple[FollowUpDue, ...]:
    """Return the strictest of each follow-up of the provisions that are due."""
    return tuple({one.code: one for key, one in _strictest_last(bound) if key in due}.values())


def _due_on(one: FollowUpDue, repaired_on: date) -> date | None:
    """Return the day by which a follow-up is due; none where a distance decides."""
    days = one.every_days if one.within_hours is None else one.within_hours / _HOURS_A_DAY
    return None if days is None else repaired_on + timedelta(days=floor(days))


@lru_cache(maxsize=64)
def _strictest_last(bound: BoundEdition) -> tuple[tuple[int, FollowUpDue], ...]:
    """Return every follow-up of the workshop by its provision, in its order, those of one name from the rarest on."""
    entries = bound.edition.workshop.follow_ups
    names = [entry.what for entry in entries]
    ordered = sorted(entries, key=lambda entry: (names.index(entry.what), -(entry.every_days or 0.0)))
    return tuple((id(entry), _due(entry, bound)) for entry in ordered)


def _due(entry: FollowUp, bound: BoundEdition) -> FollowUpDue:
    figures = {
        name: quantity(low, high, unit, bound.words.language)
        for name, low, high, unit in (
            ("distance", entry.to_km if entry.from_km is None else entry.from_km, entry.to_km, "km"),
            ("hours", entry.within_hours, entry.within_hours, "hours"),
            ("days", entry.every_days, entry.every_days, "days"),
        )
        if low is not None and high is not None
    }
    provenance = bound.provenance_of(entry)
    return FollowUpDue(
        code=entry.what,
        says=bound.words.limits.follow_ups[entry.what].format(**figures),
        from_km=entry.from_km,
        to_km=entry.to_km,
        from_miles=entry.from_miles,
        to_miles=entry.to_miles,
        within_hours=entry.within_hours,
        every_days=entry.every_days,
        due_on=None,
        basis=provenance.basis,
        source=provenance.source,
        clause=entry.clause if bound.full else "",
    )
