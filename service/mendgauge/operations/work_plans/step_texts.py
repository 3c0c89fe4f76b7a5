"""What a book adds to a step: its figures, and the texts that quote them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import lru_cache
from typing import Final, TypeAlias

import msgspec

from mendgauge.answers.bound_edition import BoundEdition
from mendgauge.core.interval import NO
from mendgauge.operations.work_plans.answer import HoldPoint, StepParameter
from mendgauge.operations.work_plans.book_figures import Value, book_figures
from mendgauge.operations.work_plans.bound_procedure import at_step, bound_procedure
from mendgauge.operations.work_plans.conditions import JobConditions
from mendgauge.operations.work_plans.step_selection import (
    PLACE,
    Applied,
    PickedStep,
    apply,
    fill,
    quotable,
    step_parameter,
)
from mendgauge.rulebooks.provision import Basis, weakest
from mendgauge.rulebooks.schema.procedure import BookFigureRule, Hold, Said
from mendgauge.tyre.tyre_class import TyreClass

_RestsOn: TypeAlias = tuple[Basis, str]
"""How a line is known, and the document that it comes from."""


class Quoted(msgspec.Struct, frozen=True, eq=False):
    """The figures of a book at a step, and the circumstances that they hang on."""

    figures: tuple[StepParameter, ...]
    hangs_on: frozenset[str]


class StepTexts(msgspec.Struct, frozen=True, eq=False):
    """What is said at a step; `basis` is that of its weakest line, `source` names what all of them rest on."""

    do: tuple[str, ...]
    tools: tuple[str, ...]
    hold: HoldPoint | None
    basis: Basis
    source: str


_NOTHING_QUOTED: Final = Quoted((), frozenset())


def quote(bound: BoundEdition, conditions: JobConditions, step: PickedStep) -> Quoted:
    """Return the figures that a book gives at a step under some conditions."""
    quotes_on = at_step(bound.edition.procedure, step.rule).quotes_on
    return _NOTHING_QUOTED if quotes_on is None else _quote(bound, conditions.as_named(quotes_on), step)


@lru_cache(maxsize=2048)
def _quote(bound: BoundEdition, conditions: JobConditions, step: PickedStep) -> Quoted:
    figures = [
        one
        for rule in at_step(bound.edition.procedure, step.rule).book_figures
        for one in _book_figure(bound, conditions, step, rule)
    ]
    hangs_on = frozenset([name for _, applied in figures for name in applied.hangs_on])
    return Quoted(tuple([figure for figure, applied in figures if applied.holds != NO]), hangs_on)


def _book_figure(
    bound: BoundEdition, conditions: JobConditions, step: PickedStep, rule: BookFigureRule
) -> Iterator[tuple[StepParameter, Applied]]:
    """Yield one figure where every class that may apply has the same, else one for each."""
    by_value: dict[Value, list[TyreClass]] = {}
    for of in conditions.classes:
        value = book_figures(bound.edition, of, conditions.fill)[rule.book]
        if value is not None:
            by_value.setdefault(value, []).append(of)
    done_at = {index for index, _ in step.at}
    injuries = tuple([injury for injury in conditions.injuries if injury.index in done_at])
    words = bound_procedure(bound)
    for value, classes in by_value.items():
        applied = apply(words, conditions, tuple(classes), None, rule.when, injuries)
        yield step_parameter(rule.name, rule.title, value, applied.only_if, words), applied


def word_step(bound: BoundEdition, step: PickedStep, quoted: Quoted) -> StepTexts:
    """Return what is said at a step, with the figures of a book."""
    return _Worder(bound, step, quoted).word()


class _Worder:
    """Words one step, and keeps what its lines rest on."""

    def __init__(self, bound: BoundEdition, step: PickedStep, quoted: Quoted) -> None:
        self.bound = bound
        self.procedure = bound.edition.procedure
        self.step = step
        figures = (*quoted.figures, *step.parameters)
        self.places: Mapping[str, str] = quotable(figures)
        self.quoted: dict[str, list[_RestsOn]] = {}
        for one in figures:
            rests_on = self.quoted.setdefault(one.name, [])
            if one.basis is not None and one.source is not None:
                rests_on.append((one.basis, one.source))
        self.rests_on: list[_RestsOn] = [(step.rule.basis, self.procedure.source(step.rule))]

    def word(self) -> StepTexts:
        """Return what is said at the step."""
        do, tools = tuple(self._texts(self.step.do)), tuple(self._texts(self.step.tools))
        bases, sources = zip(*self.rests_on, strict=True)
        hold = None if self.step.rule.hold is None else self._hold(self.step.rule.hold)
        return StepTexts(do, tools, hold, weakest(bases), "; ".join(dict.fromkeys(sources)))

    def _filled(self, text: str) -> str:
        return self.bound.in_language(fill(text, self.places))

    def _texts(self, entries: tuple[tuple[Said, Applied], ...]) -> Iterator[str]:
        for said, applied in entries:
            if said.basis is not None:
                self.rests_on.append((said.basis, str(self.procedure.sources[str(said.source)])))
            for name in PLACE.findall(said.says):
                self.rests_on += self.quoted[name]
            text = self._filled(said.says)
            yield text if applied.only_if is None else f"If {applied.only_if}: {text[0].lower()}{text[1:]}"

    def _hold(self, hold: Hold) -> HoldPoint:
        return HoldPoint(
            checks=self._filled(hold.checks), right=self._filled(hold.right), if_not=self._filled(hold.if_not)
        )
