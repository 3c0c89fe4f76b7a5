"""Whether a case holds together: what contradicts itself, or the tyre it speaks of, is refused and not averaged."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import date
from operator import attrgetter
from typing import Any, Final

import msgspec

from mendgauge.case.case import Case, History, Position, Tyre, Vehicle
from mendgauge.case.contract import Measurement
from mendgauge.case.fields import MEASURED
from mendgauge.case.injury import EarlierRepair, Injury
from mendgauge.case.service import InService
from mendgauge.case.shop import house_times_flaws
from mendgauge.case.stock import stock_flaws
from mendgauge.core import geometry as crown
from mendgauge.core.errors import CaseError, Flaw
from mendgauge.core.interval import Interval
from mendgauge.core.vocabulary import Measured, Range
from mendgauge.facts.injury import GOES_THROUGH, METHODS_BY_HALVES, InjuryFacts
from mendgauge.facts.tyre import NEVER_IN_PAIRS, TyreFacts, age_of
from mendgauge.rulebooks import Edition, UnknownRulebookError, find_edition
from mendgauge.tyre.date_code import DateCodeError
from mendgauge.tyre.marking import Marking, MarkingError
from mendgauge.tyre.marking_facts import MarkingFacts, marking_facts_of

# A tape laid round a worn tread reads a little more or less than the circumference reckoned from the marking.
_TAPE_ALLOWANCE = 1.05

_LAST_YEAR = 2199
"""Of the days that a case is judged on: days are counted on from it, and the calendar ends with the year 9999."""


def check_case(case: Case, on: date) -> Edition:
    """Validate the case and return its edition. Raise `CaseError` with every contradiction."""
    try:
        edition = find_edition(case.rulebook)
        marking_facts = marking_facts_of(case.tyre.marking)
        if case.tyre.date_code is not None:
            age_of(case.tyre.date_code, on)
    except (UnknownRulebookError, MarkingError, DateCodeError):
        raise CaseError(tuple(_reading_flaws(case, on))) from None
    flaws = _flaws(case, marking_facts)
    if on.year > _LAST_YEAR:
        flaws.append(Flaw("/assessed_on", f"No case is judged on a day after {_LAST_YEAR}. Check the year."))
    if flaws:
        raise CaseError(tuple(flaws))
    return edition


def check_crossings(facts: list[TyreFacts]) -> None:
    """Require both sides of a channel to be where its lean and some thickness of the crown can bring them.

    `facts` are the case's for everything the tyre may be in use as. Raise `CaseError` where none of them explains it.
    """
    flaws = [
        Flaw(f"/injuries/{index}/other_side_across_mm", _crossing(facts[0].injuries[index]))
        for index in range(len(facts[0].injuries))
        if not any(_explained(tyre.injuries[index]) for tyre in facts)
    ]
    if flaws:
        raise CaseError(tuple(flaws))


def _explained(injury: InjuryFacts) -> bool:
    there = injury.other_side
    return there is None or any(span.low <= there.high and there.low <= span.high for span in _crossings(injury))


def _crossings(injury: InjuryFacts) -> list[Interval]:
    """Return where the channel can come out on the other side, for each side it may have been measured on."""
    return [injury.across.plus(crown.product(injury.thickness, shift)) for shift in injury.shifts]


def _crossing(injury: InjuryFacts) -> str:
    spans = " or ".join(f"{span.low:.4g} to {span.high:.4g} mm" for span in _crossings(injury))
    return f"This does not fit the lean and its direction. The other side can only be {spans} from the centre line."


def _reading_flaws(case: Case, on: date) -> Iterator[Flaw]:
    """Yield what cannot be read at all."""
    try:
        find_edition(case.rulebook)
    except UnknownRulebookError as error:
        yield Flaw("/rulebook", str(error))
    try:
        marking_facts_of(case.tyre.marking)
    except MarkingError as error:
        yield Flaw("/tyre/marking", str(error))
    try:
        if case.tyre.date_code is not None:
            age_of(case.tyre.date_code, on)
    except DateCodeError as error:
        yield Flaw("/tyre/date_code", str(error))


def _flaws(case: Case, marking_facts: MarkingFacts) -> list[Flaw]:
    flaws: list[Flaw] = []
    if case.vehicle is not None:
        _check_vehicle(case.vehicle, marking_facts, flaws)
    if case.position is not None:
        _check_position(case.position, case.vehicle, flaws)
    _check_tyre(case.tyre, marking_facts.marking, flaws)
    for index, injury in enumerate(case.injuries or ()):
        _check_injury(index, injury, marking_facts, flaws)
    for index, repair in enumerate(case.earlier_repairs or ()):
        _check_earlier(f"/earlier_repairs/{index}", repair, marking_facts, flaws)
    if case.history is not None:
        _check_history(case.history, flaws)
    if case.in_service is not None:
        _check_service(case.in_service, case.position, case.vehicle, flaws)
    if case.stock is not None:
        flaws.extend(stock_flaws(case.stock))
    if case.bench is not None:
        _check_ranges(case.bench, "/bench", flaws)
    if case.house_times is not None:
        flaws.extend(house_times_flaws(case.house_times))
    return flaws


def _check_vehicle(vehicle: Vehicle, marking_facts: MarkingFacts, flaws: list[Flaw]) -> None:
    _check_ranges(vehicle, "/vehicle", flaws)
    if vehicle.kind is not None and vehicle.kind not in marking_facts.uses_on:
        on = ", ".join(marking_facts.kinds)
        what = f"A tyre marked {marking_facts.marking} does not go on a {vehicle.kind}. It is for: {on}."
        flaws.append(Flaw("/vehicle/kind", what))


def _check_position(position: Position, vehicle: Vehicle | None, flaws: list[Flaw]) -> None:
    _check_ranges(position, "/position", flaws)
    if (
        vehicle is not None
        and vehicle.kind in NEVER_IN_PAIRS
        and position.fitment is not None
        and position.fitment != "single"
    ):
        what = f"A {vehicle.kind} has no dual wheels: make this `single`, or name the kind of vehicle that has."
        flaws.append(Flaw("/position/fitment", what))
    if position.axle == "steer" and position.steered is False:
        flaws.append(Flaw("/position/steered", "A steer axle steers. Leave `steered` out, or make it true."))
    kind = None if vehicle is None else vehicle.kind
    if position.axle == "front" and position.steered is False and kind not in (None, "trailer"):
        what = f"The front axle of a {kind} steers. Leave `steered` out, or make it true."
        flaws.append(Flaw("/position/steered", what))
    if position.steered and position.axle not in (None, "front", "steer"):
        flaws.append(Flaw("/position/axle", f"An axle that steers is `steer`, not `{position.axle}`."))


def _check_history(history: History, flaws: list[Flaw]) -> None:
    _check_ranges(history, "/history", flaws)
    distance = history.flat_distance_km
    if history.driven_flat is False and distance is not None and _least(distance) > 0.0:
        what = "It was driven flat for a distance, but `driven_flat` is false."
        flaws.append(Flaw("/history/flat_distance_km", what))


def _check_service(service: InService, position: Position | None, vehicle: Vehicle | None, flaws: list[Flaw]) -> None:
    _check_ranges(service, "/in_service", flaws)
    mates = service.axle_mates or ()
    pairs = [index for index, mate in enumerate(mates) if mate.place == "dual_mate"]
    for index, mate in enumerate(mates):
        _check_ranges(mate, f"/in_service/axle_mates/{index}", flaws)
        try:
            if mate.marking is not None:
                marking_facts_of(mate.marking)
        except MarkingError as error:
            flaws.append(Flaw(f"/in_service/axle_mates/{index}/marking", str(error)))
    if mates and position is not None and position.axle == "spare":
        what = "A spare is on no axle. Leave these out, or name the axle that the tyre goes to."
        flaws.append(Flaw("/in_service/axle_mates", what))
    single = position is not None and position.fitment == "single"
    if pairs and (single or (vehicle is not None and vehicle.kind in NEVER_IN_PAIRS)):
        what = "A tyre fitted singly has no dual mate. Make this `other_end`, or the fitment dual."
        flaws.append(Flaw(f"/in_service/axle_mates/{pairs[0]}/place", what))
    if len(pairs) > 1:
        what = "A dual pair has one mate. The other tyres of the axle are at the `other_end`."
        flaws.append(Flaw(f"/in_service/axle_mates/{pairs[1]}/place", what))


def _check_tyre(tyre: Tyre, marking: Marking, flaws: list[Flaw]) -> None:
    _check_ranges(tyre, "/tyre", flaws)
    left, new = tyre.tread_depth_mm, tyre.new_tread_depth_mm
    if left is not None and new is not None and (least := _least(left)) > (most := _most(new)):
        what = f"The tread left, {least:g} mm, is more than the {most:g} mm it had when new."
        flaws.append(Flaw("/tyre/tread_depth_mm", what))
    policy = tyre.maker_policy
    if (
        policy is not None
        and policy.speed_cap_kmh is not None
        and policy.speed_rating_after_repair in ("retained", "void")
    ):
        what = f"A {policy.speed_rating_after_repair} rating has no cap. Leave this out, or make the rating `capped`."
        flaws.append(Flaw("/tyre/maker_policy/speed_cap_kmh", what))
    traits = tyre.traits
    if traits is None:
        return
    if traits.temporary_spare is False and marking.temporary_spare:
        flaws.append(Flaw("/tyre/traits/temporary_spare", f"The marking {marking} is that of a temporary spare."))
    if traits.run_flat is False and marking.run_flat:
        flaws.append(Flaw("/tyre/traits/run_flat", f"The marking {marking} is that of a run-flat tyre."))
    if traits.tube_type is False and marking.tube_type:
        flaws.append(Flaw("/tyre/traits/tube_type", f"The marking {marking} is that of a tyre with a tube."))
    if traits.retread is False and marking.retread:
        flaws.append(Flaw("/tyre/traits/retread", f"The marking {marking} is that of a retread."))
    if (traits.run_flat and (traits.tube_type or marking.tube_type)) or (traits.tube_type and marking.run_flat):
        what = "A tyre with a tube is not a run-flat. Read on its sidewall which of the two it is."
        flaws.append(Flaw(f"/tyre/traits/{'run_flat' if traits.run_flat else 'tube_type'}", what))


def _check_injury(index: int, injury: Injury, marking_facts: MarkingFacts, flaws: list[Flaw]) -> None:
    _check_ranges(injury, f"/injuries/{index}", flaws)
    across, other_side, around = injury.across_mm, injury.other_side_across_mm, injury.around_mm
    in_tread = injury.region == "tread"
    if across is not None and _beyond(across, marking_facts.across_tread if in_tread else marking_facts.across):
        widest, where = (
            (marking_facts.across_tread, "in the tread") if in_tread else (marking_facts.across, "on the tyre")
        )
        flaws.append(_across_flaw(f"/injuries/{index}/across_mm", widest, where))
    if other_side is not None:
        place = f"/injuries/{index}/other_side_across_mm"
        if _beyond(other_side, marking_facts.across):
            flaws.append(_across_flaw(place, marking_facts.across, "on the tyre"))
        if across is None:
            flaws.append(Flaw(place, "Give `across_mm` too. This is where the same channel is on the other side."))
    if around is not None and _more_than_once_round(around, marking_facts):
        flaws.append(_around_flaw(f"/injuries/{index}/around_mm", marking_facts))
    if injury.object_in_place and (injury.stage == "prepared" or injury.plugged_from_outside):
        why = "A channel that was cut" if injury.stage == "prepared" else "A hole with a string or plug in it"
        what = f"{why} has no object left in it. Make this false, or leave it out."
        flaws.append(Flaw(f"/injuries/{index}/object_in_place", what))
    if injury.depth in ("rubber_only", "to_cord"):
        how_deep = "in the rubber alone" if injury.depth == "rubber_only" else "down to the cord"
        flaws.extend(
            Flaw(f"/injuries/{index}/{field}", f"An injury {how_deep} {_NOT_THROUGH[field]}.")
            for field, shows in GOES_THROUGH.items()
            if shows(injury)
        )


_NOT_THROUGH: Final = {
    "measured_from": "does not show on the inside. Make this `outside`, or the depth `through`",
    "other_side_across_mm": "does not come out on the other side. Leave this out, or make the depth `through`",
    "stage": "has no channel to prepare. Make this `found`, or the depth `through`",
}


def _check_earlier(place: str, repair: EarlierRepair, marking_facts: MarkingFacts, flaws: list[Flaw]) -> None:
    _check_ranges(repair, place, flaws)
    if repair.across_mm is not None and _beyond(repair.across_mm, marking_facts.across):
        flaws.append(_across_flaw(f"{place}/across_mm", marking_facts.across, "on the tyre"))
    if repair.around_mm is not None and _more_than_once_round(repair.around_mm, marking_facts):
        flaws.append(_around_flaw(f"{place}/around_mm", marking_facts))
    if repair.proper and repair.method in METHODS_BY_HALVES:
        what = f"A `{repair.method}` repair is never proper. Make this false, or correct the method."
        flaws.append(Flaw(f"{place}/proper", what))


def _beyond(across: Measured, widest: Interval) -> bool:
    if type(across) is Range:
        return across.low < widest.low or across.high > widest.high
    return not widest.low <= across <= widest.high


def _across_flaw(place: str, widest: Interval, where: str) -> Flaw:
    what = f"That is not {where}. It lies at most {widest.high:.4g} mm either side of the centre line."
    return Flaw(place, what)


def _more_than_once_round(around: Measured, marking_facts: MarkingFacts) -> bool:
    return _most(around) > marking_facts.circumference.high * _TAPE_ALLOWANCE


def _around_flaw(place: str, marking_facts: MarkingFacts) -> Flaw:
    least, most = marking_facts.circumference.low, marking_facts.circumference.high
    about = f"about {most:.0f}" if least == most else f"{least:.0f} to {most:.0f}"
    return Flaw(place, f"That is more than once round the tyre, which is {about} mm.")


def _check_ranges(section: msgspec.Struct, place: str, flaws: list[Flaw]) -> None:
    """Refuse every range in a section whose ends are out of order, or beyond the bounds of a bare number."""
    values = _MEASURED_VALUES[type(section)](section)
    if Range not in map(type, values):
        return
    for one, value in zip(MEASURED[type(section)], values, strict=True):
        if type(value) is not Range:
            continue
        where = f"{place}/{one.field}"
        if value.low > value.high:
            what = f"`low` is {value.low:g} and `high` is {value.high:g}; `low` may not be above `high`."
            flaws.append(Flaw(where, what))
        if value.low < one.low:
            flaws.append(Flaw(f"{where}/low", f"{value.low:g} is too small: the least is {one.low:g}."))
        if value.high > one.high:
            flaws.append(Flaw(f"{where}/high", f"{value.high:g} is too large: the most is {one.high:g}."))


def _values_of(fields: tuple[Measurement, ...]) -> Callable[[msgspec.Struct], tuple[Measured | None, ...]]:
    values: Callable[[msgspec.Struct], Any] = attrgetter(*(one.field for one in fields))
    return values if len(fields) > 1 else lambda section: (values(section),)


_MEASURED_VALUES: Final = {section: _values_of(fields) for section, fields in MEASURED.items()}


def _least(value: Measured) -> float:
    return value.low if type(value) is Range else value


def _most(value: Measured) -> float:
    return value.high if type(value) is Range else value
