"""A rule's outcome as an answer gives it: what was seen, the limit, the distance to it, and the source."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import lru_cache, partial
from math import inf, isinf
from operator import itemgetter
from typing import Annotated, Any, Final, TypeAlias

from msgspec import Meta

from mendgauge.answers.base import AnswerPart, open_words
from mendgauge.answers.bound_edition import BoundEdition
from mendgauge.answers.citation import Cited
from mendgauge.answers.figure import tidy
from mendgauge.core.interval import NO, Interval
from mendgauge.facts.injury import DIAMETER, LEAN, InjuryFacts
from mendgauge.facts.load import LOAD
from mendgauge.facts.tyre import AGE, ANY_EARLIER, MASS, PRESSURE
from mendgauge.facts.yes_no import YesNoFacts
from mendgauge.judging.assessment import Judged, JudgedAlike, Notable
from mendgauge.judging.missing import Subject
from mendgauge.rulebooks.provision import Language
from mendgauge.rules.engine import BoundRule, Branch, Evidence
from mendgauge.rules.outcome import (
    CAUTION,
    ENDS,
    MET,
    NOT_COVERED,
    NOT_HERE,
    OPEN_ABOVE,
    SETTLED,
    SPECIALIST,
    Outcome,
    worst,
)
from mendgauge.tyre.speed import ANY_ROAD_SPEED
from mendgauge.wording import FindingWords
from mendgauge.wording.quantities import quantity


class Observed(AnswerPart, frozen=True, kw_only=True):
    """What was seen, as a range: a measured value has `low` equal to `high`."""

    low: Annotated[float, Meta(description="The smallest value it can have.", examples=[66.0])]
    high: Annotated[float, Meta(description="The largest value it can have.", examples=[79.5])]
    unit: Annotated[str, Meta(description="Unit of both.", examples=["mm"])]


class Limit(AnswerPart, frozen=True, kw_only=True):
    """The limit that an observation was compared with."""

    value: Annotated[
        float, Meta(description="The limit; the stricter end where it is itself a range.", examples=[71.75])
    ]
    value_high: Annotated[float | None, Meta(description="The other end of the limit where it is a range.")] = None
    unit: Annotated[str, Meta(description="Unit of the limit.", examples=["mm"])]
    inclusive: Annotated[bool, Meta(description="Whether the limit itself passes.", examples=[True])]
    sense: Annotated[
        str,
        Meta(
            description="`at_most` or `at_least`: which side of the limit is right.",
            examples=["at_most"],
            extra_json_schema=open_words("at_most", "at_least"),
        ),
    ]


class Advice(AnswerPart, frozen=True, kw_only=True):
    """What to do about a finding; what there is nothing to say of is left out."""

    tyre: Annotated[str | None, Meta(description="What to do with the tyre.")] = None
    vehicle: Annotated[str | None, Meta(description="What to do with the vehicle.")] = None
    operation: Annotated[str | None, Meta(description="What to change so that it happens less; in a full answer.")] = (
        None
    )


class Finding(Cited, frozen=True, kw_only=True):
    """What one rule makes of the case."""

    rule: Annotated[str, Meta(description="The rule, by its name in the rulebook.", examples=["band"])]
    outcome: Annotated[
        str,
        Meta(
            description="`met`, `broken` or `open`.",
            examples=["open"],
            extra_json_schema=open_words("met", "broken", "open"),
        ),
    ]
    effect: Annotated[
        Annotated[
            str,
            Meta(
                extra_json_schema=open_words(
                    "ends_the_tyre", "not_covered", "specialist_only", "caution", "not_in_this_position"
                )
            ),
        ]
        | None,
        Meta(
            description="What breaking the rule comes to: `ends_the_tyre`, `specialist_only`, `caution`, or of rules "
            "on a position `not_in_this_position`; the worst it can come to where it is open, null where it is met.",
            examples=["specialist_only"],
        ),
    ] = None
    injury: Annotated[
        int | None, Meta(description="Index of the injury it speaks of; null for the whole tyre.", examples=[0])
    ] = None
    observed: Annotated[
        Observed | None, Meta(description="What was seen; null where it is not known or no quantity.")
    ] = None
    limit: Annotated[Limit | None, Meta(description="The limit; null where the rule is not about a quantity.")] = None
    margin: Annotated[
        float | None,
        Meta(
            description="Distance to the limit in the worst case, in the limit's unit; negative when beyond it.",
            examples=[-7.75],
        ),
    ] = None
    says: Annotated[str, Meta(description="The finding in words.")]
    cause: Annotated[
        str | None, Meta(description="Probable cause of what is broken, where the trade knows one; in a full answer.")
    ] = None
    advice: Annotated[Advice | None, Meta(description="What to do about what is broken; null where nothing is.")] = None
    clause: Annotated[str, Meta(description="Where in the document; empty where not known.")] = ""


_EFFECT: Final = {
    CAUTION: "caution",
    SPECIALIST: "specialist_only",
    NOT_COVERED: "not_covered",
    ENDS: "ends_the_tyre",
    NOT_HERE: "not_in_this_position",
}
_MOUTH_MM: Final = 10.0
"""Of an injury whose place is not known the channel reaches at least as far from the centre line as its own mouth."""
_WIDEST: Final = frozenset({AGE, DIAMETER, LEAN, MASS, PRESSURE})


_OF_NOTE: Final = SETTLED | OPEN_ABOVE[CAUTION]
"""Outcomes that a brief answer says: broken, or open with more than a caution at stake."""
_Ranked: TypeAlias = tuple[int, "Finding"]
"""A finding with its gravity."""


def findings(judged: Iterable[Judged], bound: BoundEdition) -> tuple[Finding, ...]:
    """Return what some rules made of a case, the gravest first."""
    return _gravest_first((_gravity(one.found), finding(one, bound)) for one in judged)


def findings_of_note(notable: Notable, bound: BoundEdition) -> tuple[Finding, ...]:
    """Return the rules broken, and those open with more than a caution at stake that say why, the gravest first.

    An open rule says why where something is known of what it asks.
    """
    own = [found for one in notable.own if one.found in _OF_NOTE and (found := _of_note(one, bound)) is not None]
    return _gravest_first((*_of_note_alike(notable.alike, bound), *own))


@lru_cache(maxsize=2048)
def _of_note_alike(alike: JudgedAlike, bound: BoundEdition) -> tuple[_Ranked, ...]:
    found = (_of_note(one, bound) for one in alike.judged if one.found in _OF_NOTE)
    return tuple(filter(None, found))


def _of_note(judged: Judged, bound: BoundEdition) -> _Ranked | None:
    """Return a finding with its gravity; none of an open rule of which nothing is known.

    What was reported of the tyre is known.
    """
    rule, subject, found = judged.rule, judged.subject, judged.found
    known = subject if isinstance(subject, YesNoFacts) else subject.tyre.yes_no
    silent = found not in SETTLED and known.reported.isdisjoint(rule.depends_on)
    if silent and not rule.measures:
        return None
    branch = rule.deciding(subject)
    evidence = branch.seen(subject)
    unknown = found not in SETTLED and _wholly_unknown(evidence, subject)
    if silent and unknown:
        return None
    return _gravity(found), _in_words(judged, branch, evidence, bound, unknown=unknown)


def _gravity(found: Outcome) -> int:
    """Order broken over open over met, and the worse of each over the better."""
    if found == MET:
        return 0
    return found | ENDS << 1 if found in SETTLED else found


def _gravest_first(ranked: Iterable[_Ranked]) -> tuple[Finding, ...]:
    return tuple([one for _, one in sorted(ranked, key=itemgetter(0), reverse=True)])


def finding(judged: Judged, bound: BoundEdition) -> Finding:
    """Return what a rule made of its subject, in the words of the rulebook's country."""
    branch = judged.rule.deciding(judged.subject)
    evidence = branch.seen(judged.subject)
    unknown = judged.found not in SETTLED and _wholly_unknown(evidence, judged.subject)
    return _in_words(judged, branch, evidence, bound, unknown=unknown)


