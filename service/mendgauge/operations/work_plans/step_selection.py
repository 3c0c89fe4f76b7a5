"""Which steps a job has, and what is said at each: a pure function of the procedure and the conditions.

What surely holds is said outright, what surely does not is left out, and what is open is said with what it hangs on.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from functools import lru_cache
from typing import Final

import msgspec

from mendgauge.core.interval import NO, YES, Truth, both
from mendgauge.core.vocabulary import VehicleKind
from mendgauge.operations.work_plans.answer import CautionAtStep, StepParameter
from mendgauge.operations.work_plans.book_figures import Value, fixed
from mendgauge.operations.work_plans.bound_procedure import BoundProcedure, at_step
from mendgauge.operations.work_plans.conditions import USE, InjuryConditions, JobConditions, Named, named
from mendgauge.rulebooks.schema.procedure import (
    ALL_CLASSES,
    BookFigureRule,
    CaseFigureRule,
    CautionRule,
    Circumstance,
    ExtraTime,
    ParameterRule,
    Procedure,
    Said,
    StepRule,
)
from mendgauge.tyre.tyre_class import TyreClass
from mendgauge.wording import either_of

PLACE: Final = re.compile(r"{(\w+)}")
"""Where a text quotes a figure, by its name."""


class Applied(msgspec.Struct, frozen=True):
    """Whether something holds under some conditions; where that is open, what it hangs on, by name and in words."""

    holds: Truth
    hangs_on: tuple[str, ...] = ()
    only_if: str | None = None


class PickedStep(msgspec.Struct, frozen=True, eq=False):
    """A step of the job, as far as it hangs on the procedure and the circumstances: the same under every book.

    `at` says for a step done at each injury whether it is done there, `hangs_on` what it and its parts hang on; `do`
    and `tools` are what may be said of both; `parameters` the figures that the procedure itself gives.
    """

    rule: StepRule
    applied: Applied
    at: tuple[tuple[int, Truth], ...]
    title: str
    do: tuple[tuple[Said, Applied], ...]
    tools: tuple[tuple[Said, Applied], ...]
    cautions: tuple[CautionAtStep, ...]
    parameters: tuple[StepParameter, ...]
    figures: tuple[tuple[CaseFigureRule, Applied], ...]
    extra_times: tuple[tuple[ExtraTime, Applied], ...]
    hangs_on: frozenset[str]


def pick_step(bound: BoundProcedure, conditions: JobConditions, rule: StepRule) -> PickedStep | None:
    """Return a step under some conditions with all that is said at it; none where it is surely not done."""
    return _Picker(bound, conditions, rule).pick()


def named_at(procedure: Procedure, rule: StepRule) -> Named:
    """Return every circumstance that a step, or anything that is said at it, can hang on."""
    given = at_step(procedure, rule)
    rules: list[StepRule | Said | CautionRule | BookFigureRule | ParameterRule | CaseFigureRule | ExtraTime] = [
        rule,
        *given.do,
        *given.tools,
        *given.cautions,
        *given.book_figures,
        *given.parameters,
        *given.case_figures,
        *given.extra_times,
    ]
    return named({name for one in rules for name in one.when}, per_injury=rule.per_injury)


def apply(
    bound: BoundProcedure,
    conditions: JobConditions,
    classes: tuple[TyreClass, ...],
    kinds: tuple[VehicleKind, ...] | None,
    when: tuple[Circumstance, ...],
    injuries: tuple[InjuryConditions, ...] = (),
) -> Applied:
    """Return whether what is said for some tyres and circumstances holds under some conditions, at some injuries."""
    holds = conditions.applies_to(classes, kinds)
    open_names = [] if holds in (YES, NO) else [USE]
    for name in when:
        found = conditions.holds(name, injuries)
        holds = both(holds, found)
        if found not in (YES, NO):
            open_names.append(name)
    if holds in (YES, NO):
        return _SURE[holds]
    return Applied(holds, tuple(open_names), _only_if(bound, conditions, classes, kinds, open_names))


_SURE: Final = {YES: Applied(YES), NO: Applied(NO)}


def _only_if(
    bound: BoundProcedure,
    conditions: JobConditions,
    classes: tuple[TyreClass, ...],
    kinds: tuple[VehicleKind, ...] | None,
    open_names: list[str],
) -> str:
    procedure = bound.procedure
    reasons = []
    for name in open_names:
        if name != USE:
            reasons.append(procedure.when[name])  # type: ignore[index]
        elif conditions.applies_to(classes, None) != YES:
            reasons.append(
                procedure.says.of_class.format(classes=either_of([of for of in conditions.classes if of in classes]))
            )
        else:
            reasons.append(procedure.says.of_kind.format(kinds=either_of(kinds or ())))
    return bound.in_language(" and ".join(reasons))


class _Picker:
    """Picks one step from a procedure under some conditions, and keeps what its parts hang on."""

    def __init__(self, bound: BoundProcedure, conditions: JobConditions, rule: StepRule) -> None:
        self.bound = bound
        self.procedure = bound.procedure
        self.conditions = conditions
        self.rule = rule
        self.given = at_step(bound.procedure, rule)
        self.injuries: tuple[InjuryConditions, ...] = ()
        self.hangs_on: set[str] = set()

    def pick(self) -> PickedStep | None:
        """Return the step with all that is said at it; none where it is surely not done."""
        rule = self.rule
        at = tuple(self._at()) if rule.per_injury else ()
        self.injuries = tuple(injury for injury, _ in at)
        if rule.per_injury and not at:
            return None
        applied = self._applied(rule.classes, rule.kinds, rule.when)
        if applied.holds == NO:
            return None
        parameters = tuple(self._parameters())
        do, tools = self._texts()
        return PickedStep(
            rule,
            applied,
            tuple((injury.index, holds) for injury, holds in at),
            self.bound.in_language(rule.title),
            do,
            tools,
            tuple(self._cautions(quotable(parameters))),
            parameters,
            tuple(self._figures()),
            tuple(self._extra_times()),
            frozenset(self.hangs_on),
        )

    def _at(self) -> Iterator[tuple[InjuryConditions, Truth]]:
        for injury in self.conditions.injuries:
            holds = apply(
                self.bound, self.conditions, self.rule.classes, self.rule.kinds, self.rule.when, (injury,)
            ).holds
            if holds != NO:
                yield injury, holds

    def _applied(
        self,
        classes: tuple[TyreClass, ...] = ALL_CLASSES,
        kinds: tuple[VehicleKind, ...] | None = None,
        when: tuple[Circumstance, ...] = (),
    ) -> Applied:
        if not when and kinds is None and classes == ALL_CLASSES:
            return _SURE[YES]
        applied = apply(self.bound, self.conditions, classes, kinds, when, self.injuries)
        self.hangs_on.update(applied.hangs_on)
        return applied

    def _texts(self) -> tuple[tuple[tuple[Said, Applied], ...], tuple[tuple[Said, Applied], ...]]:
        """Return what may be said of what to do and of the tools; in outline nothing, though the step hangs on it."""
        if self.bound.outline:
            for said in self.given.conditional:
                self._applied(said.classes, None, said.when)
            return (), ()
        return tuple(self._said(self.given.do)), tuple(self._said(self.given.tools))

    def _said(self, entries: tuple[Said, ...]) -> Iterator[tuple[Said, Applied]]:
        for entry in entries:
            applied = self._applied(entry.classes, None, entry.when)
            if applied.holds != NO:
                yield entry, applied

    def _cautions(self, places: Mapping[str, str]) -> Iterator[CautionAtStep]:
        for rule in self.given.cautions:
            applied = self._applied(rule.classes, rule.kinds, rule.when)
            if applied.holds != NO:
                yield _caution(self.bound, rule, fill(rule.says, places), applied.only_if)

    def _parameters(self) -> Iterator[StepParameter]:
        for rule in self.given.parameters:
            applied = self._applied(rule.classes, rule.kinds, rule.when)
            if applied.holds != NO:
                yield step_parameter(rule.name, rule.title, fixed(self.procedure, rule), applied.only_if, self.bound)

    def _figures(self) -> Iterator[tuple[CaseFigureRule, Applied]]:
        for rule in self.given.case_figures:
            applied = self._applied(rule.classes, rule.kinds, rule.when)
            if applied.holds != NO:
                yield rule, applied

    def _extra_times(self) -> Iterator[tuple[ExtraTime, Applied]]:
        for rule in self.given.extra_times:
            applied = self._applied(rule.classes, rule.kinds, rule.when)
            if applied.holds != NO:
                yield rule, applied


@lru_cache(maxsize=512)
def _caution(bound: BoundProcedure, rule: CautionRule, says: str, only_if: str | None) -> CautionAtStep:
    provenance = bound.provenance(rule.basis, bound.procedure.source(rule))
    return CautionAtStep(
        code=rule.code,
        says=bound.in_language(says),
        only_if=only_if,
        basis=provenance.basis,
        source=provenance.source,
    )


def fill(text: str, places: Mapping[str, str]) -> str:
    """Return a text with figures in their places."""
    return PLACE.sub(lambda found: places[found[1]], text)


def quotable(parameters: Iterable[StepParameter]) -> dict[str, str]:
    """Return figures as a text quotes them, by name."""
    says: dict[str, dict[str, None]] = {}
    for parameter in parameters:
        says.setdefault(parameter.name, {})[parameter.says] = None
    return {name: " or ".join(values) for name, values in says.items()}


@lru_cache(maxsize=4096)
def step_parameter(name: str, title: str, value: Value, only_if: str | None, bound: BoundProcedure) -> StepParameter:
    """Return a figure as the answer gives it, in the words of the rulebook's country."""
    in_language = bound.in_language
    if not bound.full:
        return StepParameter(
            name=name,
            title=in_language(title),
            injury=value.injury,
            says=in_language(value.says),
            only_if=only_if,
        )
    return StepParameter(
        name=name,
        title=in_language(title),
        injury=value.injury,
        low=value.low,
        high=value.high,
        unit=value.unit,
        words=None if value.words is None else in_language(value.words),
        says=in_language(value.says),
        only_if=only_if,
        basis=value.basis,
        source=value.source,
        note=in_language(value.note),
    )
