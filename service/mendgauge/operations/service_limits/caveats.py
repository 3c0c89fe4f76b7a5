"""What to print beside a repaired tyre, for counter, driver and job file: what guidance must say."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import lru_cache
from typing import Final

import msgspec

from mendgauge.answers.bound_edition import BoundEdition
from mendgauge.answers.finding import finding
from mendgauge.core.interval import NO, YES, point
from mendgauge.facts.load import LOAD
from mendgauge.facts.position import PositionFacts
from mendgauge.judging.assessment import Assessment, Judged
from mendgauge.operations.service_limits.answer import Caveat
from mendgauge.operations.service_limits.load import AxleLoading, index_share
from mendgauge.operations.service_limits.speed import Speed, figures, speed_figures, status_of
from mendgauge.rulebooks.provision import Provision
from mendgauge.rulebooks.resolver import provision_for
from mendgauge.rules.outcome import CAUTION, NOT_HERE, Outcome
from mendgauge.rules.position import axle_load, speed_symbol
from mendgauge.rules.position.speed_symbol import covers
from mendgauge.tyre.tyre_class import TyreClass
from mendgauge.wording.quantities import quantity

_COMMERCIAL: Final = frozenset({"van", "truck", "bus"})
_VERDICT: Final = {
    "not_repairable": "not_repairable",
    "not_covered": "not_covered",
    "specialist": "specialist_only",
    "inspect": "verdict_open",
}


class CaveatInputs(msgspec.Struct, frozen=True):
    """All that the caveats are drawn from."""

    verdict: str
    speed: Speed
    axle: AxleLoading
    position: Outcome
    tyres: list[PositionFacts]
    assessed: list[Assessment]
    bound: BoundEdition


_NO_FIGURES: Final[Mapping[str, str]] = {}


def caveats(found: CaveatInputs) -> tuple[Caveat, ...]:
    """Return the caveats to print, those to be acknowledged first."""
    bound = found.bound
    due = [*_of_verdict(found), *_of_position(found), *_of_load(found), *_of_its_kind(found.speed, bound)]
    if found.verdict != "not_repairable":
        due += [*_of_speed(found.speed, _marked(found), bound), *_of_loading(found), *_of_repair(found)]
    return tuple(sorted(due, key=_not_acknowledged))


def _not_acknowledged(caveat: Caveat) -> bool:
    return not caveat.acknowledge


def _caveat(
    code: str, bound: BoundEdition, figures: Mapping[str, str] = _NO_FIGURES, provision: Provision | None = None
) -> Caveat:
    """Return a caveat with figures in its texts, resting on a provision where it has one."""
    text = bound.words.limits.caveats[code]
    provenance = bound.provenance(text.basis, text.source) if provision is None else bound.provenance_of(provision)
    return Caveat(
        code=code,
        short=text.short.format(**figures),
        long=text.long.format(**figures),
        to=text.to,
        acknowledge=text.acknowledge,
        basis=provenance.basis,
        source=provenance.source,
    )


@lru_cache(maxsize=1024)
def _plain(code: str, bound: BoundEdition) -> Caveat:
    """Return a caveat that says the same of every tyre."""
    return _caveat(code, bound)


def _of_verdict(found: CaveatInputs) -> Iterator[Caveat]:
    if code := _VERDICT.get(found.verdict):
        yield _plain(code, found.bound)


def _of_position(found: CaveatInputs) -> Iterator[Caveat]:
    if found.position == NOT_HERE:
        why = _why_not_here(found)
        provision = why.rule.deciding(why.subject).provision
        yield _caveat("not_in_this_position", found.bound, {"why": finding(why, found.bound).says}, provision)
    if found.tyres[0].axle == "spare":
        yield _plain("spare_position", found.bound)
    if label := _winter_label(found):
        yield _caveat("winter_label", found.bound, provision=label)


def _why_not_here(found: CaveatInputs) -> Judged:
    """Return the first rule that keeps the tyre out of its position."""
    return next(
        judged
        for judged in found.assessed[0].notable
        if judged.found == NOT_HERE and judged.rule.name != axle_load.DEFINITION.name
    )


def _winter_label(found: CaveatInputs) -> Provision | None:
    """Return the provision that lets a slower winter tyre run by its label, if this one does."""
    if not found.tyres[0].winter == found.tyres[0].labelled == YES:
        return None
    for one in found.assessed:
        for judged in one.notable:
            if judged.rule.name == speed_symbol.DEFINITION.name and judged.found == CAUTION:
                provision: Provision = judged.rule.deciding(one.facts).provision
                return provision
    return None


def _of_load(found: CaveatInputs) -> Iterator[Caveat]:
    axle = found.axle
    if axle.shortfall is not None and axle.shortfall_percent is not None:
        short_by = {
            "load": _quantity(axle.shortfall.low, "kg", found),
            "percent": _quantity(axle.shortfall_percent.low, "percent", found),
        }
        provision = provision_for(found.bound.edition, "axle_load", found.tyres[0].tyre_class)
        yield _caveat("load_short", found.bound, short_by, provision)


def _of_loading(found: CaveatInputs) -> tuple[Caveat, ...]:
    """Return what to know of the load that the tyre is granted."""
    tyre = found.tyres[0]
    light_truck = tyre.marking_facts.marking.light_truck
    misread, index_alone = tyre.loading.agrees == NO, light_truck and tyre.max_load == LOAD
    moulded = "moulded_misread" if misread else "index_not_moulded" if index_alone else None
    share = index_share(tyre)
    falls_to = share.low if share is not None and share.known and share.low < 1.0 and not light_truck else None
    commercial = all(one.tyre_class in _COMMERCIAL for one in found.tyres)
    return _loaded(moulded, tyre.tyre_class, falls_to, commercial, found.bound)


@lru_cache(maxsize=1024)
def _loaded(
    moulded: str | None, of: TyreClass, falls_to: float | None, commercial: bool, bound: BoundEdition
) -> tuple[Caveat, ...]:
    """Return the same of what is moulded, by its caveat, and the share that the load falls to, if it does."""
    return tuple(_each_of_loading(moulded, of, falls_to, commercial, bound))


def _each_of_loading(
    moulded: str | None, of: TyreClass, falls_to: float | None, commercial: bool, bound: BoundEdition
) -> Iterator[Caveat]:
    if moulded is not None:
        yield _caveat(moulded, bound, provision=provision_for(bound.edition, "moulded_load", of))
    if falls_to is not None:
        percent = 100.0 * falls_to
        yield _caveat("load_falls", bound, {"percent": quantity(percent, percent, "percent", bound.words.language)})
    if commercial:
        yield _plain("no_load_for_slowness", bound)
    yield _plain("pressure_by_table", bound)


@lru_cache(maxsize=1024)
def _of_speed(speed: Speed, marked: bool, bound: BoundEdition) -> tuple[Caveat, ...]:
    """Return what to know of the speed: the same for all tyres of which the same is known."""
    return tuple(_each_of_speed(speed, marked, bound))


def _each_of_speed(speed: Speed, marked: bool, bound: BoundEdition) -> Iterator[Caveat]:
    language = bound.words.language
    cap = {} if speed.cap is None else speed_figures(speed.cap, language)
    if speed.repaired != NO:
        status = status_of(speed)
        yield _caveat(f"rating_{status}" if status != "capped" or cap else "rating_capped_no_figure", bound, cap)
    if speed.ceiling is not None and covers(point(speed.ceiling), speed.vehicle) == NO:
        yield _caveat("below_vehicle", bound, speed_figures(speed.ceiling, language))
    if speed.rated.low > 0.0 and speed.rated.high == float("inf") and marked:
        yield _caveat("speed_floor", bound, speed_figures(speed.rated.low, language))
    yield from _limits(speed, bound, since_repair=True)


@lru_cache(maxsize=1024)
def _of_its_kind(speed: Speed, bound: BoundEdition) -> tuple[Caveat, ...]:
    """Return what holds of a temporary spare or a run-flat tyre, repaired or not."""
    return tuple(_limits(speed, bound, since_repair=False))


def _limits(speed: Speed, bound: BoundEdition, *, since_repair: bool) -> Iterator[Caveat]:
    for limit in speed.limits:
        if limit.holds == YES and limit.since_repair == since_repair:
            provision = limit.provision
            yield _caveat(provision.when, bound, figures(provision, bound.words.language), provision)


def _marked(found: CaveatInputs) -> bool:
    marking = found.tyres[0].marking_facts.marking
    return marking.zr or marking.bracketed or marking.speed_in_size is not None


def _of_repair(found: CaveatInputs) -> Iterator[Caveat]:
    tyre, bound = found.tyres[0], found.bound
    if tyre.traits["foam_lined"] == YES:
        yield _plain("foam_refitted", bound)
    if tyre.traits["self_sealing"] == YES:
        yield _plain("sealing_layer", bound)
    if tyre.sealant == YES:
        yield _plain("sealant_cleaned", bound)


def _quantity(value: float, unit: str, found: CaveatInputs) -> str:
    return quantity(value, value, unit, found.bound.words.language)
