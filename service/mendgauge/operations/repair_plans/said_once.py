"""A brief plan says everything once: its parts without what the plan, its verdict or an earlier part says already."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from msgspec.structs import replace

from mendgauge.answers.base import RulebookUsed
from mendgauge.answers.caution import Caution
from mendgauge.operations.outline import MOST_ASKED
from mendgauge.operations.quotes.answer import Quote
from mendgauge.operations.repair_units.answer import InjuryUnit, RepairUnits
from mendgauge.operations.repairability.answer import Repairability
from mendgauge.operations.service_limits.answer import ServiceLimits
from mendgauge.operations.stem_trim.answer import StemTrims
from mendgauge.operations.work_plans.answer import WorkPlan


class SaidOnce:
    """What of a plan was said already. Its parts are to be asked for in the order in which they are read."""

    def __init__(self, verdict: Repairability) -> None:
        self._of_plan: dict[str, Any] = {
            "reference": None,
            "codes": {},
            "sources": {},
            "rulebook": RulebookUsed(id=verdict.rulebook.id, edition=verdict.rulebook.edition),
        }
        self._cautions = set(verdict.cautions)
        self._asked = {one.field for one in verdict.to_establish}

    def verdict(self, part: Repairability) -> Repairability:
        """Return the verdict without what the plan says."""
        return replace(part, **self._of_plan)

    def units(self, part: RepairUnits | None) -> RepairUnits | None:
        """Return the units; how each channel is prepared is what `choose_repair_units` answers."""
        if part is None:
            return None
        return replace(
            part,
            **self._of_plan,
            decided_by=(),
            injuries=tuple(_at_the_counter(unit) for unit in part.injuries),
            cautions=self._new(part.cautions),
            to_establish=self._first(part.to_establish),
        )

    def trims(self, part: StemTrims | None) -> StemTrims | None:
        """Return the trims."""
        if part is None:
            return None
        cautions, asked = self._new(part.cautions), self._first(part.to_establish)
        return replace(part, **self._of_plan, decided_by=(), cautions=cautions, to_establish=asked)

    def limits(self, part: ServiceLimits | None) -> ServiceLimits | None:
        """Return the limits."""
        if part is None:
            return None
        return replace(part, **self._of_plan, to_establish=self._first(part.to_establish))

    def work(self, part: WorkPlan | None) -> WorkPlan | None:
        """Return the work by its steps and minutes; how each is done is what `plan_work` answers."""
        if part is None:
            return None
        return replace(part, **self._of_plan, to_establish=self._first(part.to_establish))

    def quote(self, part: Quote | None) -> Quote | None:
        """Return the quote with every caveat, as they are printed together."""
        if part is None:
            return None
        return replace(part, **self._of_plan, decided_by=(), to_establish=self._first(part.to_establish))

    def _new(self, cautions: Iterable[Caution]) -> tuple[Caution, ...]:
        new = tuple([one for one in cautions if one not in self._cautions])
        self._cautions.update(new)
        return new

    def _first(self, questions: Iterable[Any]) -> tuple[Any, ...]:
        left = MOST_ASKED - len(self._asked)
        if left <= 0:
            return ()
        new = tuple([one for one in questions if one.field not in self._asked][:left])
        self._asked.update([one.field for one in new])
        return new


def _at_the_counter(unit: InjuryUnit) -> InjuryUnit:
    """Return a unit as it is taken from the shelf; what the bench works by is what `choose_repair_units` answers."""
    choices = [
        one
        if one.chosen is None
        else replace(one, needed=None, chosen=replace(one.chosen, arrows=None, buffed=None, hangs_on=()))
        for one in unit.choices
    ]
    return replace(unit, preparation=None, choices=tuple(choices))
