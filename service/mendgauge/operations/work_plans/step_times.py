"""How long each step takes: the trade's time for the class of tyre, or the shop's own, for as often as it is done.

What hangs on an unanswered question counts at the high end alone, so a time never shrinks below its low end, nor grows
beyond its high end, as more is known. Only a wheel nobody has seen is reckoned with as on the vehicle, the longer job.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping
from functools import lru_cache
from typing import Final, TypeAlias

import msgspec

from mendgauge.answers.bound_edition import BoundEdition
from mendgauge.answers.figure import tidy
from mendgauge.case.shop import HouseMinutes, house_times_pointer
from mendgauge.core.errors import Flaw
from mendgauge.core.interval import YES, Interval
from mendgauge.operations.work_plans.answer import Minutes, TimePart, UsualMinutes
from mendgauge.operations.work_plans.conditions import JobConditions
from mendgauge.operations.work_plans.step_selection import Applied, PickedStep
from mendgauge.rulebooks.schema.procedure import ExtraTime, Procedure, StepTimes
from mendgauge.tyre.tyre_class import TyreClass

HOUSE_TIME: Final = "House time sent with the case"
_LONGER_JOB: Final = ("on_vehicle",)
NOTHING: Final = Minutes(low=0.0, likely=0.0, high=0.0)

House: TypeAlias = Mapping[str, float | HouseMinutes]
"""The shop's own minutes by code."""
Cures: TypeAlias = Mapping[int, Interval]
"""How long the fill of each injury's channel cures, minutes."""


class Timed(msgspec.Struct, frozen=True):
    """A step's time in all, and what it is made of for one injury."""

    minutes: Minutes
    parts: tuple[TimePart, ...]


def step_time(procedure: Procedure, conditions: JobConditions, step: PickedStep, house: House, cures: Cures) -> Timed:
    """Return how long a picked step takes. `cures` may be empty where the step is no cure."""
    parts: list[tuple[TimePart, Applied]] = []
    usual = _usual(procedure, conditions.classes, step.rule.code)
    if usual is not None:
        parts.append((_of_house(house, usual), step.applied))
    for rule, applied in step.extra_times:
        extra = _extra(procedure, step, rule, applied, cures)
        parts.append((_of_house(house, extra), applied))
    return Timed(_in_all(conditions, step, parts), tuple(part for part, _ in parts))


def total(times: Iterable[Minutes]) -> Minutes:
    """Add some times up."""
    listed = list(times)
    return Minutes(
        low=tidy(sum([time.low for time in listed])),
        likely=tidy(sum([time.likely for time in listed])),
        high=tidy(sum([time.high for time in listed])),
    )


def usual_minutes(bound: BoundEdition, conditions: JobConditions) -> UsualMinutes | None:
    """Return what a straight repair takes by the trade; none where it has no figure, or not one for each class."""
    procedure = bound.edition.procedure
    found = [times for times in procedure.times if set(times.classes) & set(conditions.classes)]
    if len(found) != 1:
        return None
    (times,) = found
    if times.on_vehicle_minutes is None or times.loose_minutes is None:
        return None
    return UsualMinutes(
        on_vehicle=times.on_vehicle_minutes,
        loose=times.loose_minutes,
        basis=times.basis,
        source=procedure.source(times),
        note=bound.in_language(times.note),
    )


def unknown_codes(procedure: Procedure, given: Collection[str]) -> Iterator[Flaw]:
    """Yield what the shop timed and the procedure has no step or extra work for."""
    if not given:
        return
    known = {code for times in procedure.times for code in times.likely_minutes}
    known |= {extra.code for extra in procedure.extra_times}
    for code in given:
        if code not in known:
            what = f"There is no step or extra work of that code to time; there are {', '.join(sorted(known))}."
            yield Flaw(house_times_pointer("minutes", code), what)


@lru_cache(maxsize=1024)
def _usual(procedure: Procedure, classes: tuple[TyreClass, ...], code: str) -> TimePart | None:
    """Return the usual time of a step, over every class of tyre it may be; none where a rule of its own gives it."""
    found: list[StepTimes] = [
        times for of in classes for times in procedure.times if of in times.classes and code in times.likely_minutes
    ]
    if not found:
        return None
    spread = procedure.spread[0]
    likely = [times.likely_minutes[code] for times in found]
    return TimePart(
        code=code,
        low=tidy(min(likely) * spread.low_share),
        likely=likely[0],
        high=tidy(max(likely) * spread.high_share),
        only_if=None,
        basis=found[0].steps_basis,
        source=procedure.source(found[0]),
        note="",
    )


def _extra(procedure: Procedure, step: PickedStep, rule: ExtraTime, applied: Applied, cures: Cures) -> TimePart:
    low, likely, high = rule.low_minutes or 0.0, rule.likely_minutes or 0.0, rule.high_minutes or 0.0
    if rule.case is not None and cures:
        spans = [cures[injury] for injury, _ in step.at]
        low, high = min(span.low for span in spans), max(span.high for span in spans)
        likely = (low + high) / 2.0
    return TimePart(
        code=rule.code,
        low=tidy(low),
        likely=tidy(likely),
        high=tidy(high),
        only_if=applied.only_if,
        basis=rule.basis,
        source=procedure.source(rule),
        note=rule.note,
    )


def _of_house(house: House, part: TimePart) -> TimePart:
    """Return the shop's own time in place of the trade's, where it sent one."""
    given = house.get(part.code)
    if given is None:
        return part
    own = given if isinstance(given, HouseMinutes) else HouseMinutes(low=given, likely=given, high=given)
    return TimePart(
        code=part.code,
        low=own.low,
        likely=own.likely,
        high=own.high,
        only_if=part.only_if,
        basis="house_rule",
        source=HOUSE_TIME,
        note="",
    )


def _in_all(conditions: JobConditions, step: PickedStep, parts: list[tuple[TimePart, Applied]]) -> Minutes:
    """Count each part as often as the step is done."""
    if not step.rule.per_injury:
        return total(_once(part, step.applied, applied) for part, applied in parts)
    times = {
        injury: total(_once(part, Applied(holds), applied) for part, applied in parts) for injury, holds in step.at
    }
    return _at_injuries(conditions, times)


def _once(part: TimePart, *applied: Applied) -> Minutes:
    sure = all(one.holds == YES for one in applied)
    likely = all(one.holds == YES or one.hangs_on == _LONGER_JOB for one in applied)
    return Minutes(low=part.low if sure else 0.0, likely=part.likely if likely else 0.0, high=part.high)


def _at_injuries(conditions: JobConditions, times: dict[int, Minutes]) -> Minutes:
    """Add up a time for every injury worked on; where none surely is, for one of them at the least."""
    high = tidy(sum([time.high for time in times.values()]))
    if implied := conditions.surely_worked_on:
        sure = total(time for injury, time in times.items() if injury in implied)
        return Minutes(low=sure.low, likely=sure.likely, high=high)
    presumed = [times.get(injury.index, NOTHING) for injury in conditions.injuries]
    return Minutes(low=min(time.low for time in presumed), likely=presumed[0].likely, high=high)
