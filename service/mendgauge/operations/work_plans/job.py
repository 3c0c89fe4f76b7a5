"""A job: the case with its verdict, units and trims settled, at the bench where it is done."""

from __future__ import annotations

from functools import cached_property
from typing import Final

from mendgauge.case.shop import HouseTimes
from mendgauge.core.interval import Interval
from mendgauge.facts.tyre import TyreFacts
from mendgauge.operations.if_it_passes import if_it_passes
from mendgauge.operations.repair_units.answer import InjuryUnit
from mendgauge.operations.repair_units.units import units_of
from mendgauge.operations.repairability.offer import offer_for
from mendgauge.operations.repairability.verdict import verdict_of
from mendgauge.operations.stem_trim.answer import StemTrim
from mendgauge.operations.stem_trim.trims import trims_of
from mendgauge.operations.work_plans.conditions import NO_BENCH, JobConditions, conditions_of
from mendgauge.operations.work_plans.drying import climate_at
from mendgauge.operations.workup import Workup, part
from mendgauge.rulebooks import Edition
from mendgauge.rulebooks.schema.procedure import Procedure

_NO_TIMES: Final = HouseTimes()


class Job:
    """All that a plan is made from. What only its figures need is asked for when they are reckoned."""

    def __init__(self, workup: Workup) -> None:
        case = workup.case
        self._workup = workup
        self.uses = workup.uses
        self.bound = workup.bound
        self.edition: Edition = workup.edition
        self.procedure: Procedure = workup.edition.procedure
        self.facts: TyreFacts = if_it_passes(workup).facts[0]
        self.house = case.house_times or _NO_TIMES
        self.climate = climate_at(case.bench or NO_BENCH, workup.edition)
        self.offer = offer_for(verdict_of(workup))

    @cached_property
    def channels(self) -> dict[int, InjuryUnit]:
        """What was chosen for each injury that may go through."""
        return {unit.injury: unit for unit in units_of(self._workup).injuries if unit.goes_through != "no"}

    @cached_property
    def trims(self) -> dict[int, StemTrim]:
        """The cuts of the stem at each injury."""
        return {trim.injury: trim for trim in trims_of(self._workup).injuries}

    @cached_property
    def lean_given(self) -> frozenset[int]:
        """The injuries whose lean the case has."""
        return frozenset(
            [injury.index for injury in self._workup.facts[0].injuries if injury.given.lean_deg is not None]
        )

    @cached_property
    def conditions(self) -> JobConditions:
        """The circumstances of the job; where no repair is on offer, no unit is chosen on which they could hang."""
        chosen = {} if self.offer == "withheld" else {index: unit.choices for index, unit in self.channels.items()}
        return conditions_of(self.uses, self.facts, self.edition, self.climate, chosen)

    @property
    def without_unit(self) -> bool:
        """Whether for some channel no unit fits, however what is open turns out."""
        return any(
            unit.choices and all(choice.chosen is None for choice in unit.choices) for unit in self.channels.values()
        )


@part
def job_of(workup: Workup) -> Job:
    """Return the job that a case comes to."""
    return Job(workup)


def hull(spans: list[Interval]) -> Interval:
    """Return the smallest interval that holds all of some intervals, of which there is at least one."""
    return Interval(min(span.low for span in spans), max(span.high for span in spans))