def _in_words(
    judged: Judged, branch: Branch[Any], evidence: Evidence, bound: BoundEdition, *, unknown: bool
) -> Finding:
    """Word a finding; one that shows no figure of this tyre is worded once for all."""
    rule, subject = judged.rule, judged.subject
    no_channel = rule.channel and isinstance(subject, InjuryFacts) and subject.through == NO
    shows_none = (evidence.observed is None or evidence.observed in _WIDEST) and type(evidence.limit) is not Interval
    word = _worded if shows_none else _worded.__wrapped__
    return word(rule, branch, judged.found, subject.index, evidence, bound, unknown, no_channel)


@lru_cache(maxsize=1024)
def _worded(
    rule: BoundRule[Any],
    branch: Branch[Any],
    found: Outcome,
    injury: int | None,
    evidence: Evidence,
    bound: BoundEdition,
    unknown: bool,
    no_channel: bool,
) -> Finding:
    """Return the finding of a rule under one of its provisions.

    `unknown`: nothing is known of what an open one asks. `no_channel`: a rule on the channel of an injury without one.
    """
    outcome = "met" if found == MET else "broken" if found in SETTLED else "open"
    citation = bound.cite_provision(branch.provision)
    texts = bound.words.findings[rule.name]
    observed, limit = None if unknown and texts.unknown else observed_of(evidence), limit_of(evidence)
    template = _template(texts, outcome, evidence, unknown=unknown, no_channel=no_channel)
    return Finding(
        rule=rule.name,
        outcome=outcome,
        effect=_EFFECT.get(worst(found)),
        injury=injury,
        observed=observed,
        limit=limit,
        margin=_margin(observed, limit),
        says=sentence(template, evidence, observed, limit, texts, bound.words.language),
        cause=texts.cause or None if bound.full and outcome == "broken" else None,
        advice=_advice(texts, found, bound) if outcome == "broken" else None,
        clause=branch.provision.clause,
        basis=citation.basis,
        source=citation.source,
        cites=citation.cites,
    )


