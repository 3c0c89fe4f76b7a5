"""Which repair unit: how each channel is prepared, what it asks of a unit, and which unit was chosen for it.

Nothing is offered for a tyre that may not be repaired; where that is open the offer is conditional. What is chosen
surely does, whatever the unknown facts turn out to be, unless the answer says what it hangs on.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from decimal import Decimal
from functools import lru_cache
from math import floor
from typing import Any, Final

import msgspec

from mendgauge.answers.base import rulebook_used
from mendgauge.answers.caution import Caution
from mendgauge.answers.figure import Figure, figure, span, tidy
from mendgauge.answers.finding import quantity
from mendgauge.case.case import Case
from mendgauge.core.interval import EITHER, NO, YES, Interval, Truth, at_most
from mendgauge.core.vocabulary import Range
from mendgauge.intake.intake import Intake, take_in
from mendgauge.judging.questions import Ask, ToEstablish, in_words, missing
from mendgauge.judging.trial_answers import put
from mendgauge.operations.repair_units.answer import (
    Choice,
    Chosen,
    InjuryUnit,
    NeededUnit,
    Piece,
    Reason,
    RepairUnits,
    Room,
)
from mendgauge.operations.repair_units.choice import Kind, Picked, meeting, nothing_fits, passed_over, pick
from mendgauge.operations.repair_units.fit import stem_length
from mendgauge.operations.repair_units.patch_room import largest_across, largest_round, reach_past
from mendgauge.operations.repair_units.preparation import TOLD, channel_of, outline, preparation_of, size_limit
from mendgauge.operations.repair_units.reasons import tell
from mendgauge.operations.repair_units.requirements import Figures, Requirements, requirements_of
from mendgauge.operations.repair_units.search import Option
from mendgauge.operations.repair_units.shelf import Shelf, shelf_for
from mendgauge.operations.repairability import check_repairability
from mendgauge.operations.repairability.answer import Repairability
from mendgauge.operations.repairability.offer import deciding_findings, offer_for
from mendgauge.rulebooks import Edition
from mendgauge.wording import UnitWords, Wording, wording


def choose_repair_units(case: Case, today: date | None = None) -> RepairUnits:
    """How each injury of a case is prepared and which repair unit it takes, from the caller's stock if he sent any.

    `today` stands in for a missing `assessed_on`. Raises `CaseError` for a case that contradicts itself or names a
    rulebook that is not there.
    """
    return units_for(take_in(case, today), check_repairability(case, today))


def units_for(intake: Intake, verdict: Repairability) -> RepairUnits:
    """The same, of a case that was taken in and judged."""
    edition, words = intake.edition, wording(intake.edition.book.language)
    offer = offer_for(verdict)
    shelf = shelf_for(intake)
    needs = requirements_of(intake)
    channels = [requirements for requirements in needs if requirements.injury.through != NO]
    undecided = [requirements for requirements in channels if requirements.one_piece == EITHER]
    rounds = _rounds(intake, channels, undecided, shelf) if offer != "withheld" else ()
    return RepairUnits(
        reference=verdict.reference,
        rulebook=rulebook_used(edition),
        assessed_on=verdict.assessed_on,
        verdict=verdict.verdict,
        offer=offer,
        decided_by=deciding_findings(verdict),
        drawn_from="generic" if shelf.generic else "stock",
        injuries=tuple(_injury(requirements, rounds, intake, words) for requirements in needs),
        proven=all(one.picked.assignment.proven for one in rounds),
        to_establish=_to_establish(verdict.to_establish, rounds, undecided, words),
        cautions=(*verdict.cautions, *(_cautions(words.units, shelf.generic) if rounds else ())),
    )


class Round(msgspec.Struct, frozen=True, eq=False):
    """One choice for all channels: those that may be of one piece or of two are all taken for one, or all for two."""

    kind: Kind
    picked: Picked
    of_injury: dict[int, int]


def _rounds(
    intake: Intake, channels: list[Requirements], undecided: list[Requirements], shelf: Shelf
) -> tuple[Round, ...]:
    if not channels:
        return ()
    kinds: tuple[Kind, ...] = ("one_piece", "two_piece") if undecided else ("one_piece",)
    return tuple(_round(kind, intake, channels, undecided, shelf) for kind in kinds)


def _round(
    kind: Kind, intake: Intake, channels: list[Requirements], undecided: list[Requirements], shelf: Shelf
) -> Round:
    settled = channels
    if undecided:
        supposed = msgspec.structs.replace(intake, case=_supposing(kind, intake.case, undecided))
        of_round = {requirements.injury.index: requirements for requirements in requirements_of(supposed)}
        open_ones = {requirements.injury.index for requirements in undecided}
        answer: Truth = YES if kind == "one_piece" else NO
        settled = [
            msgspec.structs.replace(of_round[requirements.injury.index], one_piece=answer)
            if requirements.injury.index in open_ones
            else of_round[requirements.injury.index]
            for requirements in channels
        ]
    places = {requirements.injury.index: place for place, requirements in enumerate(settled)}
    return Round(kind, pick(tuple(settled), shelf, intake.on), places)


def _supposing(kind: Kind, case: Case, undecided: list[Requirements]) -> Case:
    """The case as it would be if every unit that is undecided were of one piece, or of two, for its lean or crown.

    Where lean and crown may each ask for two pieces, neither is settled by two pieces being asked for.
    """
    crown_to = undecided[0].house.max_one_piece_crown_mm
    crown = undecided[0].injury.tyre.crown_thickness
    crown_open = crown_to is not None and at_most(crown, crown_to) == EITHER
    for requirements in undecided:
        lean, to = requirements.lean, requirements.one_piece_to_deg
        if at_most(lean, to) != EITHER or (kind == "two_piece" and crown_open):
            continue
        part = Range(low=lean.low, high=to) if kind == "one_piece" else Range(low=to, high=lean.high)
        case = put(case, f"/injuries/{requirements.injury.index}/lean_deg", part)
    lean_open = any(at_most(requirements.lean, requirements.one_piece_to_deg) == EITHER for requirements in undecided)
    if crown_to is not None and crown_open and (kind == "one_piece" or not lean_open):
        part = Range(low=crown.low, high=crown_to) if kind == "one_piece" else Range(low=crown_to, high=crown.high)
        case = put(case, "/tyre/crown_thickness_mm", part)
    return case


def _injury(requirements: Requirements, rounds: tuple[Round, ...], intake: Intake, words: Wording) -> InjuryUnit:
    through = requirements.injury.through
    if through == NO:
        return InjuryUnit(
            injury=requirements.injury.index, goes_through="no", channel=None, limit=None, preparation=None, choices=()
        )
    edition = intake.edition
    told = rounds if requirements.one_piece == EITHER else rounds[:1]
    return InjuryUnit(
        injury=requirements.injury.index,
        goes_through=TOLD[through],
        channel=channel_of(requirements),
        limit=size_limit(requirements, edition, words),
        preparation=preparation_of(requirements, edition, words) if rounds else None,
        choices=tuple(_choice(requirements, one, intake, words.units) for one in told),
    )


def _choice(requirements: Requirements, one: Round, intake: Intake, words: UnitWords) -> Choice:
    picked, place = one.picked, one.of_injury[requirements.injury.index]
    settled = picked.needs[place]
    option = picked.assignment.options[place]
    kind: Kind = "two_piece" if settled.one_piece == NO else "one_piece"
    told = intake.case.explain or not picked.shelf.generic
    return Choice(
        kind=kind,
        when=_when(requirements, kind, words) if requirements.one_piece == EITHER else "",
        because=tuple(_because(requirements, words)),
        needed=_needed(settled, intake.edition, words),
        room=_room(settled, words),
        chosen=None if option is None else _chosen(picked, place, option, words),
        nothing_fits=nothing_fits(picked, place, words),
        passed_over=tuple(passed_over(picked, place, words)) if told else (),
    )


def _when(requirements: Requirements, kind: Kind, words: UnitWords) -> str:
    found = []
    lean_to, crown_to = requirements.one_piece_to_deg, requirements.house.max_one_piece_crown_mm
    if at_most(requirements.lean, lean_to) == EITHER:
        found.append(words.when[kind].format(needs=quantity(lean_to, lean_to, "deg")))
    if crown_to is not None and at_most(requirements.injury.tyre.crown_thickness, crown_to) == EITHER:
        found.append(words.when[f"{kind}_crown"].format(needs=quantity(crown_to, crown_to, "mm")))
    return " ".join(found)


def _because(requirements: Requirements, words: UnitWords) -> Iterator[Reason]:
    """Why the unit is of one piece, or of two, or undecided."""
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
    says = words.because[code].format(has=quantity(has.low, has.high, unit), needs=quantity(needs, needs, unit))
    return Reason(
        code=code,
        by=tidy(has.high - needs) if code.endswith("over") else None,
        unit=unit if code.endswith("over") else "",
        says=says,
    )


def _needed(requirements: Requirements, edition: Edition, words: UnitWords) -> NeededUnit:
    known = requirements.figures
    length, proud = stem_length(requirements)
    reach = requirements.reach if requirements.reinforced == NO else requirements.reach_reinforced
    return NeededUnit(
        stem_mm=span(requirements.channel),
        stem_length_mm=tidy(length.high),
        proud_mm=tidy(proud.high),
        grip=_grip(known, edition),
        reach=_reach(known, reach.high, edition),
        reinforced=TOLD[requirements.reinforced],
        patch_mm=tidy(requirements.mouth_long.high + 2.0 * reach.high),
        patch_width_mm=tidy(requirements.mouth_across.high + 2.0 * reach.high),
        patch_length_mm=tidy(requirements.mouth_along.high + 2.0 * reach.high),
        carcass=requirements.carcass or "not_known",
        arrows=words.arrows[requirements.carcass or "not_known"],
    )


@lru_cache(maxsize=256)
def _grip(known: Figures, edition: Edition) -> Figure:
    grip = known.stem_length.grip_mm
    return figure(edition, known.stem_length, grip, grip, "mm")


@lru_cache(maxsize=256)
def _reach(known: Figures, reach: float, edition: Edition) -> Figure:
    return figure(edition, known.unit, reach, reach, "mm")


def _room(requirements: Requirements, words: UnitWords) -> Room:
    """The largest round patch that surely has room, its neighbours' patches being the smallest that do."""
    within = Interval(
        min(requirements.band.low, requirements.shoulder.low), min(requirements.band.high, requirements.shoulder.high)
    )
    across = largest_across(requirements.off_centre, within)
    limits = [(across, "band" if requirements.band.low <= requirements.shoulder.low else "shoulder")]
    for neighbour in requirements.neighbours:
        least = largest_round(neighbour.distance.low, neighbour.patch.high, requirements.gap.high)
        limits.append((least, "earlier_repair" if neighbour.earlier else "injury"))
    most, by = min(limits)
    return Room(
        patch_mm=_cut_off(most, 1000.0),
        across_mm=_cut_off(across, 1000.0),
        limited_by=by,
        says=words.room[by if most > 0.0 else "none"].format(has=f"{_cut_off(most, 10.0):g} mm"),
    )


