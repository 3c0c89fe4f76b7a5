"""A procedure bound to a language and to a level of detail: what words a step, under every book that stands on it."""

from __future__ import annotations

from functools import lru_cache

import msgspec

from mendgauge.answers.bound_edition import NOTHING_CITED, BoundEdition
from mendgauge.answers.citation import Citation
from mendgauge.operations.work_plans.conditions import Named, named
from mendgauge.rulebooks.provision import Basis, Language
from mendgauge.rulebooks.schema.procedure import (
    ALL_CLASSES,
    BookFigureRule,
    CaseFigureRule,
    CautionRule,
    ExtraTime,
    ParameterRule,
    Procedure,
    Said,
    StepRule,
)
from mendgauge.wording import in_language


class BoundProcedure:
    """A procedure, the language that it is worded in, and how much of it is said. Compared by identity."""

    def __init__(self, procedure: Procedure, language: Language, *, full: bool, outline: bool) -> None:
        self.procedure = procedure
        self.full = full
        self.outline = outline
        self._language = language

    def in_language(self, text: str) -> str:
        """Return a British text in the spelling of the language."""
        return in_language(self._language, text)

    def provenance(self, basis: Basis, source: str) -> Citation:
        """Return what a full answer says of a source; a brief one says nothing."""
        return Citation(basis, source) if self.full else NOTHING_CITED


def bound_procedure(bound: BoundEdition) -> BoundProcedure:
    """Return the procedure of an edition as that words it: the same for all that stand on it in one language."""
    edition = bound.edition
    return _bound(edition.procedure, edition.book.language, full=bound.full, outline=bound.outline)


@lru_cache(maxsize=64)
def _bound(procedure: Procedure, language: Language, *, full: bool, outline: bool) -> BoundProcedure:
    return BoundProcedure(procedure, language, full=full, outline=outline)


class AtStep(msgspec.Struct, frozen=True, eq=False):
    """All that a procedure gives at one step, each in its order.

    `conditional` is what of `do` and `tools` is not said of every tyre; `quotes_on` are the circumstances that the
    figures of the book there hang on; none where it has none.
    """

    do: tuple[Said, ...]
    tools: tuple[Said, ...]
    conditional: tuple[Said, ...]
    book_figures: tuple[BookFigureRule, ...]
    parameters: tuple[ParameterRule, ...]
    case_figures: tuple[CaseFigureRule, ...]
    extra_times: tuple[ExtraTime, ...]
    cautions: tuple[CautionRule, ...]
    quotes_on: Named | None


def at_step(procedure: Procedure, rule: StepRule) -> AtStep:
    """Return what a procedure gives at one of its steps."""
    return _by_code(procedure)[rule.code]


@lru_cache(maxsize=16)
def _by_code(procedure: Procedure) -> dict[str, AtStep]:
    return {rule.code: _given_at(procedure, rule) for rule in procedure.steps}


def _given_at(procedure: Procedure, rule: StepRule) -> AtStep:
    code, by_code = rule.code, {caution.code: caution for caution in procedure.cautions}
    figures = tuple([one for one in procedure.book_figures if code in one.steps])
    hang_on = {name for one in figures for name in one.when}
    do, tools = tuple(map(_said, rule.do)), tuple(map(_said, rule.tools))
    return AtStep(
        do=do,
        tools=tools,
        conditional=tuple([one for one in (*do, *tools) if one.when or one.classes != ALL_CLASSES]),
        book_figures=figures,
        parameters=tuple([one for one in procedure.parameters if code in one.steps]),
        case_figures=tuple([one for one in procedure.case_figures if code in one.steps]),
        extra_times=tuple([one for one in procedure.extra_times if one.step == code]),
        cautions=tuple([by_code[caution] for caution in rule.cautions]),
        quotes_on=named(hang_on, per_injury=rule.per_injury) if figures else None,
    )


def _said(entry: str | Said) -> Said:
    return entry if isinstance(entry, Said) else Said(says=entry)
