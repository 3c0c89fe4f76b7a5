"""How fast the tyre may go after the repair, and on whose authority.

The rating of a repaired tyre is its maker's to keep, cap or void; where nobody knows what he says it is not confirmed,
whatever the rulebook says of repaired tyres in general. Nothing here says that a rating is kept without it.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from math import inf
from typing import Final, Literal, TypeAlias, get_args

import msgspec

from mendgauge.answers.base import CERTAIN
from mendgauge.answers.bound_edition import NOTHING_CITED, BoundEdition
from mendgauge.answers.finding import Observed
from mendgauge.case.case import MakerPolicy
from mendgauge.core.interval import EITHER, NO, YES, Interval, Truth, both, point
from mendgauge.facts.position import VEHICLE_KMH, PositionFacts
from mendgauge.operations.service_limits.answer import KMH_PER_MPH, ServiceSpeed, SpeedCeiling, mph, to_tenth
from mendgauge.operations.service_limits.applicable import over_all
from mendgauge.rulebooks import Edition
from mendgauge.rulebooks.provision import Language
from mendgauge.rulebooks.resolver import applicable, provisions_by_topic
from mendgauge.rulebooks.schema.limits import SpeedLimit, SpeedPeriod
from mendgauge.rules.position.speed_symbol import covers
from mendgauge.tyre.speed import SpeedRating, speed_of
from mendgauge.tyre.tyre_class import TyreClass
from mendgauge.wording import Wording
from mendgauge.wording.quantities import quantity

Status: TypeAlias = Literal["retained", "capped", "void"]

STATUSES: Final[tuple[Status, ...]] = ("retained", "capped", "void")
"""Best first."""

_PERIODS: Final = get_args(SpeedPeriod)
_NO_POLICY: Final = MakerPolicy()
# Of a speed not to pass, when it holds for good and not only for some hours or without pressure.
_FOR_GOOD: Final = frozenset({"temporary_use", "afterwards"})
_AFTER_REPAIR: Final = frozenset({"first_hours", "afterwards"})


class Limited(msgspec.Struct, frozen=True):
    """A speed limit of the rulebook with whether it surely holds."""

    provision: SpeedLimit
    holds: Truth

    @property
    def since_repair(self) -> bool:
        """Whether it follows a repair; any other belongs to a kind of tyre."""
        return self.provision.when in _AFTER_REPAIR

    @property
    def kmh(self) -> float:
        """Its figure, km/h."""
        return limit_kmh(self.provision)


def limit_kmh(provision: SpeedLimit) -> float:
    """Return the figure of a limit, km/h."""
    return (provision.max_mph or 0.0) * KMH_PER_MPH if provision.max_kmh is None else provision.max_kmh


class Speed(msgspec.Struct, frozen=True):
    """All that is known of a tyre's speed after its repair."""

    statuses: tuple[Status, ...]
    repaired: Truth
    cap: float | None
    rated: Interval
    vehicle: Interval
    limits: tuple[Limited, ...]

    @property
    def settled(self) -> bool:
        """Whether the status is known, and the figure where it is a cap."""
        return len(self.statuses) == 1 and (self.statuses[0] != "capped" or self.cap is not None)

    @property
    def for_good(self) -> list[Limited]:
        """The limits that hold from the first hours on."""
        return [limit for limit in self.limits if limit.provision.when in _FOR_GOOD]

    @property
    def ceiling(self) -> float | None:
        """The speed not to pass that surely follows, km/h."""
        sure = [limit.kmh for limit in self.for_good if limit.holds == YES]
        if self.statuses == ("capped",) and self.cap is not None:
            sure.append(self.cap)
        if "void" not in self.statuses and len(self.statuses) == 1 and self.rated.high < inf:
            sure.append(self.rated.high)
        return min(sure, default=None)

    @property
    def ceiling_settled(self) -> bool:
        """Whether nothing unknown can bring a ceiling or a lower one."""
        rated = self.statuses == ("void",) or self.rated.known
        return self.settled and rated and all(limit.holds == YES for limit in self.for_good)

    @property
    def covers_vehicle(self) -> Truth:
        """Whether what is left of the tyre's speed covers the vehicle's."""
        found = 0
        for status in self.statuses:
            found |= self._covers(status)
        covered: Truth = YES if found == YES else NO if found == NO else EITHER
        for limit in self.for_good:
            within = covers(point(limit.kmh), self.vehicle)
            covered = both(covered, within if limit.holds == YES or within == YES else EITHER)
        return covered

    def _covers(self, status: Status) -> Truth:
        if status == "void":
            return NO
        if status == "retained":
            return covers(self.rated, self.vehicle)
        cap = Interval(0.0, inf) if self.cap is None else point(self.cap)
        return covers(Interval(min(cap.low, self.rated.low), min(cap.high, self.rated.high)), self.vehicle)


def speed_after_repair(tyres: list[PositionFacts], edition: Edition) -> Speed:
    """Return what is known of the speed; `tyres` are the facts of one case for each use the tyre may be in."""
    tyre = tyres[0]
    policy = tyre.case.tyre.maker_policy or _NO_POLICY
    found = over_all([applicable(edition, "speed_limits", one) for one in tyres])
    limits = [
        Limited(entry, both(holds, tyre.repaired) if entry.when in _AFTER_REPAIR else holds) for entry, holds in found
    ]
    limits.sort(key=lambda limit: _PERIODS.index(limit.provision.when))
    return Speed(
        statuses=possible_statuses(policy, tyre.repaired),
        repaired=tyre.repaired,
        cap=policy.speed_cap_kmh,
        rated=tyre.rated_kmh,
        vehicle=tyre.vehicle_kmh,
        limits=tuple(limit for limit in limits if limit.holds != NO),
    )


