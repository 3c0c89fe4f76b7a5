"""Choosing units for every channel of a tyre, all of one piece where that is allowed or open, or all of two."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from functools import lru_cache
from math import inf
from typing import Final, Literal, TypeAlias

import msgspec

from mendgauge.answers.figure import tidy
from mendgauge.core.interval import NO, YES, Truth
from mendgauge.facts.neighbours import Neighbour
from mendgauge.operations.repair_units.answer import PassedOver, Reason
from mendgauge.operations.repair_units.fit import Fit, Item, Miss
from mendgauge.operations.repair_units.patch_room import Patch, between, clear
from mendgauge.operations.repair_units.reasons import none_in_stock, reason, reason_for, worse_than
from mendgauge.operations.repair_units.requirements import AskedOfUnit, Requirements
from mendgauge.operations.repair_units.search import Assignment, Candidate, Option, Options, assign, candidate, useful
from mendgauge.operations.repair_units.shelf import Shelf
from mendgauge.wording import UnitWords

Kind: TypeAlias = Literal["one_piece", "two_piece"]
_APART: Final = ("stem", "patch")


class Picked(msgspec.Struct, frozen=True, eq=False):
    """What was chosen for every channel of a tyre, and from what.

    `fits` puts what each channel asks to a unit, the same for channels that ask alike. `beside` is where each channel
    lies beside each other one; none where it does not.
    """

    needs: tuple[Requirements, ...]
    shelf: Shelf
    fits: tuple[Fit, ...]
    beside: tuple[tuple[Neighbour | None, ...], ...]
    options: tuple[Options, ...]
    assignment: Assignment


def pick(needs: tuple[Requirements, ...], shelf: Shelf, on: date) -> Picked:
    """Return the best units from the shelf for all channels together; each need says whether one piece is allowed."""
    # Channels of which nothing tells one from another, as twenty of which nothing is known, have the same options.
    alike: dict[AskedOfUnit, tuple[Fit, Options]] = {}
    found = []
    for requirements in needs:
        asked = requirements.of_unit
        if asked not in alike:
            fit = Fit(asked, on)
            alike[asked] = fit, _options(asked, fit, shelf, len(needs))
        found.append(alike[asked])
    fits, options = tuple([fit for fit, _ in found]), tuple([each for _, each in found])
    beside = tuple([_beside(one, needs) for one in needs])

    def stay_clear(one: int, patch: Patch, other: int, other_patch: Patch) -> Truth:
        return _clear(needs[one], patch, beside[one][other], other_patch)

    return Picked(needs, shelf, fits, beside, options, assign(options, stay_clear))


def _beside(one: Requirements, needs: tuple[Requirements, ...]) -> tuple[Neighbour | None, ...]:
    of_index = {beside.index: beside for beside in one.neighbours if not beside.earlier}
    return tuple([of_index.get(other.injury.index) for other in needs])


def _options(asked: AskedOfUnit, fit: Fit, shelf: Shelf, channels: int) -> Options:
    units = _useful_of_nominal(shelf, asked, channels) if shelf.nominal else _useful_units(shelf, asked, fit, channels)
    return Options(*units, one_piece_allowed=asked.one_piece != NO)


Units: TypeAlias = tuple[tuple[Candidate, ...], tuple[Candidate, ...], tuple[Candidate, ...]]
"""Units of one piece, stems and patches."""


@lru_cache(maxsize=1024)
def _useful_of_nominal(shelf: Shelf, asked: AskedOfUnit, channels: int) -> Units:
    """Return the useful units of the nominal sizes, which never expire. Kept, as few patterns of facts are common."""
    return _useful_units(shelf, asked, Fit(asked, date.min), channels)


def _useful_units(shelf: Shelf, asked: AskedOfUnit, fit: Fit, channels: int) -> Units:
    """Return the units for a channel that can be part of the best assignment for so many."""
    one_piece = useful(_candidates(shelf.one_piece, asked, fit), channels) if asked.one_piece != NO else ()
    # With no other channel in the way, a unit of one piece that surely does is never bettered by two.
    if channels == 1 and any(not one.open for one in one_piece):
        return one_piece, (), ()
    stems, patches = (useful(_candidates(items, asked, fit), channels) for items in (shelf.stems, shelf.patches))
    return one_piece, stems, patches


def _candidates(items: tuple[Item, ...], asked: AskedOfUnit, fit: Fit) -> list[Candidate]:
    """Return the units that fit a channel or may.

    While the cutter is open, the thickest stem comes first: the largest cutter that may be needed cleans every hole.
    """
    questions = [(one, fit.open_questions(one)) for one in items]
    found = [candidate(one, open_ones) for one, open_ones in questions if open_ones is not None]
    return found if asked.channel.known else sorted(found, key=lambda one: -(one.item.unit.stem_mm or 0.0))


def _clear(one: Requirements, patch: Patch, beside: Neighbour | None, other_patch: Patch) -> Truth:
    return YES if beside is None else clear(patch, other_patch, beside.sideways, beside.along, one.gap)


def meeting(picked: Picked, channel: int, option: Option) -> Iterator[Miss]:
    """Yield the chosen patches of other channels that an option's patch meets, or may meet."""
    requirements = picked.needs[channel]
    for other, chosen in enumerate(picked.assignment.options):
        if other == channel or chosen is None:
            continue
        beside = picked.beside[channel][other]
        answer = _clear(requirements, option.patch, beside, chosen.patch)
        if beside is not None and answer != YES:
            apart = between(option.patch, chosen.patch, beside.sideways.low, beside.along.low)
            yield Miss("meets_injury", answer, has=str(beside.index), by=requirements.gap.high - apart, unit="mm")


