"""How much the tyre may carry after the repair, and whether the tyres of the axle carry its load together."""

from __future__ import annotations

from functools import lru_cache
from typing import Final

import msgspec

from mendgauge.answers.bound_edition import NOTHING_CITED, BoundEdition
from mendgauge.answers.finding import Observed
from mendgauge.core.interval import NO, YES, Interval
from mendgauge.facts.load import LOAD
from mendgauge.facts.position import AXLE_LOAD, VEHICLE_KMH, PositionFacts
from mendgauge.judging.assessment import Assessment
from mendgauge.operations.service_limits.answer import ServiceLoad
from mendgauge.rulebooks import Edition
from mendgauge.rulebooks.resolver import provision_for, provisions_by_topic
from mendgauge.rulebooks.schema.limits import AxleLoad
from mendgauge.rules.outcome import MET, NOT_HERE, Outcome
from mendgauge.rules.position import axle_load
from mendgauge.tyre.load import load_of

_STATUS: Final[dict[Outcome, str]] = {MET: "enough", NOT_HERE: "short", MET | NOT_HERE: "open"}


class AxleLoading(msgspec.Struct, frozen=True):
    """The load of an axle against its tyres, over everything the tyre may be in use as."""

    found: Outcome
    capacity: Interval
    tyres_on_axle: int | None
    required: Interval

    @property
    def status(self) -> str:
        """`enough`, `short` or `open`."""
        return _STATUS[self.found]

    @property
    def shortfall(self) -> Interval | None:
        """How much more the axle's load is than its tyres may carry, kg; none unless it surely is."""
        if self.found != NOT_HERE:
            return None
        return Interval(self.required.low - self.capacity.high, self.required.high - self.capacity.low)

    @property
    def shortfall_percent(self) -> Interval | None:
        """The same as a share of the axle's load, percent."""
        if self.found != NOT_HERE:
            return None
        least = 1.0 - self.capacity.high / self.required.low
        return Interval(100.0 * least, 100.0 * (1.0 - self.capacity.low / self.required.high))


def axle_loading(assessed: list[Assessment], tyres: list[PositionFacts], edition: Edition) -> AxleLoading:
    """Return the axle's load and capacity, and what the rule on it came to."""
    found = 0
    for one in assessed:
        notable = [judged.found for judged in one.notable if judged.rule.name == axle_load.DEFINITION.name]
        found |= notable[0] if notable else MET
    spans, counts = [], set()
    for tyre in tyres:
        provision = provision_for(edition, "axle_load", tyre.tyre_class)
        spans.append(axle_load.capacity(tyre.loading, tyre.single, provision))
        counts.add(_tyres(tyre, provision))
    capacity = spans[0]
    for span in spans[1:]:
        capacity = capacity.hull(span)
    return AxleLoading(found, capacity, counts.pop() if len(counts) == 1 else None, tyres[0].axle_load)


def _tyres(tyre: PositionFacts, provision: AxleLoad) -> int | None:
    if provision.tyres_single == provision.tyres_dual or tyre.single == YES:
        return provision.tyres_single
    return provision.tyres_dual if tyre.single == NO else None


def service_load(axle: AxleLoading, tyres: list[PositionFacts], bound: BoundEdition) -> ServiceLoad:
    """Return the load as the answer gives it."""
    one = tyres[0].loading
    said = provisions_by_topic(bound.edition, "load_after_repair", tyres[0].tyre_class).get("")
    citation = NOTHING_CITED if said is None else bound.cite_provision(said)
    return ServiceLoad(
        status=axle.status,
        rests_on=one.rests_on if bound.full else None,
        at_kmh=None if not bound.full or one.at_kmh == VEHICLE_KMH else _span(one.at_kmh, "km/h"),
        single=None if one.rests_on == "nothing" else _span(one.single, "kg"),
        dual=None if one.rests_on == "nothing" or not _has_dual(tyres[0]) else _span(one.dual, "kg"),
        tyres_on_axle=axle.tyres_on_axle,
        capacity=None if one.rests_on == "nothing" else _span(axle.capacity, "kg"),
        required=None if axle.required == AXLE_LOAD else _span(axle.required, "kg"),
        shortfall=None if axle.shortfall is None else _span(axle.shortfall, "kg"),
        shortfall_percent=None if axle.shortfall_percent is None else _span(axle.shortfall_percent, "percent"),
        says=bound.words.limits.load[axle.status],
        book_says=None if said is None else bound.words.limits.load_words[said.word],
        clause="" if said is None else said.clause,
        basis=citation.basis,
        source=citation.source,
        cites=citation.cites,
    )


def index_share(tyre: PositionFacts) -> Interval | None:
    """Return the share of its load index that the tyre carries at the vehicle's speed; none without such a load."""
    index = load_of(tyre.marking_facts.marking)
    if index is None or tyre.loading.rests_on != "load_index":
        return None
    single = tyre.loading.single
    return Interval(single.low / index.single_kg, single.high / index.single_kg)  # a whole load is 1.0 exactly


def _has_dual(tyre: PositionFacts) -> bool:
    index = load_of(tyre.marking_facts.marking)
    return tyre.max_load_dual != LOAD or (index is not None and index.dual_kg is not None)


@lru_cache(maxsize=1024)
def _span(value: Interval, unit: str) -> Observed:
    return Observed(low=round(value.low, 2) + 0.0, high=round(value.high, 2) + 0.0, unit=unit)
