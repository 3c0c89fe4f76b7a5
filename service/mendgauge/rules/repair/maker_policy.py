"""What the tyre's maker says: a refusal ends the repair, his count is a limit, and some books ask for his consent.

Consent: Richtlinie of 2001 under section 36 StVZO, 3.2. Refusal: Statements of the British trade bodies; USTMA puncture
repair procedures, speed rating; elsewhere common practice of the tyre trade.
"""

from __future__ import annotations

from collections.abc import Callable

from mendgauge.core.interval import NO, YES, Truth
from mendgauge.facts.tyre import TyreFacts
from mendgauge.rulebooks.resolver import under
from mendgauge.rulebooks.schema.repair import MakerPolicyRule
from mendgauge.rules.engine import Evidence, RuleDefinition, Setting
from mendgauge.rules.outcome import ENDS, MET, Outcome, outcome
from mendgauge.rules.repair.earlier_repairs import count_outcome


def maker_policy(permits: Truth, *, consent_required: bool) -> Truth:
    """Return whether the maker has not refused; where his consent is a condition, he has given it.

    A maker who is silent, where the book asks for his consent:

    >>> from mendgauge.core.interval import EITHER
    >>> maker_policy(EITHER, consent_required=True) == EITHER
    True
    """
    return permits if consent_required or permits == NO else YES


def _judge(provision: MakerPolicyRule, _: Setting) -> Callable[[TyreFacts], Outcome]:
    required = provision.consent_required
    return lambda tyre: outcome(maker_policy(tyre.maker_permits, consent_required=required), ENDS)


def _judge_count(_: MakerPolicyRule, __: Setting) -> Callable[[TyreFacts], Outcome]:
    def judge(tyre: TyreFacts) -> Outcome:
        most = tyre.maker_max_repairs
        return MET if most is None else count_outcome(tyre, most)

    return judge


def _count_evidence(tyre: TyreFacts, _: MakerPolicyRule) -> Evidence:
    total = tyre.earlier_count.plus(tyre.repairs_needed)
    return Evidence(observed=total, limit=tyre.maker_max_repairs, unit="repairs")


DEFINITION = RuleDefinition[TyreFacts, MakerPolicyRule](
    name="maker_policy",
    depends_on=("maker_permits",),
    provisions=under("maker_policy"),
    judge=_judge,
)

COUNT = RuleDefinition[TyreFacts, MakerPolicyRule](
    name="maker_repair_count",
    depends_on=("earlier_known", "injuries.through"),
    provisions=under("maker_policy"),
    judge=_judge_count,
    evidence=_count_evidence,
)
