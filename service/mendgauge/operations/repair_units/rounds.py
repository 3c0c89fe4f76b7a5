"""The choice for all channels at once: of one piece where that is allowed or open, of two where it is open or not."""

from __future__ import annotations

from typing import Final

import msgspec
from msgspec.structs import replace

from mendgauge.case.case import Case
from mendgauge.core.interval import EITHER, NO, YES, at_most
from mendgauge.core.vocabulary import Range
from mendgauge.facts.neighbours import lie_as, share_liners
from mendgauge.operations.repair_units.choice import Kind, Picked, channels_of, lean_of, pick, pick_generic
from mendgauge.operations.repair_units.requirements import (
    Requirements,
    asked_of,
    requirements_of,
    tyres_apart_of,
)
from mendgauge.operations.repair_units.shelf import Shelf, first_units, generic_shelf_of, shelf_of
from mendgauge.operations.workup import Workup, part


class Round(msgspec.Struct, frozen=True, eq=False):
    """One choice for all channels, of which those that are open are all taken for one piece, or all for two.

    `needs` are what each channel asks for then, `of_injury` its place among them by its injury; `generic` is the same
    from generic sizes, where the stock leaves some channel without a unit.
    """

    kind: Kind
    picked: Picked
    needs: tuple[Requirements, ...]
    of_injury: dict[int, int]
    generic: Picked | None


@part
def rounds_of(workup: Workup) -> tuple[Round, ...]:
    """Return one round, or two where one piece is open for some channel; none where no injury goes through."""
    channels = [requirements for requirements in requirements_of(workup) if requirements.injury.through != NO]
    if not channels:
        return ()
    undecided = [requirements for requirements in channels if requirements.one_piece == EITHER]
    kinds: tuple[Kind, ...] = ("one_piece", "two_piece") if undecided else ("one_piece",)
    shelf = shelf_of(workup)
    if not shelf.generic:
        shelf = first_units(shelf, _MOST_TRIED // (len(channels) * len(kinds)))
    return tuple([_round(kind, workup, shelf, channels, undecided, _MOST_STEPS // len(kinds)) for kind in kinds])


# Units held against channels in one answer: a stock of 200 for four channels, or for two of either kind.
_MOST_TRIED: Final = 800

# Patches held against each other in one answer, for each shelf: three holes with a stock of sixty take 340 at the most.
# Where these reach no share-out, as many again hand out what is left.
_MOST_STEPS: Final = 700


def _round(
    kind: Kind,
    workup: Workup,
    shelf: Shelf,
    needs: list[Requirements],
    undecided: list[Requirements],
    most_steps: int,
) -> Round:
    settled = tuple(_settled(kind, workup, needs, undecided) if undecided else needs)
    places = {requirements.injury.index: place for place, requirements in enumerate(settled)}
    channels = channels_of(settled, workup.on)
    if shelf.generic:
        return Round(kind, pick_generic(channels, shelf, most_steps), settled, places, None)
    picked = pick(channels, shelf, most_steps)
    served = None not in picked.assignment.options
    generic = None if served else pick_generic(channels, generic_shelf_of(workup), most_steps)
    return Round(kind, picked, settled, places, generic)


def _settled(
    kind: Kind, workup: Workup, needs: list[Requirements], undecided: list[Requirements]
) -> list[Requirements]:
    """Return what the channels ask for if every undecided unit is one of one piece, or of two."""
    case = _supposing(kind, workup, undecided)
    tyres = [tyre.supposing(case) for tyre in tyres_apart_of(workup)]
    workup.hold(tyres)
    share_liners(tyres)
    # The lean is narrowed, and a place by little: of a thousand pairs of repairs none is measured out anew.
    lie_as(tyres, workup.facts[0])
    asked, answer = asked_of(workup, tyres), YES if kind == "one_piece" else NO
    open_ones = {requirements.injury.index for requirements in undecided}
    of_needs = [asked[requirements.injury.index] for requirements in needs]
    return [replace(one, one_piece=answer) if one.injury.index in open_ones else one for one in of_needs]


def _supposing(kind: Kind, workup: Workup, undecided: list[Requirements]) -> Case:
    """Return the case as it would be if lean and crown made every undecided unit one of one piece, or of two.

    Where lean and crown may each ask for two pieces, neither is settled by two pieces being asked for.
    """
    crown_to = undecided[0].house.max_one_piece_crown_mm
    crown, tyre = undecided[0].injury.tyre.crown_thickness, workup.case.tyre
    crown_open = crown_to is not None and at_most(crown, crown_to) == EITHER
    injuries = [injury.given for injury in workup.facts[0].injuries]
    lean_open = False
    for requirements in undecided:
        index = requirements.injury.index
        if at_most(requirements.lean, requirements.one_piece_to_deg) != EITHER:
            continue
        lean_open = True
        if kind == "two_piece" and crown_open:
            continue
        lean = lean_of(kind, requirements)
        injuries[index] = replace(injuries[index], lean_deg=Range(low=lean.low, high=lean.high))
    if crown_to is not None and crown_open and (kind == "one_piece" or not lean_open):
        part = Range(low=crown.low, high=crown_to) if kind == "one_piece" else Range(low=crown_to, high=crown.high)
        tyre = replace(tyre, crown_thickness_mm=part)
    return replace(workup.case, injuries=tuple(injuries), tyre=tyre)
