"""Whether a tyre may be repaired: the verdict, what speaks against it, what is missing, and what to do now.

The verdict is sound. It is firm only where every completion of what is unknown comes to the same; otherwise it is
`inspect`, and `possible_verdicts` lists all it may become.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import UTC, date, datetime
from functools import lru_cache
from typing import Annotated, Any, Final

import msgspec
from msgspec import Meta

from mendgauge.case import Case, VehicleKind
from mendgauge.caution import Caution, cautions_for
from mendgauge.completion import answers, put
from mendgauge.consistency import check_case
from mendgauge.establish import Ask, Key, Pointer, ToEstablish, in_words, missing, rank
from mendgauge.facts import InjuryFacts, TyreFacts, frame_of
from mendgauge.finding import Finding, finding
from mendgauge.rulebooks import Edition
from mendgauge.rules import Rules, bind_rules
from mendgauge.rules.outcome import CAUTION, MET, Outcome, Verdict, join, lowest, possible_verdicts, settled
from mendgauge.rules.rule import Rule
from mendgauge.wording import wording


class RulebookUsed(msgspec.Struct, frozen=True, kw_only=True):
    """The rulebook edition an answer rests on."""

    id: Annotated[str, Meta(description="The rulebook.", examples=["gb"])]
    edition: Annotated[str, Meta(description="Its edition.", examples=["2026.1"])]
    digest: Annotated[str, Meta(description="Digest of the edition's content.", examples=["sha256:0f3a"])]


class InjuryVerdict(msgspec.Struct, frozen=True, kw_only=True):
    """What the rules on one injury come to, leaving those on the tyre aside."""

    verdict: Annotated[
        str, Meta(description="`repairable`, `specialist`, `not_repairable` or `inspect`.", examples=["inspect"])
    ]
    possible_verdicts: Annotated[
        tuple[str, ...], Meta(max_length=3, description="All it may become, best first.", examples=[["repairable"]])
    ]


class Repairability(msgspec.Struct, frozen=True, kw_only=True):
    """Whether the tyre may be repaired under the rulebook, as far as the case is known."""

    reference: Annotated[str | None, Meta(description="The caller's own name for the case.")]
    rulebook: RulebookUsed
    assessed_on: Annotated[date, Meta(description="The day the case was judged on.")]
    verdict: Annotated[
        str,
        Meta(
            description="`repairable`, `specialist`, `not_repairable`; `inspect` while more than one is possible.",
            examples=["inspect"],
        ),
    ]
    possible_verdicts: Annotated[
        tuple[str, ...],
        Meta(
            max_length=3,
            description="Every verdict that a completion of the unknown facts can bring, best first.",
            examples=[["repairable", "specialist"]],
        ),
    ]
    next_step: Annotated[
        str,
        Meta(
            description="What to do now: `ask_first` (a roadside question may yet decide), `book_in` (the bench "
            "settles the rest), `repair`, `send_to_specialist` or `replace`.",
            examples=["book_in"],
        ),
    ]
    injuries: Annotated[
        tuple[InjuryVerdict, ...], Meta(max_length=20, description="One for each injury, in the order of the case.")
    ]
    findings: Annotated[
        tuple[Finding, ...],
        Meta(max_length=1000, description="Rules broken or open, the gravest first; those met too if asked for."),
    ]
    to_establish: Annotated[
        tuple[ToEstablish, ...],
        Meta(max_length=1000, description="Missing facts that may change the verdict, most useful question first."),
    ]
    cautions: Annotated[tuple[Caution, ...], Meta(max_length=50, description="What whoever acts on this must know.")]
    rules_checked: Annotated[int, Meta(description="How many rules were checked.", examples=[31])]


class Judged(msgspec.Struct, frozen=True, gc=False):
    """What one rule came to for one subject."""

    rule: Rule[Any]
    subject: Any
    found: Outcome

    @property
    def key(self) -> Key:
        return self.rule.name, self.subject.index if isinstance(self.subject, InjuryFacts) else None


class Assessment(msgspec.Struct, frozen=True):
    """A case judged for one kind of vehicle: what is not simply met, and what all of it comes to."""

    facts: TyreFacts
    rules: Rules
    notable: tuple[Judged, ...]
    floor: Outcome
    possible: Outcome


def check_repairability(case: Case, today: date | None = None) -> Repairability:
    """Whether the tyre may be repaired under the case's rulebook.

    `today` stands in for a missing `assessed_on`. Raises `CaseError` for a case that contradicts itself or names a
    rulebook that is not there.
    """
    on = case.assessed_on or today or datetime.now(tz=UTC).date()
    edition = check_case(case, on)
    kinds = kinds_of(case)
    assessed = [assess(case, kind, edition, on) for kind in kinds]
    return _tell(case, edition, on, assessed)


def kinds_of(case: Case) -> tuple[VehicleKind, ...]:
    """The kinds of vehicle the tyre may be on: the one given, or all that run on such a tyre."""
    if case.vehicle is not None and case.vehicle.kind is not None:
        return (case.vehicle.kind,)
    return tuple(frame_of(case.tyre.marking).classes)


def assess(case: Case, kind: VehicleKind, edition: Edition, on: date) -> Assessment:
    """Judges a case by every rule, for a vehicle of one kind."""
    facts = TyreFacts(case, kind, edition, on)
    rules = bind_rules(edition, kind, facts.frame, on)
    floor = union = MET
    notable = []
    for rule in rules.tyre:
        found = rule.judge(facts)
        if found != MET:
            notable.append(Judged(rule, facts, found))
            floor = max(floor, lowest(found))
            union |= found
    for injury in facts.injuries:
        for injury_rule in rules.injury:
            found = injury_rule.judge(injury)
            if found != MET:
                notable.append(Judged(injury_rule, injury, found))
                floor = max(floor, lowest(found))
                union |= found
    return Assessment(facts, rules, tuple(notable), floor, join(floor, union))


def _tell(case: Case, edition: Edition, on: date, assessed: list[Assessment]) -> Repairability:
    words = wording(edition.book.language)
    possible = 0
    for one in assessed:
        possible |= one.possible
    verdicts = possible_verdicts(possible)
    asks = _asks(case, edition, on, assessed) if len(verdicts) > 1 else ()
    questions = tuple(in_words(ask, words) for ask in asks)
    facts = assessed[0].facts
    return Repairability(
        reference=case.reference,
        rulebook=_rulebook_used(edition),
        assessed_on=on,
        verdict=_verdict(verdicts),
        possible_verdicts=verdicts,
        next_step=_next_step(verdicts, asks, questions),
        injuries=_injury_verdicts(assessed) if case.injuries is not None else (),
        findings=_findings(case, edition, assessed),
        to_establish=questions,
        cautions=cautions_for(facts, assessed[0].rules, _surely_broken(assessed[0]), words),
        rules_checked=len(assessed[0].rules.tyre) + len(assessed[0].rules.injury) * len(facts.injuries),
    )


@lru_cache(maxsize=64)
def _rulebook_used(edition: Edition) -> RulebookUsed:
    return RulebookUsed(id=edition.book.id, edition=edition.book.edition, digest=edition.digest)


def _surely_broken(one: Assessment) -> set[str]:
    return {judged.rule.name for judged in one.notable if settled(judged.found)}


def _verdict(verdicts: tuple[Verdict, ...]) -> Verdict:
    return verdicts[0] if len(verdicts) == 1 else "inspect"


_FIRM_STEP: Final = {"repairable": "repair", "specialist": "send_to_specialist", "not_repairable": "replace"}


def _next_step(verdicts: tuple[Verdict, ...], asks: tuple[Ask, ...], questions: tuple[ToEstablish, ...]) -> str:
    if len(verdicts) == 1:
        return _FIRM_STEP[verdicts[0]]
    if any(ask.on_average > 0 and not question.demounted for ask, question in zip(asks, questions, strict=True)):
        return "ask_first"
    return "book_in" if verdicts[0] == "repairable" else "send_to_specialist"


def _merged(assessed: list[Assessment]) -> dict[Key, Judged]:
    """What each rule came to over every kind of vehicle the tyre may be on; the gravest stands for all."""
    merged: dict[Key, Judged] = {}
    seen: dict[Key, int] = {}
    for one in assessed:
        for judged in one.notable:
            key = judged.key
            seen[key] = seen.get(key, 0) + 1
            other = merged.get(key)
            if other is None:
                merged[key] = judged
            else:
                grave = judged if judged.found > other.found else other
                merged[key] = Judged(grave.rule, grave.subject, judged.found | other.found)
    for key, judged in merged.items():
        if seen[key] < len(assessed):
            merged[key] = Judged(judged.rule, judged.subject, judged.found | MET)
    return merged


def _open_rules(assessed: list[Assessment]) -> dict[Key, Judged]:
    """The open rules that can still make the verdict worse than it must be."""
    floor = min(one.floor for one in assessed)
    return {
        key: judged
        for key, judged in _merged(assessed).items()
        if not settled(judged.found) and judged.found > 2 * floor - 1 and judged.found > 2 * CAUTION - 1
    }


def _asks(case: Case, edition: Edition, on: date, assessed: list[Assessment]) -> tuple[Ask, ...]:
    """The missing fields, most useful first. Where the vehicle is not known, answers are tried on its first kind."""
    open_rules = _open_rules(assessed)
    first = assessed[0]
    rules: dict[str, Rule[Any]] = {rule.name: rule for rule in first.rules.tyre}
    rules |= {rule.name: rule for rule in first.rules.injury}
    whole: tuple[Pointer, ...] = ("/vehicle/kind",) if len(assessed) > 1 else ()
    fields = {key: (*whole, *missing(judged.rule.looks_at, judged.subject)) for key, judged in open_rules.items()}

    def try_answers(field: Pointer) -> Iterable[Any]:
        return assessed if field == "/vehicle/kind" else answers(field, first.facts)

    def settled_by(field: Pointer, answer: Any, keys: list[Key]) -> int:
        if field == "/vehicle/kind":
            found = {judged.key: judged.found for judged in answer.notable}
            return sum(settled(found.get(key, MET)) for key in keys)
        facts = TyreFacts(put(case, field, answer), first.facts.kind, edition, on)
        return sum(settled(_judge_one(rules, facts, key)) for key in keys)

    return rank(fields, try_answers, settled_by)


def _judge_one(rules: dict[str, Rule[Any]], facts: TyreFacts, key: Key) -> Outcome:
    name, index = key
    rule = rules.get(name)
    if rule is None:
        return MET
    return rule.judge(facts if index is None else facts.injuries[index])


_CLEAR: Final = InjuryVerdict(verdict="repairable", possible_verdicts=("repairable",))


def _injury_verdicts(assessed: list[Assessment]) -> tuple[InjuryVerdict, ...]:
    if not any(one.notable for one in assessed):
        return (_CLEAR,) * len(assessed[0].facts.injuries)
    verdicts = []
    for index in range(len(assessed[0].facts.injuries)):
        possible = 0
        for one in assessed:
            floor = union = MET
            for judged in one.notable:
                if judged.key[1] == index:
                    floor = max(floor, lowest(judged.found))
                    union |= judged.found
            possible |= join(floor, union)
        found = possible_verdicts(possible)
        verdicts.append(InjuryVerdict(verdict=_verdict(found), possible_verdicts=found))
    return tuple(verdicts)


def _findings(case: Case, edition: Edition, assessed: list[Assessment]) -> tuple[Finding, ...]:
    words = wording(edition.book.language)
    judged = list(_merged(assessed).values())
    if not case.explain:
        judged = [one for one in judged if settled(one.found) or one.found > 2 * CAUTION - 1]
    judged.sort(key=_gravity, reverse=True)
    if case.explain:
        judged += _met(assessed)
    return tuple(finding(one.rule, one.subject, one.found, edition, words) for one in judged)


def _gravity(judged: Judged) -> tuple[bool, Outcome]:
    return settled(judged.found), judged.found


def _met(assessed: list[Assessment]) -> list[Judged]:
    notable = {judged.key for one in assessed for judged in one.notable}
    first = assessed[0]
    everything: list[Judged] = [Judged(rule, first.facts, MET) for rule in first.rules.tyre]
    everything += [Judged(rule, injury, MET) for injury in first.facts.injuries for rule in first.rules.injury]
    return [judged for judged in everything if judged.key not in notable]