def _cut_off(length: float, per_mm: float) -> float:
    """A largest length to a part of a mm: rounded up it would allow what does not fit."""
    # A millionth of a mm more keeps what is exact from falling to the part below.
    return floor((length + 1e-6) * per_mm) / per_mm


def _chosen(picked: Picked, place: int, option: Option, words: UnitWords) -> Chosen:
    requirements = picked.needs[place]
    open_misses = [miss for piece in option.pieces for miss in piece.open]
    hangs_on = (*open_misses, *meeting(picked, place, option))
    prices = [piece.item.price for piece in option.pieces]
    unit = requirements.figures.unit
    return Chosen(
        kind="one_piece" if len(option.pieces) == 1 else "two_piece",
        certain=not hangs_on,
        hangs_on=tuple(tell(miss, words) for miss in hangs_on),
        pieces=tuple(
            Piece(
                code=piece.item.unit.code,
                kind=piece.item.unit.kind,
                generic=piece.item.generic,
                stem_mm=piece.item.unit.stem_mm,
                stem_length_mm=piece.item.unit.stem_length_mm,
                price=piece.item.unit.price,
            )
            for piece in option.pieces
        ),
        price=None if None in prices else f"{sum((price for price in prices if price), Decimal(0))}",
        patch=outline(option.patch),
        buffed=outline(option.patch.grown(unit.buffed_margin_mm)),
        cleaned=outline(option.patch.grown(requirements.figures.cleaned.margin_high_mm)),
        reach_mm=tidy(
            reach_past(
                option.patch,
                requirements.mouth_long.high,
                requirements.mouth_across.high,
                requirements.mouth_along.high,
            )
        ),
        arrows=words.arrows[requirements.carcass or "not_known"],
    )


