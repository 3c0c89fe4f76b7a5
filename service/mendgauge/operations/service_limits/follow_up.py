"""What is looked at again after the repair, and when."""

from __future__ import annotations

from datetime import date
from functools import lru_cache

from mendgauge.core.interval import YES
from mendgauge.facts.position import PositionFacts
from mendgauge.operations.service_limits.answer import FollowUpDue
from mendgauge.operations.service_limits.applicable import holding, over_all
from mendgauge.rulebooks import Edition
from mendgauge.rulebooks.schema.limits import FollowUp
from mendgauge.wording import Wording


def follow_ups(tyres: list[PositionFacts], edition: Edition, on: date, words: Wording) -> tuple[FollowUpDue, ...]:
    """The follow-ups that are due; where the vehicle is not known, the strictest of each."""
    found = over_all([holding(edition, "follow_ups", tyre, on) for tyre in tyres])
    # What hangs on a kind of tyre is due only where the tyre surely is of that kind.
    due = {id(entry) for entry, holds in found if entry.trait is None or holds == YES}
    told = {one.code: one for key, one in _strictest_last(edition, words) if key in due}
    return tuple(told.values())


@lru_cache(maxsize=64)
def _strictest_last(edition: Edition, words: Wording) -> tuple[tuple[int, FollowUpDue], ...]:
    """Every follow-up of the workshop by its provision, in its order, those of one name from the rarest on."""
    entries = edition.workshop.follow_ups
    names = [entry.what for entry in entries]
    ordered = sorted(entries, key=lambda entry: (names.index(entry.what), -(entry.every_days or 0.0)))
    return tuple((id(entry), _told(entry, edition, words)) for entry in ordered)


def _told(entry: FollowUp, edition: Edition, words: Wording) -> FollowUpDue:
    told = {
        "from_km": entry.from_km,
        "to_km": entry.to_km,
        "from_miles": entry.from_miles,
        "to_miles": entry.to_miles,
        "hours": entry.within_hours,
        "days": entry.every_days,
    }
    figures = {name: f"{value:g}" for name, value in told.items() if value is not None}
    return FollowUpDue(
        code=entry.what,
        says=words.limits.follow_ups[entry.what].format(**figures),
        from_km=entry.from_km,
        to_km=entry.to_km,
        from_miles=entry.from_miles,
        to_miles=entry.to_miles,
        within_hours=entry.within_hours,
        every_days=entry.every_days,
        basis=entry.basis,
        source=edition.source(entry),
        clause=entry.clause,
    )
