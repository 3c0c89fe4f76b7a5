"""Where in the tyre the injury is: the tread is for minor repairs, the rest is for specialists or for no one.

Regions: BS AU 159g:2013, areas of the tyre and major repairs; USTMA puncture repair procedures, repairable area and
section repair; JATMA and NZS 5423 by their summaries.
"""

from __future__ import annotations

from collections.abc import Callable

from mendgauge.core.vocabulary import Region
from mendgauge.facts.injury import InjuryFacts
from mendgauge.facts.tyre import TyreFacts
from mendgauge.rulebooks.resolver import under
from mendgauge.rulebooks.schema.repair import Beyond
from mendgauge.rules.engine import RuleDefinition, Setting
from mendgauge.rules.outcome import MET, Outcome


def region(where: Region, shoulder: Outcome, sidewall: Outcome, bead: Outcome) -> Outcome:
    """Judge a region: in the tread it may be a minor repair; elsewhere it comes to what the book says of it.

    A hole in the shoulder, which this book leaves to a specialist:

    >>> from mendgauge.rules.outcome import ENDS, SPECIALIST
    >>> region("shoulder", shoulder=SPECIALIST, sidewall=ENDS, bead=ENDS) == SPECIALIST
    True
    """
    return {"tread": MET, "shoulder": shoulder, "sidewall": sidewall, "bead": bead}[where]


def _judge(_: Beyond, setting: Setting) -> Callable[[InjuryFacts], Outcome]:
    def judge(injury: InjuryFacts) -> Outcome:
        if injury.regions == ("tread",):
            return MET
        return _elsewhere(injury.regions, injury.tyre, setting)

    return judge


def _cites(injury: InjuryFacts, provision: Beyond) -> bool:
    """Return the word on the region farthest from the tread that the injury may lie in."""
    farthest = injury.regions[-1]
    return provision.what == (farthest if farthest in ("sidewall", "bead") else "minor")


def _elsewhere(regions: tuple[Region, ...], tyre: TyreFacts, setting: Setting) -> Outcome:
    beyond = (setting.beyond_minor(tyre), setting.beyond_sidewall(tyre), setting.beyond_bead(tyre))
    found = 0
    for where in regions:
        found |= region(where, *beyond)
    return found


DEFINITION = RuleDefinition[InjuryFacts, Beyond](
    name="region",
    depends_on=("regions",),
    provisions=under("beyond"),
    judge=_judge,
    cites=_cites,
    beyond=True,
)
