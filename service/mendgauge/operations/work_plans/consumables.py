"""What a repair uses up: by the tyre, by the injury, or by the area that is coated with cement."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from math import pi
from typing import Final

from mendgauge.answers.figure import tidy
from mendgauge.case.shop import house_times_pointer
from mendgauge.core.errors import Flaw
from mendgauge.core.interval import NO, YES, Interval
from mendgauge.core.vocabulary import Range
from mendgauge.operations.repair_units.answer import Choice, InjuryUnit
from mendgauge.operations.repair_units.requirements import figures
from mendgauge.operations.work_plans.answer import ConsumableUsed
from mendgauge.operations.work_plans.book_figures import coats
from mendgauge.operations.work_plans.bound_procedure import bound_procedure
from mendgauge.operations.work_plans.job import Job, hull
from mendgauge.operations.work_plans.step_selection import apply
from mendgauge.rulebooks.schema.procedure import Coats, ConsumableRule, Procedure
from mendgauge.tyre.tyre_class import TyreClass

HOUSE_QUANTITY: Final = "House quantity sent with the case"
_MM2_IN_CM2: Final = 100.0


def used_up(job: Job) -> Iterator[ConsumableUsed]:
    """Yield what the whole job uses up, in the procedure's order."""
    words = bound_procedure(job.bound)
    for rule in job.procedure.consumables:
        applied = apply(words, job.conditions, rule.classes, rule.kinds, rule.when)
        if applied.holds == NO:
            continue
        house = job.house.quantities.get(rule.code)
        quantity = _quantity(job, rule) if house is None else _given(house)
        provenance = (
            job.bound.provenance(rule.basis, job.procedure.source(rule))
            if house is None
            else job.bound.provenance("house_rule", HOUSE_QUANTITY)
        )
        yield ConsumableUsed(
            code=rule.code,
            title=job.bound.in_language(rule.title),
            low=tidy(quantity.low if applied.holds == YES else 0.0),
            high=tidy(quantity.high),
            unit=rule.unit,
            only_if=applied.only_if,
            basis=provenance.basis,
            source=provenance.source,
            note=job.bound.in_language(rule.note) if house is None and job.bound.full else "",
        )


def unknown_codes(procedure: Procedure, given: Iterable[str]) -> Iterator[Flaw]:
    """Yield what the shop gave a quantity of and the procedure does not use up."""
    known = {rule.code for rule in procedure.consumables}
    for code in given:
        if code not in known:
            what = f"Nothing of that code is used up; there are {', '.join(sorted(known))}."
            yield Flaw(house_times_pointer("quantities", code), what)


def _given(house: float | Range) -> Interval:
    return Interval(house.low, house.high) if isinstance(house, Range) else Interval(house, house)


def _quantity(job: Job, rule: ConsumableRule) -> Interval:
    if rule.per == "tyre":
        return Interval(rule.low, rule.high)
    if rule.per == "injury":
        return _for_all(job, {injury: Interval(rule.low, rule.high) for injury in job.channels})
    coated = {injury: coated_cm2(job, unit) for injury, unit in job.channels.items()}
    films = {
        injury: Interval(
            area.low * rule.low * rule.brush_factor,
            area.high * rule.high * rule.brush_factor,
        )
        for injury, area in coated.items()
    }
    return _for_all(job, films)


def _for_all(job: Job, of_injury: dict[int, Interval]) -> Interval:
    """Add up for every injury that goes through; where none surely does, for one of them at the least."""
    high = sum(amount.high for amount in of_injury.values())
    sure = [of_injury[injury].low for injury in job.conditions.surely_worked_on]
    return Interval(sum(sure) if sure else min(amount.low for amount in of_injury.values()), high)


def coated_cm2(job: Job, unit: InjuryUnit) -> Interval:
    """Return the area coated at one injury, cm2: the buffed liner and the wall of the channel, each coat counted."""
    return hull([_coated(job, of, unit, choice) for of in job.conditions.classes for choice in unit.choices])


def _coated(job: Job, of: TyreClass, unit: InjuryUnit, choice: Choice) -> Interval:
    on_liner, in_channel = coats(job.edition, of, "liner"), coats(job.edition, of, "channel")
    return _coats(on_liner, _buffed_cm2(job, of, choice)).plus(_coats(in_channel, _wall_cm2(unit)))


def _coats(times: Coats, area: Interval) -> Interval:
    return Interval(area.low * times.low_times, area.high * times.high_times)


def _wall_cm2(unit: InjuryUnit) -> Interval:
    channel = unit.channel
    if channel is None:
        return Interval(0.0, 0.0)
    diameter, length = channel.cutter_mm, channel.length_mm
    return Interval(pi * diameter.low * length.low, pi * diameter.high * length.high).times(1.0 / _MM2_IN_CM2)


def _buffed_cm2(job: Job, of: TyreClass, choice: Choice) -> Interval:
    """Return the buffed area of the unit that was chosen, or of the least patch that would do where none was."""
    area = 0.0
    if choice.chosen is not None and choice.chosen.buffed is not None:
        area = choice.chosen.buffed.area_cm2
    elif choice.needed is not None:
        margin = figures(job.edition, of).unit.buffed_margin_mm
        area = pi / 4.0 * (choice.needed.patch_mm + 2.0 * margin) ** 2 / _MM2_IN_CM2
    return Interval(area, area)
