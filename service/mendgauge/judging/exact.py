"""Makes the possible verdicts exact where few facts are missing.

Rules are judged one by one, so two rules that hang on the same unknown may each come out badly, though never both at
once. Where one field stands behind several open rules, its values are taken part by part: what the case can come to is
the union over the parts, and every such union holds what is possible, so their intersection does too.
"""

from __future__ import annotations

from datetime import date

from mendgauge.case.case import Case
from mendgauge.case.contract import Pointer
from mendgauge.core.interval import Interval
from mendgauge.core.vocabulary import Range
from mendgauge.judging.assessment import Assessment, assess, deciding
from mendgauge.judging.questions import missing
from mendgauge.judging.trial_answers import choices_of, put, span_of
from mendgauge.rulebooks import Edition
from mendgauge.rules.outcome import MET, REPAIRABLE, Outcome, settled
from mendgauge.tyre.tyre_class import Use

# With more fields missing, every verdict in question has some rule of its own that brings it about.
_MOST_FIELDS = 3
# Halvings of a measurement's span; the last part of 100 mm is then thinner than a tenth of a millimetre.
_HALVINGS = 10


def sharpen(case: Case, edition: Edition, on: date, one: Assessment) -> Outcome:
    """Return what an assessment can come to, once fields that several open rules share are taken part by part."""
    possible = one.possible
    if settled(possible):
        return possible
    shared = _shared_fields(one)
    for field in shared:
        possible &= _by_parts(case, field, one, edition, on)
    return possible


def _shared_fields(one: Assessment) -> tuple[Pointer, ...]:
    """Return the fields behind more than one open rule, or behind one that is not exact, if few are missing."""
    behind: dict[Pointer, int] = {}
    for merged in deciding([one]).values():
        for field in missing(merged.judged.rule.depends_on, merged.judged.subject):
            behind[field] = behind.get(field, 0) + (1 if merged.judged.rule.exact else 2)
        if len(behind) > _MOST_FIELDS:
            return ()
    return tuple(field for field, rules in behind.items() if rules > 1)


def _by_parts(case: Case, field: Pointer, one: Assessment, edition: Edition, on: date) -> Outcome:
    use = one.facts.use
    choices = choices_of(field)
    if choices:
        found = 0
        for choice in choices:
            found |= assess(put(case, field, choice), use, edition, on).possible
        return found
    span = span_of(field, one.facts)
    return one.possible if span is None else _halve(case, field, span, use, edition, on, one.possible, _HALVINGS)


def _halve(
    case: Case,
    field: Pointer,
    span: Interval,
    use: Use,
    edition: Edition,
    on: date,
    possible: Outcome,
    halvings: int,
) -> Outcome:
    """Return the union over ever smaller parts of a span, until each part is settled or too thin to halve."""
    if halvings == 0 or settled(possible & ~REPAIRABLE | (MET if possible & REPAIRABLE else 0)):
        return possible
    middle = (span.low + span.high) / 2.0
    found = 0
    for low, high in ((span.low, middle), (middle, span.high)):
        part = assess(put(case, field, Range(low=low, high=high)), use, edition, on).possible
        found |= _halve(case, field, Interval(low, high), use, edition, on, part, halvings - 1)
        if found == possible:
            break
    return found
