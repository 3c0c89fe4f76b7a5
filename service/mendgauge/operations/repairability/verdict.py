"""The verdict on a tyre and on each injury, with the next step."""

from __future__ import annotations

from typing import Final

from msgspec.structs import replace

from mendgauge.answers.bound_edition import BoundEdition
from mendgauge.answers.caution import Caution, cautions_for, words_not_read
from mendgauge.answers.citation import sources_of
from mendgauge.answers.finding import Finding, findings, findings_of_note
from mendgauge.answers.near_limit import after_preparation, near_limits
from mendgauge.core.interval import EITHER, YES
from mendgauge.judging.assessment import every_rule
from mendgauge.judging.exact import sharpen
from mendgauge.operations.repairability.answer import InjuryVerdict, Repairability
from mendgauge.operations.repairability.asking import NO_QUESTIONS, Questions, questions_of
from mendgauge.operations.repairability.assessed import assessed_of, notable_of
from mendgauge.operations.repairability.until_then import until_then_of
from mendgauge.operations.repairability.without_repair import without_repair
from mendgauge.operations.workup import Workup, part
from mendgauge.rules.outcome import (
    CAUTION,
    MET,
    NOT_HERE,
    SETTLED,
    Outcome,
    Verdict,
    join,
    lowest,
    possible_verdicts,
)
from mendgauge.rules.repair.history import RUN_LOW, SEALANT

_FIRM_STEP: Final = {
    "repairable": "repair",
    "specialist": "send_to_specialist",
    "not_covered": "ask_the_maker",
    "not_repairable": "replace",
}

_OF_A_REPAIR: Final = frozenset({"maker_silent", "speed_rating"})
"""Cautions that say nothing to whoever scraps the tyre."""


@part
def verdict_of(workup: Workup) -> Repairability:
    """Return the verdict on a case, and all that goes with it."""
    case, bound, assessed = workup.case, workup.bound, assessed_of(workup)
    possible = sharpen(case, workup.edition, workup.on, assessed)
    verdicts = possible_verdicts(possible)
    firm, all_met = len(verdicts) == 1, possible == MET
    questions = questions_of(workup) if not firm or _position_open(possible) else NO_QUESTIONS
    step = without_repair(workup) or _next_step(verdicts, possible, questions)
    found = () if all_met and not bound.full else _findings(workup)
    if found and any(tyre.single != YES for tyre in workup.facts):
        found = tuple([_with_the_mate(one, bound) for one in found])
    if verdicts == ("not_repairable",):
        found = tuple(map(_without_work_on_the_tyre, found))
    cautions = _cautions(workup, verdicts)
    return Repairability(
        reference=case.reference,
        codes=case.codes or {},
        rulebook=bound.used,
        assessed_on=workup.on,
        verdict=verdicts[0] if firm else "inspect",
        possible_verdicts=verdicts,
        next_step=step,
        otherwise=_if_nobody_can_be_asked(verdicts) if step == "ask_first" else step,
        injuries=_injury_verdicts(workup) if bound.full else (),
        findings=found,
        until_then=until_then_of(workup),
        to_establish=questions.to_establish,
        cautions=cautions,
        rules_checked=assessed[0].count_rules() if bound.full else None,
        sources=sources_of(found),
    )


def _position_open(possible: Outcome) -> bool:
    """Return whether a tyre may be repaired, and it is open whether it may run in its position afterwards."""
    return bool(possible & NOT_HERE and possible & (MET | CAUTION))


def _next_step(verdicts: tuple[Verdict, ...], possible: Outcome, questions: Questions) -> str:
    """Return what to do now: to ask first only where an answer may decide it.

    A tyre that may not run in its position is repaired for another.
    """
    if len(verdicts) > 1:
        return "ask_first" if questions.may_decide else _if_nobody_can_be_asked(verdicts)
    if verdicts[0] == "repairable" and possible & NOT_HERE:
        return "ask_first" if _position_open(possible) else "repair_for_another_position"
    return _FIRM_STEP[verdicts[0]]


def _if_nobody_can_be_asked(verdicts: tuple[Verdict, ...]) -> str:
    return "book_in" if verdicts[0] == "repairable" else _FIRM_STEP[verdicts[0]]


def _injury_verdicts(workup: Workup) -> tuple[InjuryVerdict, ...]:
    possible = [0] * len(workup.case.injuries or ())
    for one in assessed_of(workup):
        floors, unions = [MET] * len(possible), [MET] * len(possible)
        for judged in one.notable:
            index = judged.key[1]
            if index is not None and index < len(possible):
                floors[index] = max(floors[index], lowest(judged.found))
                unions[index] |= judged.found
        possible = [found | join(floor, union) for found, floor, union in zip(possible, floors, unions, strict=True)]
    verdicts = map(possible_verdicts, possible)
    return tuple(
        InjuryVerdict(verdict=found[0] if len(found) == 1 else "inspect", possible_verdicts=found) for found in verdicts
    )


def _findings(workup: Workup) -> tuple[Finding, ...]:
    """Return every rule; in a brief answer those broken, and those open with a verdict at stake that say why."""
    notable, bound = notable_of(workup), workup.bound
    if bound.full:
        return findings(every_rule(assessed_of(workup), notable), bound)
    return findings_of_note(notable, bound)


def _with_the_mate(found: Finding, bound: BoundEdition) -> Finding:
    """Return a finding on a tyre that may run in a dual pair, with what to do about its mate."""
    advice, mate = found.advice, bound.words.findings[found.rule].mate
    if advice is None or not mate:
        return found
    vehicle = mate if advice.vehicle is None else f"{advice.vehicle} {mate}"
    return replace(found, advice=replace(advice, vehicle=vehicle))


def _without_work_on_the_tyre(found: Finding) -> Finding:
    """Return a caution without how the tyre is repaired in spite of it; any other finding as it is."""
    if found.effect != "caution" or found.advice is None or found.advice.tyre is None:
        return found
    left = replace(found.advice, tyre=None)
    return replace(found, advice=left if left.vehicle or left.operation else None)


def _cautions(workup: Workup, verdicts: tuple[Verdict, ...]) -> tuple[Caution, ...]:
    first, bound = assessed_of(workup)[0], workup.bound
    broken = [one.rule.name for one in first.notable.own if one.found in SETTLED]
    cautions = cautions_for(
        first.rules,
        bound,
        maker_silent=first.facts.maker_permits == EITHER,
        run_low=RUN_LOW.name in broken,
        sealant=SEALANT.name in broken,
    )
    if verdicts == ("not_repairable",):
        return tuple([one for one in cautions if one.code not in _OF_A_REPAIR])
    if unread := first.facts.marking_facts.marking.unread:
        cautions = (*cautions, words_not_read(unread, bound))
    if verdicts != ("repairable",):
        return cautions
    tight = near_limits(workup.case, first, bound) + after_preparation(first, bound)
    return (*cautions, *tight) if tight else cautions
