"""Makes the possible verdicts exact where few facts are missing.

Rules are judged one by one, so two rules that hang on the same unknown may each come out badly, though never both at
once. Where one field stands behind several open rules, its values are taken part by part: what the case can come to is
the union over the parts, and every such union holds what is possible, so their intersection does too. A part that is
not taken apart for want of effort stands for all it can come to, which holds what is possible as well.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import Any, Final

from mendgauge.case.case import Case
from mendgauge.case.contract import Pointer
from mendgauge.core.interval import Interval
from mendgauge.core.vocabulary import Range
from mendgauge.facts.injury import InjuryFacts
from mendgauge.facts.tyre import TyreFacts
from mendgauge.judging.assessment import Assessment, Judged
from mendgauge.judging.effort import Effort, cost_of_facts, cost_of_judging
from mendgauge.judging.missing import missing
from mendgauge.judging.questions import open_alike
from mendgauge.judging.trial_answers import choices_of, put, span_of
from mendgauge.rulebooks import Edition
from mendgauge.rules.outcome import MET, NOT_HERE, OPEN_ABOVE, REPAIRABLE, Outcome, join, lowest, settled
from mendgauge.rules.repair.earlier_repairs import SAME_HOLE

# With more fields missing, every verdict in question has some rule of its own that brings it about.
_MOST_FIELDS: Final = 3
# Halvings of a measurement's span; the last part of 100 mm is then thinner than a tenth of a millimetre.
_HALVINGS: Final = 10
_SHARES: Final = (0.0, 1.0, 1 / 64, 1 / 32, 1 / 16, 1 / 4)
# Judgements for all uses of a tyre together: about 15 ms.
_MOST_JUDGEMENTS: Final = 10_000


def sharpen(case: Case, edition: Edition, on: date, assessed: list[Assessment]) -> Outcome:
    """Return what a case can come to in all its uses, once fields that open rules share are taken part by part."""
    effort = Effort(_MOST_JUDGEMENTS)
    found = 0
    for one in assessed:
        possible = one.possible
        if not settled(possible):
            for field in _shared_fields(one):
                possible &= _Parts(case, field, one, edition, on, effort).possible()
        found |= possible
    return found


def _shared_fields(one: Assessment) -> tuple[Pointer, ...]:
    """Return the fields behind more than one open rule, or behind one that is not exact, if few are missing."""
    behind: dict[Pointer, int] = {}
    for judged, fields in _open_rules(one):
        for field in fields:
            behind[field] = behind.get(field, 0) + (1 if judged.rule.exact else 2)
        if len(behind) > _MOST_FIELDS:
            return ()
    return tuple(field for field, rules in behind.items() if rules > 1)


def _open_rules(one: Assessment) -> Iterator[tuple[Judged, tuple[Pointer, ...]]]:
    """Yield the open rules that can still make the verdict worse than it must be, with the fields behind each."""
    floor = max(one.floor, NOT_HERE)
    alike = open_alike(one.notable.alike, floor)
    for judged, rule in zip(alike.judged, alike.rules, strict=True):
        yield judged, rule.fields
    for judged in one.notable.own:
        if judged.found in OPEN_ABOVE[floor]:
            yield judged, missing(judged.rule.depends_on, judged.subject)


class _Parts:
    """The values of one field, taken part by part. What is settled stays so; only the open rules are judged again."""

    def __init__(self, case: Case, field: Pointer, one: Assessment, edition: Edition, on: date, effort: Effort) -> None:
        self._case, self._field, self._one = case, field, one
        self._edition, self._on, self._effort = edition, on, effort
        self._again = [(judged.rule, judged.subject) for judged in one.notable if not settled(judged.found)]
        if one.facts.earlier:
            # A repair that turns out to be in the hole is no neighbour any more: one rule takes over from others.
            self._again += [(rule, subject) for rule, subject in one.each_rule() if rule.name == SAME_HOLE.name]
        self._settled = MET
        for judged in one.notable:
            self._settled |= judged.found if settled(judged.found) else MET
        self._cost = cost_of_facts(one.facts) + cost_of_judging(self._again)

    def possible(self) -> Outcome:
        """Return the union over all parts of the field's values."""
        choices = choices_of(self._field)
        if choices:
            found = 0
            for choice in choices:
                found |= self._with(choice)
            return found
        span = span_of(self._field, self._one.facts)
        if span is None or self._is_borne_out(span):
            return self._one.possible
        return self._halve(span, self._one.possible, _HALVINGS)

    def _is_borne_out(self, span: Interval) -> bool:
        """Return whether a few values of a span bring about all that the case can come to: no part need be taken then.

        The ends first, then from the low end on: the limits that rules set lie there.
        """
        found = 0
        for share in _SHARES:
            found |= self._with(span.low + share * (span.high - span.low))
            if found == self._one.possible:
                return True
        return False

    def _halve(self, span: Interval, possible: Outcome, halvings: int) -> Outcome:
        """Return the union over ever smaller parts of a span, until each part is settled or too thin to halve."""
        if halvings == 0 or settled(possible & ~REPAIRABLE | (MET if possible & REPAIRABLE else 0)):
            return possible
        middle = (span.low + span.high) / 2.0
        found = 0
        for low, high in ((span.low, middle), (middle, span.high)):
            part = self._with(Range(low=low, high=high))
            found |= self._halve(Interval(low, high), part, halvings - 1)
            if found == possible:
                break
        return found

    def _with(self, value: Any) -> Outcome:
        """Return what the case can come to with a value at the field; without the effort left for it, all it could."""
        if not self._effort.spend(self._cost):
            return self._one.possible
        facts = TyreFacts(put(self._case, self._field, value), self._one.facts.use, self._edition, self._on)
        floor, union = self._one.floor, self._settled
        for rule, subject in self._again:
            found = rule.outcome(facts.injuries[subject.index] if isinstance(subject, InjuryFacts) else facts)
            floor = max(floor, lowest(found))
            union |= found
        facts.release()
        return join(floor, union)