_PLACE: Final = (
    "across",
    "around",
    "lean",
    "toward",
    "sides",
    "emerges",
    "crown_thickness",
    "tread_depth",
)
_LOOKS_AT: Final[dict[str, tuple[str, ...]]] = {
    "one_piece_lean": ("lean",),
    "one_piece_crown": ("crown_thickness",),
    "stem_diameter": ("diameter", "stages"),
    "stem_length": ("crown_thickness", "tread_depth", "emerges", "lean"),
    "largest_injury": ("diameter", "stages"),
    "largest_lean": ("lean",),
    "not_reinforced": ("diameter", "stages"),
    "patch_too_small": ("diameter", "stages", "lean", "toward"),
    "leaves_band": (*_PLACE, "tread_width"),
    "on_shoulder": (*_PLACE, "tread_width"),
    "meets_earlier_repair": (*_PLACE, "earlier_known", "neighbours"),
    "meets_injury": (*_PLACE, "neighbours"),
}
"""The facts behind each question of fit; what is not named hangs on the unit alone."""


def _to_establish(
    asked: tuple[ToEstablish, ...], rounds: tuple[Round, ...], undecided: list[Requirements], words: Wording
) -> tuple[ToEstablish, ...]:
    """The verdict's questions, then those that decide the unit alone, the one that settles most first."""
    settles: dict[str, dict[str, None]] = {}
    for question, requirements in _open_questions(rounds, undecided) if rounds else ():
        for field in missing(_LOOKS_AT.get(question, ()), requirements.injury):
            settles.setdefault(field, {})[question] = None
    told = [
        msgspec.structs.replace(one, settles=tuple({**dict.fromkeys(one.settles), **settles.pop(one.field, {})}))
        for one in asked
    ]
    rest = sorted(settles.items(), key=lambda entry: -len(entry[1]))
    return (*told, *(in_words(Ask(field, tuple(names), 0, 0.0), words) for field, names in rest))


def _open_questions(rounds: tuple[Round, ...], undecided: list[Requirements]) -> Iterator[tuple[str, Requirements]]:
    for one in rounds:
        for place, option in enumerate(one.picked.assignment.options):
            requirements = one.picked.needs[place]
            pieces: tuple[Any, ...] = () if option is None else option.pieces
            yield from ((miss.code, requirements) for piece in pieces for miss in piece.open)
            if option is not None:
                yield from ((miss.code, requirements) for miss in meeting(one.picked, place, option))
    for requirements in undecided:
        if at_most(requirements.lean, requirements.one_piece_to_deg) == EITHER:
            yield "one_piece_lean", requirements
        if requirements.house.max_one_piece_crown_mm is not None:
            yield "one_piece_crown", requirements


@lru_cache(maxsize=64)
def _cautions(words: UnitWords, generic: bool) -> tuple[Caution, ...]:
    codes = (*(("generic_sizes",) if generic else ()), "unit_maker")
    return tuple(caution(code, words) for code in codes)


def caution(code: str, words: UnitWords) -> Caution:
    """A caution on units and their stems."""
    text = words.cautions[code]
    return Caution(code=code, says=text.says, basis=text.basis, source=text.source)
