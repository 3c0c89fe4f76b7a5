"""Which steps a job has, and what is said at each: a pure function of the procedure and the conditions.

What surely holds is said outright, what surely does not is left out, and what is open is said with what it hangs on.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Final, TypeAlias

import msgspec

from mendgauge.answers.bound_edition import BoundEdition
from mendgauge.core.interval import NO, YES, Truth, both
from mendgauge.core.vocabulary import VehicleKind
from mendgauge.operations.work_plans.answer import CautionAtStep, HoldPoint, StepParameter
from mendgauge.operations.work_plans.book_figures import Value, book_figures, fixed
from mendgauge.operations.work_plans.conditions import USE, InjuryConditions, JobConditions, Named, named
from mendgauge.rulebooks.provision import Basis, weakest
from mendgauge.rulebooks.schema.procedure import (
    ALL_CLASSES,
    BookFigureRule,
    CaseFigureRule,
    CautionRule,
    Circumstance,
    ExtraTime,
    Hold,
    ParameterRule,
    Procedure,
    Said,
    StepRule,
)
from mendgauge.tyre.tyre_class import TyreClass
from mendgauge.wording import either_of

RestsOn: TypeAlias = tuple[Basis, str]
"""How a line is known, and the document that it comes from."""

_PLACE: Final = re.compile(r"{(\w+)}")


class Applied(msgspec.Struct, frozen=True):
    """Whether something holds under some conditions; where that is open, what it hangs on, by name and in words."""

    holds: Truth
    hangs_on: tuple[str, ...] = ()
    only_if: str | None = None


class PickedStep(msgspec.Struct, frozen=True, eq=False):
    """A step of the job, as far as it does not hang on the case's own figures.

    `at` says for a step done at each injury whether it is done there, `hangs_on` what it and its parts hang on; `basis`
    is that of its weakest line, `source` names what all of them rest on.
    """

    rule: StepRule
    applied: Applied
    at: tuple[tuple[int, Truth], ...]
    title: str
    do: tuple[str, ...]
    tools: tuple[str, ...]
    hold: HoldPoint | None
    cautions: tuple[CautionAtStep, ...]
    parameters: tuple[StepParameter, ...]
    figures: tuple[tuple[CaseFigureRule, Applied], ...]
    extra_times: tuple[tuple[ExtraTime, Applied], ...]
    hangs_on: frozenset[str]
    basis: Basis
    source: str


def pick_step(bound: BoundEdition, conditions: JobConditions, rule: StepRule) -> PickedStep | None:
    """Return a step under some conditions with all that is said at it; none where it is surely not done."""
    return _Picker(bound, conditions, rule).pick()


def named_at(procedure: Procedure, rule: StepRule) -> Named:
    """Return every circumstance that a step, or anything that is said at it, can hang on."""
    rules: list[StepRule | Said | CautionRule | BookFigureRule | ParameterRule | CaseFigureRule | ExtraTime] = [
        rule,
        *(one for one in (*rule.do, *rule.tools) if isinstance(one, Said)),
        *(one for one in procedure.cautions if one.code in rule.cautions),
        *(one for one in procedure.book_figures if rule.code in one.steps),
        *(one for one in procedure.parameters if rule.code in one.steps),
        *(one for one in procedure.case_figures if rule.code in one.steps),
        *(one for one in procedure.extra_times if one.step == rule.code),
    ]
    return named({name for one in rules for name in one.when}, per_injury=rule.per_injury)


def apply(
    bound: BoundEdition,
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
    bound: BoundEdition,
    conditions: JobConditions,
    classes: tuple[TyreClass, ...],
    kinds: tuple[VehicleKind, ...] | None,
    open_names: list[str],
) -> str:
    procedure = bound.edition.procedure
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

    def __init__(self, bound: BoundEdition, conditions: JobConditions, rule: StepRule) -> None:
        self.bound = bound
        self.procedure = bound.edition.procedure
        self.conditions = conditions
        self.rule = rule
        self.injuries: tuple[InjuryConditions, ...] = ()
        self.hangs_on: set[str] = set()
        self.quoted: dict[str, list[RestsOn]] = {}
        self.rests_on: list[RestsOn] = [(rule.basis, self.procedure.source(rule))]

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
        says: dict[str, list[str]] = {}
        for parameter in parameters:
            says.setdefault(parameter.name, []).append(parameter.says)
            rests_on = self.quoted.setdefault(parameter.name, [])
            if parameter.basis is not None and parameter.source is not None:
                rests_on.append((parameter.basis, parameter.source))
        places = {name: " or ".join(dict.fromkeys(values)) for name, values in says.items()}
        do, tools = tuple(self._texts(rule.do, places)), tuple(self._texts(rule.tools, places))
        hold = None if self.bound.outline else self._hold(rule.hold, places)
        bases, sources = zip(*self.rests_on, strict=True)
        return PickedStep(
            rule,
            applied,
            tuple((injury.index, holds) for injury, holds in at),
            self.bound.in_language(rule.title),
            do,
            tools,
            hold,
            tuple(self._cautions(places)),
            parameters,
            tuple(self._figures()),
            tuple(self._extra_times()),
            frozenset(self.hangs_on),
            weakest(bases),
            "; ".join(dict.fromkeys(sources)),
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
        applied = apply(self.bound, self.conditions, classes, kinds, when, self.injuries)
        self.hangs_on.update(applied.hangs_on)
        return applied

    def _filled(self, text: str, places: dict[str, str]) -> str:
        return self.bound.in_language(_PLACE.sub(lambda found: places[found[1]], text))

    def _texts(self, entries: tuple[str | Said, ...], places: dict[str, str]) -> Iterator[str]:
        """Yield what is said; in outline nothing, though the step hangs on the same."""
        for entry in entries:
            said = entry if isinstance(entry, Said) else Said(says=entry)
            applied = _SURE[YES] if said is not entry else self._applied(said.classes, None, said.when)
            if applied.holds == NO or self.bound.outline:
                continue
            if said.basis is not None:
                self.rests_on.append((said.basis, str(self.procedure.sources[str(said.source)])))
            for name in _PLACE.findall(said.says):
                self.rests_on += self.quoted[name]
            text = self._filled(said.says, places)
            yield text if applied.only_if is None else f"If {applied.only_if}: {text[0].lower()}{text[1:]}"

    def _hold(self, hold: Hold | None, places: dict[str, str]) -> HoldPoint | None:
        if hold is None:
            return None
        return HoldPoint(
            checks=self._filled(hold.checks, places),
            right=self._filled(hold.right, places),
            if_not=self._filled(hold.if_not, places),
        )

    def _cautions(self, places: dict[str, str]) -> Iterator[CautionAtStep]:
        rules = {rule.code: rule for rule in self.procedure.cautions}
        for code in self.rule.cautions:
            rule: CautionRule = rules[code]
            applied = self._applied(rule.classes, rule.kinds, rule.when)
            if applied.holds != NO:
                provenance = self.bound.provenance(rule.basis, self.procedure.source(rule))
                yield CautionAtStep(
                    code=code,
                    says=self._filled(rule.says, places),
                    only_if=applied.only_if,
                    basis=provenance.basis,
                    source=provenance.source,
                )

    def _parameters(self) -> Iterator[StepParameter]:
        for book_rule in self.procedure.book_figures:
            if self.rule.code in book_rule.steps:
                yield from self._book_figure(book_rule)
        for rule in self.procedure.parameters:
            if self.rule.code in rule.steps:
                applied = self._applied(rule.classes, rule.kinds, rule.when)
                if applied.holds != NO:
                    yield step_parameter(
                        rule.name, rule.title, fixed(self.bound.edition, rule), applied.only_if, self.bound
                    )

    def _book_figure(self, rule: BookFigureRule) -> Iterator[StepParameter]:
        """Yield one figure where every class that may apply has the same, else one for each."""
        by_value: dict[Value, list[TyreClass]] = {}
        for of in self.conditions.classes:
            value = book_figures(self.bound.edition, of, self.conditions.fill)[rule.book]
            if value is not None:
                by_value.setdefault(value, []).append(of)
        for value, classes in by_value.items():
            applied = self._applied(tuple(classes), None, rule.when)
            if applied.holds != NO:
                yield step_parameter(rule.name, rule.title, value, applied.only_if, self.bound)

    def _figures(self) -> Iterator[tuple[CaseFigureRule, Applied]]:
        for rule in self.procedure.case_figures:
            if self.rule.code in rule.steps:
                applied = self._applied(rule.classes, rule.kinds, rule.when)
                if applied.holds != NO:
                    yield rule, applied

    def _extra_times(self) -> Iterator[tuple[ExtraTime, Applied]]:
        for rule in self.procedure.extra_times:
            if rule.step == self.rule.code:
                applied = self._applied(rule.classes, rule.kinds, rule.when)
                if applied.holds != NO:
                    yield rule, applied


def step_parameter(name: str, title: str, value: Value, only_if: str | None, bound: BoundEdition) -> StepParameter:
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