def _taken(picked: Picked, channel: int) -> dict[int, int]:
    """Return how many of each unit the other channels take."""
    taken: dict[int, int] = {}
    for other, chosen in enumerate(picked.assignment.options):
        if other != channel and chosen is not None:
            for piece in chosen.pieces:
                taken[piece.item.index] = taken.get(piece.item.index, 0) + 1
    return taken


def _used_up(taken: dict[int, int], one: Item) -> bool:
    """Return whether others take all there is of a unit."""
    used = taken.get(one.index, 0)
    return used > 0 and used + 1 > one.on_hand


def passed_over(picked: Picked, channel: int, words: UnitWords) -> Iterator[PassedOver]:
    """Yield every unit of the shelf that was not taken for a channel, with the reasons."""
    chosen = picked.assignment.options[channel]
    taken = () if chosen is None else tuple(piece.item.index for piece in chosen.pieces)
    for one in picked.shelf.items:
        if one.index in taken:
            continue
        missed = picked.fits[channel].missed(one)
        broken = tuple(reason_for(miss, words) for miss in missed if miss.answer == NO)
        yield PassedOver(
            code=one.unit.code, reasons=broken or _not_the_best(picked, channel, candidate(one, missed), words)
        )


def _not_the_best(picked: Picked, channel: int, one: Candidate, words: UnitWords) -> tuple[Reason, ...]:
    """Return why a unit that does, or may, was not taken."""
    chosen = picked.assignment.options[channel]
    rival = None if chosen is None else _rival(one, chosen)
    if chosen is not None and len(chosen.pieces) == 1 and rival is None:
        return (reason("one_piece_does", words, sure=not chosen.pieces[0].open),)
    if rival is None or one.cost < rival.cost:
        blocked = tuple(_blocked(picked, channel, one, words))
        if blocked:
            return blocked
    if rival is not None:
        return (*(reason_for(miss, words) for miss in one.open), worse_than(one, rival, words))
    if chosen is not None:
        return (*(reason_for(miss, words) for miss in one.open), reason("hangs_on_more", words))
    if one.item.unit.kind == "one_piece":
        return (reason("not_tried", words),)
    return (
        reason("alone", words, has=" or ".join(words.names[kind] for kind in _APART if kind != one.item.unit.kind)),
    )


def _rival(one: Candidate, chosen: Option) -> Candidate | None:
    """Return the piece that was chosen in a unit's place."""
    return next((piece for piece in chosen.pieces if piece.item.unit.kind == one.item.unit.kind), None)


