"""What to print beside a repaired tyre, for counter, driver and job file: what guidance must say."""

from __future__ import annotations

from collections.abc import Iterator
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


class _Due(msgspec.Struct, frozen=True):
    """A caveat to print: code, template values, and its provision if any."""

    code: str
    figures: dict[str, str] = {}
    provision: Provision | None = None


def caveats(found: CaveatInputs) -> tuple[Caveat, ...]:
    """Return the caveats to print, those to be acknowledged first."""
    due = [*_of_verdict(found), *_of_position(found), *_of_load(found), *_of_its_kind(found)]
    if found.verdict != "not_repairable":
        due += [*_of_speed(found), *_of_loading(found), *_of_repair(found)]
    worded = [_worded(one, found.bound) for one in due]
    return tuple(sorted(worded, key=lambda caveat: not caveat.acknowledge))


def _worded(due: _Due, bound: BoundEdition) -> Caveat:
    text, provision = bound.words.limits.caveats[due.code], due.provision
    provenance = bound.provenance(text.basis, text.source) if provision is None else bound.provenance_of(provision)
    return Caveat(
        code=due.code,
        short=text.short.format(**due.figures),
        long=text.long.format(**due.figures),
        to=text.to,
        acknowledge=text.acknowledge,
        basis=provenance.basis,
        source=provenance.source,
    )


def _of_verdict(found: CaveatInputs) -> Iterator[_Due]:
    if code := _VERDICT.get(found.verdict):
        yield _Due(code)


def _of_position(found: CaveatInputs) -> Iterator[_Due]:
    if found.position == NOT_HERE:
        why = _why_not_here(found)
        provision = why.rule.deciding(why.subject).provision
        yield _Due("not_in_this_position", {"why": finding(why, found.bound).says}, provision)
    if found.tyres[0].axle == "spare":
        yield _Due("spare_position")
    if label := _winter_label(found):
        yield _Due("winter_label", provision=label)


def _why_not_here(found: CaveatInputs) -> Judged:
    """Return the first rule that keeps the tyre out of its position."""
    return next(
        judged
        for judged in found.assessed[0].notable
        if judged.found == NOT_HERE and judged.rule.name != axle_load.DEFINITION.name
    )


def _winter_label(found: CaveatInputs) -> Provision | None:
    """Return the provision that lets a slower winter tyre run by its label, if this one does."""
    for one in found.assessed:
        for judged in one.notable:
            if judged.rule.name == speed_symbol.DEFINITION.name and judged.found == CAUTION:
                provision = judged.rule.deciding(one.facts).provision
                return provision if found.tyres[0].winter == found.tyres[0].labelled == YES else None
    return None


def _of_load(found: CaveatInputs) -> Iterator[_Due]:
    axle = found.axle
    if axle.shortfall is not None and axle.shortfall_percent is not None:
        short_by = {
            "load": _quantity(axle.shortfall.low, "kg", found),
            "percent": _quantity(axle.shortfall_percent.low, "percent", found),
        }
        provision = provision_for(found.bound.edition, "axle_load", found.tyres[0].tyre_class)
        yield _Due("load_short", short_by, provision)


def _of_loading(found: CaveatInputs) -> Iterator[_Due]:
    """Yield what to know of the load that the tyre is granted."""
    tyre = found.tyres[0]
    misread, index_alone = tyre.loading.agrees == NO, tyre.marking_facts.marking.light_truck and tyre.max_load == LOAD
    if misread or index_alone:
        provision = provision_for(found.bound.edition, "moulded_load", tyre.tyre_class)
        yield _Due("moulded_misread" if misread else "index_not_moulded", provision=provision)
    share = index_share(tyre)
    if share is not None and share.known and share.low < 1.0 and not tyre.marking_facts.marking.light_truck:
        yield _Due("load_falls", {"percent": _quantity(100.0 * share.low, "percent", found)})
    if all(one.tyre_class in _COMMERCIAL for one in found.tyres):
        yield _Due("no_load_for_slowness")
    yield _Due("pressure_by_table")


def _of_speed(found: CaveatInputs) -> Iterator[_Due]:
    speed = found.speed
    language = found.bound.words.language
    cap = {} if speed.cap is None else speed_figures(speed.cap, language)
    if speed.repaired != NO:
        status = status_of(speed)
        yield _Due(f"rating_{status}" if status != "capped" or cap else "rating_capped_no_figure", cap)
    if speed.ceiling is not None and covers(point(speed.ceiling), speed.vehicle) == NO:
        yield _Due("below_vehicle", speed_figures(speed.ceiling, language))
    if speed.rated.low > 0.0 and speed.rated.high == float("inf") and _marked(found):
        yield _Due("speed_floor", speed_figures(speed.rated.low, language))
    yield from _limits(found, since_repair=True)


def _of_its_kind(found: CaveatInputs) -> Iterator[_Due]:
    """Yield what holds of a temporary spare or a run-flat tyre, repaired or not."""
    yield from _limits(found, since_repair=False)


def _limits(found: CaveatInputs, *, since_repair: bool) -> Iterator[_Due]:
    for limit in found.speed.limits:
        if limit.holds == YES and limit.since_repair == since_repair:
            yield _Due(limit.provision.when, figures(limit.provision, found.bound.words.language), limit.provision)


def _marked(found: CaveatInputs) -> bool:
    marking = found.tyres[0].marking_facts.marking
    return marking.zr or marking.bracketed or marking.speed_in_size is not None


def _of_repair(found: CaveatInputs) -> Iterator[_Due]:
    tyre = found.tyres[0]
    if tyre.traits["foam_lined"] == YES:
        yield _Due("foam_refitted")
    if tyre.traits["self_sealing"] == YES:
        yield _Due("sealing_layer")
    if tyre.sealant == YES:
        yield _Due("sealant_cleaned")


def _quantity(value: float, unit: str, found: CaveatInputs) -> str:
    return quantity(value, value, unit, found.bound.words.language)
