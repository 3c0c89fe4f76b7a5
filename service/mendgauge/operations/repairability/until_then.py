"""What to tell the driver until the tyre is seen to: may it be driven, how, and how far.

It says no more than is known: a tyre that holds its pressure may be driven to the bench as long as nothing that was
seen speaks against it. A tyre that is off the vehicle, or was inspected off the rim, needs no such word.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from functools import lru_cache
from itertools import islice
from typing import Final, TypeAlias

import msgspec

from mendgauge.answers.bound_edition import BoundEdition
from mendgauge.core.interval import EITHER, NO, YES, Truth, any_of, at_most
from mendgauge.facts.injury import InjuryFacts
from mendgauge.facts.tyre import TyreFacts
from mendgauge.operations.repairability.answer import DriverAdvice, UntilThen
from mendgauge.operations.workup import Workup, part
from mendgauge.rulebooks.resolver import provisions_by_topic
from mendgauge.rulebooks.schema.limits import UntilThen as Provision
from mendgauge.rulebooks.schema.limits import UntilThenTopic
from mendgauge.rules.repair.history import run_low_share
from mendgauge.tyre.tyre_class import Use
from mendgauge.wording.quantities import quantity

_STRICTEST_FIRST: Final = ("no", "open", "to_the_bench")
_Topics: TypeAlias = tuple[tuple[UntilThenTopic, bool], ...]
"""States of a tyre, each with whether it surely is in it."""
_OBJECT: Final = {
    (False, True): "says",
    (False, False): "open",
    (True, True): "tube",
    (True, False): "tube_open",
}
"""Which text is said of an object, by whether the tyre has a tube and whether the object surely is in it."""
_SIDE: Final = frozenset({"sidewall", "bead"})


class _State(msgspec.Struct, frozen=True, gc=False):
    """All that the advice hangs on.

    `used_up` is whether it was driven without air as far as a run-flat tyre goes, `left_km` how far it still goes where
    it surely is one: what is kept hangs on as little as it can.
    """

    damaged: bool
    sidewall: bool
    driven_flat: Truth
    run_low: Truth
    losing_air: Truth
    run_flat: Truth
    used_up: bool
    left_km: float
    sealant: Truth
    object_in: Truth
    with_tube: bool
    in_pair: bool

    @property
    def airless(self) -> Truth:
        """Whether it was driven flat, ran low, or is losing air."""
        return any_of(any_of(self.driven_flat, self.run_low), self.losing_air)


@part
def until_then_of(workup: Workup) -> UntilThen | None:
    """Return what to tell the driver, the strictest over everything the tyre may be in use as; none off the road."""
    if _off_the_road(workup.facts[0]):
        return None
    bound = workup.bound
    found = [_advise(bound, tyre.use, _state_of(tyre, bound)) for tyre in workup.facts]
    if len(found) == 1:
        return found[0]
    known = [one for one in found if one is not None]
    return min(known, key=lambda one: _STRICTEST_FIRST.index(one.drive), default=None)


def hangs_on_losing_air(workup: Workup) -> bool:
    """Return whether what to tell the driver hangs on whether the tyre loses air, which nobody said."""
    advice = until_then_of(workup)
    return advice is not None and advice.drive == "open" and workup.facts[0].losing_air == EITHER


def _off_the_road(tyre: TyreFacts) -> bool:
    """Return whether the tyre is known to be off the vehicle, or off the rim."""
    case = tyre.case
    if case.inspection is not None and case.inspection.complete:
        return True
    if case.bench is not None and case.bench.wheel == "loose":
        return True
    return tyre.position.axle == "spare" or any(injury.given.stage == "prepared" for injury in tyre.injuries)


def _state_of(tyre: TyreFacts, bound: BoundEdition) -> _State:
    share = run_low_share(bound.edition, tyre.tyre_class)
    run_flat, driven_km = tyre.traits["run_flat"], tyre.flat_distance.low
    goes: Provision | None = provisions_by_topic(bound.edition, "until_then", tyre.tyre_class).get("run_deflated")
    goes_km = 0.0 if goes is None else goes.for_km or 0.0
    return _State(
        damaged=YES in tyre.conditions.values(),
        sidewall=any(map(_in_the_side, tyre.injuries)),
        driven_flat=tyre.driven_flat,
        run_low=EITHER if share is None else at_most(tyre.pressure, share),
        losing_air=tyre.losing_air,
        run_flat=run_flat,
        used_up=driven_km >= goes_km,
        left_km=goes_km - driven_km if run_flat == YES else 0.0,
        sealant=tyre.sealant,
        object_in=_some([injury.object_in for injury in tyre.injuries]),
        with_tube=tyre.traits["tube_type"] == YES,
        in_pair=tyre.position.fitment not in (None, "single"),
    )


def _in_the_side(injury: InjuryFacts) -> bool:
    return _SIDE.issuperset(injury.regions) and injury.depths != ("rubber_only",)


def _some(truths: Iterable[Truth]) -> Truth:
    found: Truth = NO
    for one in truths:
        found = any_of(found, one)
    return found


@lru_cache(maxsize=4096)
def _advise(bound: BoundEdition, use: Use, state: _State) -> UntilThen | None:
    """Return the advice in a state; none by an edition that has none."""
    said = provisions_by_topic(bound.edition, "until_then", use.tyre_class)
    return _Advice(bound, use, state, said).given() if said else None


class _Advice:
    """The advice on a tyre in a state, from what the edition says of its class."""

    def __init__(self, bound: BoundEdition, use: Use, state: _State, said: Mapping[str, Provision]) -> None:
        self.bound, self.use, self.state, self.said = bound, use, state, said
        self.run_flat = said.get("run_deflated")

    def given(self) -> UntilThen:
        """Return whether it may be driven, with what to tell the driver."""
        stops = tuple(self._stops())
        if stops and not (self._goes_on_without_air and not self._unsafe):
            return UntilThen(drive="no", max_kmh=None, for_km=None, says=(*stops, *self._beside_a_stop()))
        if self.state.airless == YES:
            return self._without_air()
        return self._with_air()

    @property
    def _unsafe(self) -> bool:
        return self.state.damaged or self.state.sidewall

    @property
    def _goes_on_without_air(self) -> bool:
        return self.state.run_flat == YES and self.run_flat is not None and not self.state.used_up

    def _stops(self) -> Iterator[DriverAdvice]:
        """Yield what surely ends the journey: of what is wrong with its air, the gravest alone."""
        state = self.state
        unsafe: _Topics = (("damaged", state.damaged), ("sidewall", state.sidewall))
        airless: _Topics = (
            ("driven_flat", state.driven_flat == YES),
            ("run_low", state.run_low == YES),
            ("losing_air", state.losing_air == YES),
        )
        yield from self._ending(unsafe)
        yield from islice(self._ending(airless), 1)

    def _ending(self, topics: _Topics) -> Iterator[DriverAdvice]:
        for topic, holds in topics:
            if holds and self.said[topic].drive == "no":
                yield self._line(topic)

    def _beside_a_stop(self) -> Iterator[DriverAdvice]:
        if self.run_flat is not None and not self._unsafe:
            if self.state.run_flat == YES:
                yield self._line("run_deflated", "used_up")
            elif self.state.run_flat == EITHER and not self.state.used_up:
                yield self._line("run_deflated", "open")
        if self.state.in_pair:
            yield self._line("pair")

    def _without_air(self) -> UntilThen:
        limit = self.said["run_deflated"]
        says = (self._line("run_deflated"),)
        return UntilThen(drive="to_the_bench", max_kmh=limit.max_kmh, for_km=self.state.left_km, says=says)

    def _with_air(self) -> UntilThen:
        state = self.state
        holds = state.airless == NO
        return UntilThen(
            drive="to_the_bench" if holds else "open",
            max_kmh=self.said["sealant"].max_kmh if state.sealant == YES else None,
            for_km=None,
            says=tuple(self._as_long_as_it_holds(holds)),
        )

    def _as_long_as_it_holds(self, holds: bool) -> Iterator[DriverAdvice]:
        state = self.state
        if not holds:
            yield self._line("losing_air" if state.losing_air == EITHER else "run_low", "open")
            if self._goes_on_without_air:
                yield self._line("run_deflated")
        yield self._line("holds_air", "says" if holds else "open")
        if state.sealant == YES:
            yield self._line("sealant")
        if state.object_in != NO:
            yield self._line("object", _OBJECT[state.with_tube, state.object_in == YES])
        if state.in_pair and not holds:
            yield self._line("pair")

    def _line(self, topic: UntilThenTopic, form: str = "says") -> DriverAdvice:
        provision, words = self.said[topic], self.bound.words.until_then[topic]
        text: str = getattr(words, form)
        if self.use.kind == "motorcycle":
            text = {"says": words.motorcycle, "open": words.motorcycle_open}.get(form) or text
        provenance = self.bound.provenance_of(provision)
        return DriverAdvice(
            code=topic,
            says=text.format(**self._figures(provision)),
            basis=provenance.basis,
            source=provenance.source,
            clause=provision.clause if self.bound.full else "",
        )

    def _figures(self, provision: Provision) -> dict[str, str]:
        language = self.bound.words.language
        share = run_low_share(self.bound.edition, self.use.tyre_class)
        figures = {} if share is None else {"share": quantity(share, share, "percent", language)}
        for name, value, unit in (("speed", provision.max_kmh, "km/h"), ("distance", provision.for_km, "km")):
            if value is not None:
                figures[name] = quantity(value, value, unit, language)
        return figures
