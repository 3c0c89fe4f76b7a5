"""What a unit must be for a channel, why it is of one piece or of two, and how much room there is for its patch."""

from __future__ import annotations

from collections.abc import Iterator
from math import floor

from mendgauge.answers.base import CERTAIN
from mendgauge.answers.bound_edition import BoundEdition
from mendgauge.answers.figure import figure, span, tidy
from mendgauge.core.interval import EITHER, NO, YES, Interval, at_most
from mendgauge.facts.injury import LEAN
from mendgauge.operations.repair_units.answer import NeededUnit, Reason, Room
from mendgauge.operations.repair_units.choice import Kind
from mendgauge.operations.repair_units.fit import stem_length
from mendgauge.operations.repair_units.patch_room import largest_across, largest_round
from mendgauge.operations.repair_units.requirements import AskedOfUnit, Requirements
from mendgauge.wording import UnitWords
from mendgauge.wording.quantities import quantity


def when_of_kind(requirements: Requirements, kind: Kind, words: UnitWords) -> str:
    """Return on what lean and crown the unit is of a kind."""
    crown_to = requirements.house.max_one_piece_crown_mm
    found = []
    if at_most(requirements.lean, requirements.one_piece_to_deg) == EITHER:
        found.append(when_leaning(requirements, kind, words))
    if crown_to is not None and at_most(requirements.injury.tyre.crown_thickness, crown_to) == EITHER:
        found.append(words.when[f"{kind}_crown"].format(needs=quantity(crown_to, crown_to, "mm", words.language)))
    return " ".join(found)


def when_leaning(requirements: AskedOfUnit, kind: Kind, words: UnitWords) -> str:
    """Return on what lean the unit is of a kind."""
    lean_to = requirements.one_piece_to_deg
    return words.when[kind].format(needs=quantity(lean_to, lean_to, "deg", words.language))


def reasons_for_kind(requirements: Requirements, words: UnitWords) -> Iterator[Reason]:
    """Yield why the unit is of one piece, or of two, or undecided."""
    if requirements.filled_by_heat:
        yield Reason(code="filled_by_heat", says=words.because["filled_by_heat"])
        return
    if requirements.house.two_piece_only:
        yield Reason(code="house_two_piece", says=words.because["house_two_piece"])
        return
    lean_to, crown_to = requirements.one_piece_to_deg, requirements.house.max_one_piece_crown_mm
    lean = {YES: "lean_within", NO: "lean_over", EITHER: "lean_open"}[at_most(requirements.lean, lean_to)]
    yield _reason(lean, requirements.lean, lean_to, "deg", words)
    crown = requirements.injury.tyre.crown_thickness
    if crown_to is not None and (within := at_most(crown, crown_to)) != YES:
        yield _reason("crown_over" if within == NO else "crown_open", crown, crown_to, "mm", words)


def _reason(code: str, has: Interval, needs: float, unit: str, words: UnitWords) -> Reason:
    says = words.because["lean_unknown" if has == LEAN else code].format(
        has=quantity(has.low, has.high, unit, words.language), needs=quantity(needs, needs, unit, words.language)
    )
    return Reason(
        code=code,
        by=tidy(has.high - needs) if code.endswith("over") else None,
        unit=unit if code.endswith("over") else "",
        says=says,
    )


def needed_unit(requirements: AskedOfUnit, bound: BoundEdition) -> NeededUnit:
    """Return what a unit must be for a channel, at the most that its unknowns can ask."""
    length, proud = stem_length(requirements)
    reach = requirements.reach if requirements.reinforced == NO else requirements.reach_reinforced
    unit, stem = requirements.figures.unit, requirements.figures.stem_length
    patch_mm = tidy(requirements.mouth_long.high + 2.0 * reach.high)
    if not bound.full:
        return NeededUnit(
            stem_mm=span(requirements.channel),
            stem_length_mm=tidy(length.high),
            reinforced=CERTAIN[requirements.reinforced],
            patch_mm=patch_mm,
        )
    return NeededUnit(
        stem_mm=span(requirements.channel),
        stem_length_mm=tidy(length.high),
        proud_mm=tidy(proud.high),
        grip=figure(bound, stem, stem.grip_mm, stem.grip_mm, "mm"),
        reach=figure(bound, unit, reach.high, reach.high, "mm"),
        reinforced=CERTAIN[requirements.reinforced],
        patch_mm=patch_mm,
        patch_width_mm=tidy(requirements.mouth_across.high + 2.0 * reach.high),
        patch_length_mm=tidy(requirements.mouth_along.high + 2.0 * reach.high),
        carcass=requirements.carcass or "not_known",
        arrows=bound.words.units.arrows[requirements.carcass or "not_known"],
    )


def room_for_patch(requirements: Requirements, words: UnitWords) -> Room:
    """Return the largest round patch that surely lies under the tread and clear of the smallest neighbours."""
    across = largest_across(requirements.off_centre, requirements.shoulder)
    limits = [(across, "shoulder")]
    # Twenty holes beside fifty repairs are over a thousand neighbours: the nearest edges first.
    earlier = [one.distance.low - one.patch.high / 2.0 for one in requirements.neighbours if one.earlier]
    others = [one.distance.low - one.patch.high / 2.0 for one in requirements.neighbours if not one.earlier]
    for edges, what in ((earlier, "earlier_repair"), (others, "injury")):
        if edges:
            limits.append((largest_round(min(edges), requirements.gap.high), what))
    most, by = min(limits)
    none = "no_tread" if by == "shoulder" else "none"
    # Cut off where a quantity would be rounded up.
    largest = _cut_off(most, 1.0 if most >= 100.0 else 10.0)
    return Room(
        patch_mm=_cut_off(most, 1000.0),
        across_mm=_cut_off(across, 1000.0),
        limited_by=by,
        says=words.room[by if most > 0.0 else none].format(has=quantity(largest, largest, "mm", words.language)),
    )


def _cut_off(length: float, per_mm: float) -> float:
    """Round a largest length down: rounded up it would allow what does not fit."""
    # A millionth of a mm more keeps what is exact from falling to the part below.
    return floor((length + 1e-6) * per_mm) / per_mm
