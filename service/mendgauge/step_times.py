"""How long each step takes: the trade's time for the class of tyre, or the shop's own, for as often as it is done.

What hangs on an unanswered question counts at the high end alone, so a time never shrinks below its low end, nor grows
beyond its high end, as more is known.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Final

import msgspec

from mendgauge.bench import HouseMinutes
from mendgauge.case_figures import cure_minutes
from mendgauge.figure import tidy
from mendgauge.job import Job, hull
from mendgauge.problem import Flaw
from mendgauge.quantity import YES, Interval
from mendgauge.rulebooks.procedure_provisions import ExtraTime, Procedure, StepTimes
from mendgauge.step_selection import Applied, PickedStep
from mendgauge.work_plan_answer import Minutes, TimePart

HOUSE_TIME: Final = "House time sent with the case"
NOTHING: Final = Minutes(low=0.0, likely=0.0, high=0.0)


class Timed(msgspec.Struct, frozen=True):
    """A step's time in all, and what it is made of for one injury."""

    minutes: Minutes
    parts: tuple[TimePart, ...]


def step_time(job: Job, step: PickedStep) -> Timed:
    """How long a picked step takes."""
    parts: list[tuple[TimePart, Applied]] = []
    usual = _usual(job, step.rule.code)
    if usual is not None:
        parts.append((usual, step.applied))
    for rule, applied in step.extra_times:
        parts.append((_extra(job, step, rule, applied), applied))
    return Timed(_in_all(job, step, parts), tuple(part for part, _ in parts))


def total(times: Iterable[Minutes]) -> Minutes:
    """Some times together."""
    listed = list(times)
    return Minutes(
        low=tidy(sum(time.low for time in listed)),
        likely=tidy(sum(time.likely for time in listed)),
        high=tidy(sum(time.high for time in listed)),
    )


def unknown_codes(procedure: Procedure, given: Iterable[str]) -> Iterator[Flaw]:
    """What the shop timed that the procedure has no step or extra work for."""
    known = {code for times in procedure.times for code in times.likely_minutes}
    known |= {extra.code for extra in procedure.extra_times}
    for code in given:
        if code not in known:
            what = f"There is no step or extra work of that code to time; there are {', '.join(sorted(known))}."
            yield Flaw(f"/house_times/minutes/{_escaped(code)}", what)


def _escaped(code: str) -> str:
    """A code as a part of an RFC 6901 pointer."""
    return code.replace("~", "~0").replace("/", "~1")


def _usual(job: Job, code: str) -> TimePart | None:
    """The usual time of a step, over every class of tyre it may be; none where a rule of its own gives it."""
    of_class = {of: times for times in job.procedure.times for of in times.classes}
    found: list[StepTimes] = [of_class[of] for of in job.scene.classes if code in of_class[of].likely_minutes]
    if not found:
        return None
    if (house := _house(job, code, None)) is not None:
        return house
    spread = job.procedure.spread[0]
    likely = [times.likely_minutes[code] for times in found]
    return TimePart(
        code=code,
        low=tidy(min(likely) * spread.low_share),
        likely=likely[0],
        high=tidy(max(likely) * spread.high_share),
        only_if=None,
        basis=found[0].basis,
        source=job.procedure.source(found[0]),
        note=found[0].note,
    )


def _extra(job: Job, step: PickedStep, rule: ExtraTime, applied: Applied) -> TimePart:
    if (house := _house(job, rule.code, applied.only_if)) is not None:
        return house
    if rule.case is None:
        low, likely, high = rule.low_minutes or 0.0, rule.likely_minutes or 0.0, rule.high_minutes or 0.0
    else:
        span = hull([cure_minutes(job, job.channels[injury]) for injury, _ in step.at])
        low, likely, high = _three(span)
    return TimePart(
        code=rule.code,
        low=low,
        likely=likely,
        high=high,
        only_if=applied.only_if,
        basis=rule.basis,
        source=job.procedure.source(rule),
        note=rule.note,
    )


def _three(span: Interval) -> tuple[float, float, float]:
    return tidy(span.low), tidy((span.low + span.high) / 2.0), tidy(span.high)


def _house(job: Job, code: str, only_if: str | None) -> TimePart | None:
    given = job.house.minutes.get(code)
    if given is None:
        return None
    own = given if isinstance(given, HouseMinutes) else HouseMinutes(low=given, likely=given, high=given)
    return TimePart(
        code=code,
        low=own.low,
        likely=own.likely,
        high=own.high,
        only_if=only_if,
        basis="house_rule",
        source=HOUSE_TIME,
        note="",
    )


def _in_all(job: Job, step: PickedStep, parts: list[tuple[TimePart, Applied]]) -> Minutes:
    """Each part as often as the step is done."""
    if not step.rule.per_injury:
        sure = step.applied.holds == YES
        return total(_once(part, sure=sure and applied.holds == YES) for part, applied in parts)
    at_each = [
        total(_once(part, sure=holds == YES and applied.holds == YES) for part, applied in parts)
        for _, holds in step.at
    ]
    return _at_injuries(job, step, at_each)


def _once(part: TimePart, *, sure: bool) -> Minutes:
    return Minutes(low=part.low if sure else 0.0, likely=part.likely if sure else 0.0, high=part.high)


def _at_injuries(job: Job, step: PickedStep, at_each: list[Minutes]) -> Minutes:
    """A time for every injury that goes through; where none surely does, for one of them at the least."""
    times = dict(zip((injury for injury, _ in step.at), at_each, strict=True))
    high = tidy(sum(time.high for time in at_each))
    if job.surely_through:
        sure = total(time for injury, time in times.items() if injury in job.surely_through)
        return Minutes(low=sure.low, likely=sure.likely, high=high)
    presumed = [times.get(injury, NOTHING) for injury in job.channels]
    return Minutes(low=min(time.low for time in presumed), likely=presumed[0].likely, high=high)