def _blocked(picked: Picked, channel: int, one: Candidate, words: UnitWords) -> Iterator[Reason]:
    """Yield what the other channels' units leave no room or no piece for."""
    if _used_up(_taken(picked, channel), one.item):
        yield reason("used_up", words, has=f"{one.item.on_hand:g}")
    yield from (reason_for(miss, words) for miss in _surely_met(picked, channel, one))


def _surely_met(picked: Picked, channel: int, one: Candidate) -> Iterator[Miss]:
    if one.item.patch is not None:
        alone = Option((one,), one.item.patch, one.cost)
        yield from (miss for miss in meeting(picked, channel, alone) if miss.answer == NO)


def nothing_fits(picked: Picked, channel: int, words: UnitWords) -> Reason | None:
    """Return by how much the nearest unit fails, where a channel is left without one."""
    if picked.assignment.options[channel] is not None:
        return None
    options = picked.options[channel]
    if options:
        return _nearest_in_the_way(picked, channel, words)
    fitting = {"stem": options.stems, "patch": options.patches}
    kinds = ["one_piece"] if picked.needs[channel].one_piece != NO else []
    return next(_nearest(picked, channel, [*kinds, *(kind for kind in _APART if not fitting[kind])], words))


def _nearest_in_the_way(picked: Picked, channel: int, words: UnitWords) -> Reason:
    """Word the best unit for this channel that meets another channel's patch, or whose stock the others use up."""
    pieces = _in_the_way(picked, channel)
    blocked = tuple(one for piece in pieces for one in _blocked(picked, channel, piece, words))
    return _nearest_unit(pieces[0].item, blocked or (reason("not_tried", words),), words)


def _in_the_way(picked: Picked, channel: int) -> tuple[Candidate, ...]:
    """Return the unit of one piece, or stem and patch, that is least in the way: not used up, least too near, cheapest.

    How near a patch is does not hang on its stem: each is with the first stem that is left, or else with the first.
    """
    options, taken = picked.options[channel], _taken(picked, channel)
    units: list[tuple[Candidate, ...]] = [(one,) for one in options.one_piece]
    if options.stems:
        stem = min(options.stems, key=lambda one: _used_up(taken, one.item))
        units += [(stem, patch) for patch in options.patches]
    ranked = sorted(
        (any(_used_up(taken, piece.item) for piece in pieces), options.of(pieces).cost, place)
        for place, pieces in enumerate(units)
    )
    least_used, _, least = ranked[0]
    least_by = inf
    for used, _, place in ranked:
        if used != least_used or least_by == 0.0:
            break
        by = max([0.0, *(tidy(miss.by or 0.0) for miss in _surely_met(picked, channel, units[place][-1]))])
        if by < least_by:
            least, least_by = place, by
    return units[least]


def _nearest(picked: Picked, channel: int, kinds: list[str], words: UnitWords) -> Iterator[Reason]:
    """Yield the nearest miss among units of some kinds: the fewest failed questions, then the least amiss."""
    near = []
    for one in picked.shelf.items:
        if one.unit.kind not in kinds:
            continue
        failed = [miss for miss in picked.fits[channel].missed(one) if miss.answer == NO]
        if failed:
            near.append((len(failed), max(miss.by or 0.0 for miss in failed), one.index, one, failed))
    if near:
        _, _, _, one, failed = min(near)
        yield _nearest_unit(one, tuple(reason_for(miss, words) for miss in failed), words)
        return
    missing = none_in_stock(kinds[0], words)
    yield Reason(code=missing.code, says=words.nothing_fits["none"].format(says=missing.says))


def _nearest_unit(one: Item, reasons: tuple[Reason, ...], words: UnitWords) -> Reason:
    says = " ".join(one.says for one in reasons)
    first = reasons[0]
    return Reason(
        code=first.code,
        by=first.by,
        unit=first.unit,
        says=words.nothing_fits["nearest"].format(code=one.unit.code, says=says),
    )
