"""A job: the case with its verdict, units and trims settled, at the bench where it is done."""

from __future__ import annotations

from functools import cached_property
from typing import Final

from mendgauge.case.shop import Bench, HouseTimes
from mendgauge.core.interval import Interval
from mendgauge.facts.tyre import TyreFacts
from mendgauge.intake.intake import Intake
from mendgauge.operations.repair_units.answer import InjuryUnit, RepairUnits
from mendgauge.operations.stem_trim.answer import StemTrims
from mendgauge.operations.work_plans.conditions import JobConditions, scene_of
from mendgauge.operations.work_plans.drying import Climate
from mendgauge.rulebooks import Edition
from mendgauge.rulebooks.schema.procedure import Procedure

_NO_BENCH: Final = Bench()
_NO_TIMES: Final = HouseTimes()


class Job:
    """All that a plan is made from."""

    def __init__(self, intake: Intake, units: RepairUnits, trims: StemTrims) -> None:
        self.intake = intake
        self.edition: Edition = intake.edition
        self.procedure: Procedure = intake.edition.procedure
        self.facts: TyreFacts = intake.facts(intake.uses[0])
        self.bench = intake.case.bench or _NO_BENCH
        self.house = intake.case.house_times or _NO_TIMES
        self.climate = Climate(self.bench, self.procedure.drying[0])
        self.offer = units.offer
        self.channels: dict[int, InjuryUnit] = {
            unit.injury: unit for unit in units.injuries if unit.goes_through != "no"
        }
        self.trims = {trim.injury: trim for trim in trims.injuries}

    @cached_property
    def conditions(self) -> JobConditions:
        """The circumstances of the job."""
        return scene_of(
            self.intake.uses,
            self.facts,
            self.edition,
            self.intake.case.position,
            self.bench,
            self.climate,
            self.channels,
        )

    @property
    def without_unit(self) -> bool:
        """Whether for some channel no unit fits, however what is open turns out."""
        return any(
            unit.choices and all(choice.chosen is None for choice in unit.choices) for unit in self.channels.values()
        )


def hull(spans: list[Interval]) -> Interval:
    """The smallest interval that holds all of some intervals, of which there is at least one."""
    return Interval(min(span.low for span in spans), max(span.high for span in spans))