def _template(texts: FindingWords, outcome: str, evidence: Evidence, *, unknown: bool, no_channel: bool) -> str:
    """Return the text for an outcome; its own where nothing was measured, or there is nothing to measure."""
    if outcome == "met" and no_channel:
        return texts.not_through or texts.met
    if outcome == "met" and (evidence.observed is None or evidence.limit is None):
        return texts.alone or texts.met
    if outcome == "open" and texts.limit_unknown and _limit_unknown(evidence.limit):
        return texts.limit_unknown
    if unknown and texts.unknown:
        return texts.unknown
    template: str = getattr(texts, outcome)
    return template


def _wholly_unknown(evidence: Evidence, subject: Subject) -> bool:
    """Return whether the observation is only the widest that it can be, or what the workshop assumes for a tyre."""
    seen = evidence.observed
    if seen is None or seen in _WIDEST or isinstance(subject, YesNoFacts):
        return True
    if evidence.unit == "repairs":
        return seen.high >= ANY_EARLIER.high
    if evidence.unit != "mm":
        return False
    tyre = subject.tyre
    return seen == tyre.assumed.tread_depth or (seen.low < _MOUTH_MM and seen.high >= tyre.marking_facts.half_profile)


def _limit_unknown(limit: float | Interval | None) -> bool:
    """Return whether a limit that is a fact of the tyre, its speed or its load, is not known at all."""
    return isinstance(limit, Interval) and (limit == ANY_ROAD_SPEED or LOAD.high <= limit.high < inf)


def sentence(
    template: str,
    evidence: Evidence,
    observed: Observed | None,
    limit: Limit | None,
    texts: FindingWords,
    language: Language,
) -> str:
    """Return a text with its quantities.

    Where what is seen and its limit would read alike though they differ, both are in metric alone, if need be with
    every figure.
    """
    seen = bare = ""
    for metric, exact in ((False, False), (True, False), (True, True)):
        render = partial(quantity, unit=evidence.unit, language=language, tread=texts.tread, metric=metric, exact=exact)
        seen = "" if observed is None else render(observed.low, observed.high)
        bare = "" if limit is None else _bare(limit, evidence, render)
        if observed is None or limit is None or observed.low == limit.value or not _read_alike(seen, bare):
            break
    says = template.format(observed=seen, limit=bare, bound="" if limit is None else _bound(limit, bare))
    return says[0].upper() + says[1:]


def _read_alike(one: str, other: str) -> bool:
    """Return whether two quantities read alike in the unit that a person reads first."""
    return one.partition(" (")[0] == other.partition(" (")[0]


def _advice(texts: FindingWords, found: Outcome, bound: BoundEdition) -> Advice | None:
    other = {SPECIALIST: texts.specialist, CAUTION: texts.caution}.get(found)
    tyre, operation = other or texts.tyre, texts.operation if bound.full else ""
    if not (tyre or texts.vehicle or operation):
        return None
    return Advice(tyre=tyre or None, vehicle=texts.vehicle or None, operation=operation or None)


def observed_of(evidence: Evidence) -> Observed | None:
    """Return what was seen; none where it is no quantity, or not known."""
    seen = evidence.observed
    if seen is None or seen in _WIDEST:
        return None
    return Observed(low=tidy(seen.low), high=tidy(seen.high), unit=evidence.unit)


def limit_of(evidence: Evidence) -> Limit | None:
    """Return the limit; none where the rule is not about a quantity."""
    limit = evidence.limit
    if limit is None:
        return None
    span = limit if isinstance(limit, Interval) else Interval(limit, limit)
    strict, loose = (span.high, span.low) if evidence.at_least else (span.low, span.high)
    return Limit(
        value=tidy(strict),
        value_high=None if span.known or isinf(loose) else tidy(loose),
        unit=evidence.unit,
        inclusive=evidence.inclusive,
        sense="at_least" if evidence.at_least else "at_most",
    )


def _margin(observed: Observed | None, limit: Limit | None) -> float | None:
    if observed is None or limit is None:
        return None
    return tidy(observed.low - limit.value if limit.sense == "at_least" else limit.value - observed.high)


def _bare(limit: Limit, evidence: Evidence, render: Callable[[float, float], str]) -> str:
    if isinstance(evidence.limit, Interval) and isinf(evidence.limit.high):
        return render(limit.value, inf)
    ends = sorted((limit.value, limit.value if limit.value_high is None else limit.value_high))
    return render(ends[0], ends[1])


def _bound(limit: Limit, bare: str) -> str:
    """Word the limit with the side on which it is kept."""
    if limit.sense == "at_least":
        return f"at least {bare}" if limit.inclusive else f"more than {bare}"
    return f"at most {bare}" if limit.inclusive else f"under {bare}"
