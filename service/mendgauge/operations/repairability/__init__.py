"""Whether a tyre may be repaired: the verdict, what speaks against it, what is missing, and what to do now.

The verdict is sound. It is firm only where every completion of what is unknown comes to the same; otherwise it is
`inspect`, and `possible_verdicts` lists all it may become.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from typing import Any, Final

from mendgauge.answers.base import rulebook_used
from mendgauge.answers.caution import Caution, cautions_for
from mendgauge.answers.finding import Finding, finding
from mendgauge.answers.near_limit import after_preparation, near_limits
from mendgauge.case.case import Case
from mendgauge.case.contract import Pointer
from mendgauge.case.house_rules import HouseRules
from mendgauge.core.errors import CaseError
from mendgauge.facts.tyre import TyreFacts
from mendgauge.intake.intake import take_in
from mendgauge.judging.assessment import Assessment, Judged, Key, assess, deciding, merge
from mendgauge.judging.exact import sharpen
from mendgauge.judging.questions import Ask, ToEstablish, fields_of_use, in_words, missing, rank
from mendgauge.judging.trial_answers import answers, put
from mendgauge.operations.repairability.answer import InjuryVerdict, Repairability
from mendgauge.rulebooks import Edition
from mendgauge.rules.engine import BoundRule
from mendgauge.rules.house import loosening
from mendgauge.rules.outcome import CAUTION, MET, Outcome, Verdict, join, lowest, possible_verdicts, settled
from mendgauge.wording import Wording, wording


def check_repairability(case: Case, today: date | None = None) -> Repairability:
    """Whether the tyre may be repaired under the case's rulebook.

    `today` stands in for a missing `assessed_on`. Raises `CaseError` for a case that contradicts itself or names a
    rulebook that is not there.
    """
    intake = take_in(case, today)
    case, edition, on = intake.case, intake.edition, intake.on
    assessed = [assess(case, use, edition, on) for use in intake.uses]
    if case.house_rules is not None:
        _check_house_rules(case.house_rules, edition, assessed)
    answer = _tell(case, edition, on, assessed)
    for one in assessed:
        one.facts.let_go()
    return answer


def _check_house_rules(house: HouseRules, edition: Edition, assessed: list[Assessment]) -> None:
    """Refuses a house rule that is looser than the book, whatever the vehicle turns out to be."""
    looser = [
        list(loosening(house, one.facts, one.rules.tyre + one.rules.injury, edition.reference)) for one in assessed
    ]
    always = tuple(flaw for flaw in looser[0] if all(flaw in others for others in looser[1:]))
    if always:
        raise CaseError(always)


def _tell(case: Case, edition: Edition, on: date, assessed: list[Assessment]) -> Repairability:
    words = wording(edition.book.language)
    possible = 0
    for one in assessed:
        possible |= sharpen(case, edition, on, one) if one.notable else one.possible
    verdicts = possible_verdicts(possible)
    firm, all_met = len(verdicts) == 1, possible == MET
    asks = () if firm else _asks(case, edition, on, assessed)
    questions = tuple(in_words(ask, words) for ask in asks) if asks else ()
    return Repairability(
        reference=case.reference,
        rulebook=rulebook_used(edition),
        assessed_on=on,
        verdict=verdicts[0] if firm else "inspect",
        possible_verdicts=verdicts,
        next_step=_FIRM_STEP[verdicts[0]] if firm else _next_step(verdicts, asks, questions),
        injuries=(_CLEAR,) * len(case.injuries or ()) if all_met else _injury_verdicts(case, assessed),
        findings=() if all_met and not case.explain else _findings(case, edition, assessed),
        to_establish=questions,
        cautions=_cautions(case, edition, verdicts, assessed, words),
        rules_checked=assessed[0].count_rules(),
    )


def _cautions(
    case: Case, edition: Edition, verdicts: tuple[Verdict, ...], assessed: list[Assessment], words: Wording
) -> tuple[Caution, ...]:
    first = assessed[0]
    cautions = cautions_for(first.rules, first.facts.yes_no, _surely_broken(first), words)
    if verdicts != ("repairable",):
        return cautions
    tight = near_limits(case, first, edition, words) + after_preparation(first, edition, words)
    return (*cautions, *tight) if tight else cautions


def _surely_broken(one: Assessment) -> frozenset[str]:
    if not one.notable:
        return _NOTHING
    return frozenset(judged.rule.name for judged in one.notable if settled(judged.found))


_NOTHING: Final[frozenset[str]] = frozenset()


_FIRM_STEP: Final = {"repairable": "repair", "specialist": "send_to_specialist", "not_repairable": "replace"}


def _next_step(verdicts: tuple[Verdict, ...], asks: tuple[Ask, ...], questions: tuple[ToEstablish, ...]) -> str:
    """What to do while more than one verdict is possible."""
    if any(ask.on_average > 0 and not question.demounted for ask, question in zip(asks, questions, strict=True)):
        return "ask_first"
    return "book_in" if verdicts[0] == "repairable" else "send_to_specialist"


def _asks(case: Case, edition: Edition, on: date, assessed: list[Assessment]) -> tuple[Ask, ...]:
    """The missing fields, most useful first. Where the use is not known, answers are tried on the first it may be."""
    first = assessed[0]
    rules = {rule.name: rule for rule, _ in first.each_rule()}
    of_use = fields_of_use([one.facts.use for one in assessed])
    fields = {
        key: (*(of_use if one.varies else ()), *missing(one.judged.rule.depends_on, one.judged.subject))
        for key, one in deciding(assessed).items()
    }

    def try_answers(field: Pointer) -> Iterable[Any]:
        return first.facts.marking_facts.kinds if field == _KIND else answers(field, first.facts)

    def settled_by(field: Pointer, answer: Any, keys: list[Key]) -> int:
        if field == _KIND:
            of_kind = merge([one for one in assessed if one.facts.kind == answer])
            return sum(key not in of_kind or settled(of_kind[key].judged.found) for key in keys)
        facts = TyreFacts(put(case, field, answer), first.facts.use, edition, on)
        return sum(settled(_judge_one(rules, facts, key)) for key in keys)

    return rank(fields, try_answers, settled_by)


_KIND: Final = "/vehicle/kind"


def _judge_one(rules: dict[str, BoundRule[Any]], facts: TyreFacts, key: Key) -> Outcome:
    name, index = key
    rule = rules.get(name)
    if rule is None:
        return MET
    return rule.outcome(facts if index is None else facts.injuries[index])


_CLEAR: Final = InjuryVerdict(verdict="repairable", possible_verdicts=("repairable",))


def _injury_verdicts(case: Case, assessed: list[Assessment]) -> tuple[InjuryVerdict, ...]:
    verdicts = []
    for index in range(len(case.injuries or ())):
        possible = 0
        for one in assessed:
            floor = union = MET
            for judged in one.notable:
                if judged.key[1] == index:
                    floor = max(floor, lowest(judged.found))
                    union |= judged.found
            possible |= join(floor, union)
        found = possible_verdicts(possible)
        verdict = found[0] if len(found) == 1 else "inspect"
        verdicts.append(InjuryVerdict(verdict=verdict, possible_verdicts=found))
    return tuple(verdicts)


def _findings(case: Case, edition: Edition, assessed: list[Assessment]) -> tuple[Finding, ...]:
    words = wording(edition.book.language)
    judged = [merged.judged for merged in merge(assessed).values()]
    if case.explain:
        told = {one.key for one in judged}
        everything = (Judged(rule, subject, MET) for rule, subject in assessed[0].each_rule())
        judged += [met for met in everything if met.key not in told]
    else:
        judged = [one for one in judged if settled(one.found) or one.found > 2 * CAUTION - 1]
    judged.sort(key=_gravity, reverse=True)
    return tuple(finding(one.rule, one.subject, one.found, edition, words) for one in judged)


def _gravity(judged: Judged) -> tuple[int, Outcome]:
    """Broken before open before met, the gravest of each first."""
    if judged.found == MET:
        return 0, MET
    return (2 if settled(judged.found) else 1), judged.found
