"""How far in the injury goes: a puncture goes through; one that only reaches the cord is no minor repair.

Limit on a cut: Road Vehicles (Construction and Use) Regulations 1986, regulation 27(1)(c). What a cut to the cord comes
to is what the book says lies beyond a minor repair, as BS AU 159g:2013 under major repairs.
"""

from __future__ import annotations

from collections.abc import Callable

from mendgauge.core.vocabulary import Depth
from mendgauge.facts.injury import InjuryFacts
from mendgauge.rulebooks.resolver import under
from mendgauge.rulebooks.schema.repair import Beyond, CutLength
from mendgauge.rules.engine import Evidence, RuleDefinition, Setting
from mendgauge.rules.outcome import ENDS, MET, Outcome


def depth(how_far: Depth, beyond_minor: Outcome) -> Outcome:
    """Judge a depth: a puncture, or a cut in the rubber alone, stays minor; a cut down to the cord lies beyond that."""
    return beyond_minor if how_far == "to_cord" else MET


def longest_cut(section_width: float, at_most_mm: float, at_most_share: float) -> float:
    """Judge a cut that reaches the cord by the greater of a length and a share of the section width, mm.

    British law on a 315 mm wide truck tyre, 25 mm or a tenth of the section width:

    >>> longest_cut(315.0, at_most_mm=25.0, at_most_share=0.1)
    31.5
    """
    return max(at_most_mm, at_most_share * section_width)


def _judge(_: Beyond, setting: Setting) -> Callable[[InjuryFacts], Outcome]:
    def judge(injury: InjuryFacts) -> Outcome:
        if injury.depths == ("through",):
            return MET
        beyond = setting.beyond_minor(injury.tyre)
        found = 0
        for how_far in injury.depths:
            found |= depth(how_far, beyond)
        return found

    return judge


def _judge_cut(provision: CutLength, _: Setting) -> Callable[[InjuryFacts], Outcome]:
    def longest(section_width: float) -> float:
        return longest_cut(section_width, provision.max_mm, provision.max_share_of_section_width)

    def judge(injury: InjuryFacts) -> Outcome:
        width = injury.tyre.section_width
        if injury.diameter.high <= longest(width.low) or injury.depths == ("rubber_only",):
            return MET
        broken = injury.diameter.low > longest(width.high) and "rubber_only" not in injury.depths
        return ENDS if broken else MET | ENDS

    return judge


def _cut_evidence(injury: InjuryFacts, provision: CutLength) -> Evidence:
    width = injury.tyre.section_width.low
    longest = longest_cut(width, provision.max_mm, provision.max_share_of_section_width)
    return Evidence(observed=injury.diameter, limit=longest, unit="mm")


DEFINITION = RuleDefinition[InjuryFacts, Beyond](
    name="depth",
    depends_on=("depths",),
    provisions=under("beyond", "minor"),
    judge=_judge,
    beyond=True,
)

CUT_LENGTH = RuleDefinition[InjuryFacts, CutLength](
    name="cut_length",
    depends_on=("depths", "diameter", "section_width"),
    provisions=under("cut_length"),
    judge=_judge_cut,
    evidence=_cut_evidence,
)