@lru_cache(maxsize=256)
def possible_statuses(policy: MakerPolicy, repaired: Truth) -> tuple[Status, ...]:
    """Return what may become of the rating: what its maker says, or all he might; as marked without a repair."""
    word = policy.speed_rating_after_repair
    if word is None and policy.speed_cap_kmh is not None:
        word = "capped"
    words = STATUSES if word is None else (word,)
    if repaired == YES:
        return words
    return ("retained",) if repaired == NO else tuple(status for status in STATUSES if status in ("retained", *words))


def service_speed(speed: Speed, tyres: list[PositionFacts], bound: BoundEdition) -> ServiceSpeed:
    """Return the speed as the answer gives it."""
    return _service_speed(speed, speed_of(tyres[0].marking_facts.marking), tyres[0].tyre_class, bound)


@lru_cache(maxsize=2048)
def _service_speed(speed: Speed, symbol: SpeedRating | None, of: TyreClass, bound: BoundEdition) -> ServiceSpeed:
    """Return the same for all tyres of a class of which the same is known."""
    ceiling = speed.ceiling
    rated = None if symbol is None else symbol.kmh if symbol.is_floor else speed.rated.low
    said = provisions_by_topic(bound.edition, "speed_after_repair", of).get("")
    citation = NOTHING_CITED if said is None else bound.cite_provision(said)
    return ServiceSpeed(
        status=status_of(speed),
        possible_statuses=speed.statuses if bound.full else (),
        rests_on=_rests_on(speed) if bound.full else None,
        symbol=symbol.symbol if symbol else None,
        rated_kmh=rated,
        rated_mph=mph(rated) if bound.full and rated is not None else None,
        rated_is_floor=symbol is not None and speed.rated.high == inf if bound.full else None,
        ceiling_kmh=None if ceiling is None else to_tenth(ceiling),
        ceiling_mph=None if ceiling is None else mph(ceiling),
        ceiling_settled=speed.ceiling_settled,
        vehicle_kmh=_span(speed.vehicle) if bound.full else None,
        covers_vehicle=CERTAIN[speed.covers_vehicle],
        ceilings=tuple(_ceilings(speed, bound)),
        says=_says(speed, bound.words),
        book_says=None if said is None else bound.words.limits.speed_words[said.word],
        clause="" if said is None else said.clause,
        basis=citation.basis,
        source=citation.source,
        cites=citation.cites,
    )


def _rests_on(speed: Speed) -> str:
    if speed.repaired == NO:
        return "marking"
    return "tyre_maker" if len(speed.statuses) == 1 else "nobody"


def status_of(speed: Speed) -> str:
    """Return the one status that is possible, or that none is confirmed."""
    return speed.statuses[0] if len(speed.statuses) == 1 else "not_confirmed"


def speed_figures(kmh: float, language: Language) -> dict[str, str]:
    """Return a speed for a text."""
    return {"speed": quantity(kmh, kmh, "km/h", language)}


def figures(provision: SpeedLimit, language: Language) -> dict[str, str]:
    """Return the figures of a limit, for a text."""
    hours, km = provision.for_hours, provision.for_km
    return {
        **speed_figures(limit_kmh(provision), language),
        "hours": "" if hours is None else quantity(hours, hours, "hours", language),
        "distance": "" if km is None else quantity(km, km, "km", language),
    }


def _says(speed: Speed, words: Wording) -> str:
    texts = words.limits.speed
    if speed.repaired == NO:
        return texts["as_marked"]
    status = status_of(speed)
    if status != "capped":
        return texts[status]
    if speed.cap is None:
        return texts["capped_no_figure"]
    return texts["capped"].format(**speed_figures(speed.cap, words.language))


def _ceilings(speed: Speed, bound: BoundEdition) -> Iterator[SpeedCeiling]:
    if "capped" in speed.statuses and speed.cap is not None:
        yield SpeedCeiling(
            when="maker_cap",
            max_kmh=to_tenth(speed.cap),
            max_mph=mph(speed.cap),
            for_hours=None,
            for_km=None,
            certain=speed.statuses == ("capped",),
            says=bound.words.limits.limits["maker_cap"].format(**speed_figures(speed.cap, bound.words.language)),
        )
    for limit in speed.limits:
        yield _ceiling(limit.provision, bound, certain=limit.holds == YES)


@lru_cache(maxsize=512)
def _ceiling(provision: SpeedLimit, bound: BoundEdition, *, certain: bool) -> SpeedCeiling:
    """Return the ceiling that a limit of the rulebook is."""
    kmh, citation = limit_kmh(provision), bound.cite_provision(provision)
    return SpeedCeiling(
        when=provision.when,
        max_kmh=to_tenth(kmh),
        max_mph=mph(kmh) if provision.max_mph is None else provision.max_mph,
        for_hours=provision.for_hours,
        for_km=provision.for_km,
        certain=certain,
        says=bound.words.limits.limits[provision.when].format(**figures(provision, bound.words.language)),
        clause=provision.clause,
        basis=citation.basis,
        source=citation.source,
        cites=citation.cites,
    )


def _span(vehicle: Interval) -> Observed | None:
    return None if vehicle == VEHICLE_KMH else Observed(low=vehicle.low, high=vehicle.high, unit="km/h")
