"""Choosing units for every channel of a tyre, all of one piece where that is allowed or open, or all of two."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date
from math import inf
from typing import Final, Literal, TypeAlias

import msgspec

from mendgauge.answers.figure import tidy
from mendgauge.core.interval import NO, YES, Interval, Truth
from mendgauge.facts.neighbours import Neighbour
from mendgauge.operations.repair_units.answer import PassedOver, Reason
from mendgauge.operations.repair_units.fit import Fit, Item, Miss
from mendgauge.operations.repair_units.patch_room import ROUNDING, Patch, between, clear
from mendgauge.operations.repair_units.reasons import none_in_stock, reason, reason_for, worse_than
from mendgauge.operations.repair_units.requirements import AskedOfUnit, Requirements
from mendgauge.operations.repair_units.search import Assignment, Candidate, Option, Options, assign, candidate, useful
from mendgauge.operations.repair_units.shelf import Shelf, with_made_to_measure
from mendgauge.wording import UnitWords

Kind: TypeAlias = Literal["one_piece", "two_piece"]
_APART: Final = ("stem", "patch")


class Channels(msgspec.Struct, frozen=True, eq=False):
    """What every channel of a tyre asks for, and where it lies beside the others.

    `fits` put what each asks to a unit, the same for channels that ask alike. `beside` is where each lies beside each
    other one; none where it does not.
    """

    needs: tuple[AskedOfUnit, ...]
    fits: tuple[Fit, ...]
    beside: tuple[tuple[Neighbour | None, ...], ...]


class Picked(msgspec.Struct, frozen=True, eq=False):
    """What was chosen for every channel of a tyre, and from what; `others` are those of a channel, found when asked."""

    channels: Channels
    shelf: Shelf
    options: tuple[Options, ...]
    assignment: Assignment
    others: dict[int, Others] = msgspec.field(default_factory=dict)


def channels_of(needs: tuple[Requirements, ...], on: date) -> Channels:
    """Return the channels of a tyre by what they ask for; each need says whether one piece is allowed."""
    if len(needs) == 1:
        return lone_channel(needs[0].of_unit, on)
    # Channels of which nothing tells one from another, as twenty of which nothing is known, are put to a unit once.
    alike: dict[AskedOfUnit, Fit] = {}
    of_unit = tuple([one.of_unit for one in needs])
    fits = tuple([alike.setdefault(asked, Fit(asked, on)) for asked in of_unit])
    places = {one.injury.index: place for place, one in enumerate(needs)}
    return Channels(of_unit, fits, tuple([_beside(one, places) for one in needs]))


def lone_channel(asked: AskedOfUnit, on: date) -> Channels:
    """Return the one channel of a tyre by what it asks for."""
    return Channels((asked,), (Fit(asked, on),), ((None,),))


def _beside(one: Requirements, places: dict[int, int]) -> tuple[Neighbour | None, ...]:
    found: list[Neighbour | None] = [None] * len(places)
    for beside in one.neighbours:
        if not beside.earlier and (place := places.get(beside.index)) is not None:
            found[place] = beside
    return tuple(found)


def lean_of(kind: Kind, undecided: AskedOfUnit) -> Interval:
    """Return the part of an undecided channel's lean at which its unit is one of one piece, or of two."""
    lean, to = undecided.lean, undecided.one_piece_to_deg
    return Interval(lean.low, to) if kind == "one_piece" else Interval(to, lean.high)


def pick(channels: Channels, shelf: Shelf, most_steps: int) -> Picked:
    """Return the best units from the shelf for all channels together, as far as so many steps lead."""
    needs, beside, count = channels.needs, channels.beside, len(channels.needs)
    of_fit = {fit: _options(fit, shelf, count) for fit in dict.fromkeys(channels.fits)}
    options = tuple([of_fit[fit] for fit in channels.fits])

    def stay_clear(one: int, patch: Patch, other: int, other_patch: Patch) -> Truth:
        there = beside[one][other]
        return YES if there is None else clear(patch, other_patch, there.sideways, there.along, needs[one].gap)

    return Picked(channels, shelf, options, assign(options, stay_clear, most_steps))


def pick_generic(channels: Channels, shelf: Shelf, most_steps: int) -> Picked:
    """Return the best generic sizes: the nominal ones, and where those leave a channel without, made to measure."""
    picked = pick(channels, shelf, most_steps)
    if None not in picked.assignment.options:
        return picked
    return pick(channels, with_made_to_measure(shelf, channels.needs), most_steps)


def _options(fit: Fit, shelf: Shelf, channels: int) -> Options:
    return Options(*_useful_units(shelf, fit, channels), one_piece_allowed=fit.asked.one_piece != NO)


Units: TypeAlias = tuple[tuple[Candidate, ...], tuple[Candidate, ...], tuple[Candidate, ...]]
"""Units of one piece, stems and patches."""


def _useful_units(shelf: Shelf, fit: Fit, channels: int) -> Units:
    """Return the units for a channel that can be part of the best assignment for so many."""
    one_piece = useful(_candidates(shelf.one_piece, fit), channels) if fit.asked.one_piece != NO else ()
    # With no other channel in the way, a unit of one piece that surely does is never bettered by two.
    if channels == 1 and any(not one.open for one in one_piece):
        return one_piece, (), ()
    stems, patches = (useful(_candidates(items, fit), channels) for items in (shelf.stems, shelf.patches))
    return one_piece, stems, patches


def _candidates(items: tuple[Item, ...], fit: Fit) -> list[Candidate]:
    """Return the units that fit a channel or may.

    While the cutter is open, the thickest stem comes first: the largest cutter that may be needed cleans every hole.
    """
    questions = [(one, fit.open_questions(one)) for one in items]
    found = [candidate(one, open_ones) for one, open_ones in questions if open_ones is not None]
    return found if fit.asked.channel.known else sorted(found, key=lambda one: -(one.item.unit.stem_mm or 0.0))


class Others:
    """The units that were chosen for the other channels beside one: what they take, and where their patches lie."""

    __slots__ = ("_gap", "_patches", "_taken")

    def __init__(self, picked: Picked, channel: int) -> None:
        beside, self._gap = picked.channels.beside[channel], picked.channels.needs[channel].gap
        self._taken: dict[int, int] = {}
        self._patches: list[tuple[float, float, Neighbour, Patch]] = []
        for other, chosen in enumerate(picked.assignment.options):
            if other == channel or chosen is None:
                continue
            for piece in chosen.pieces:
                self._taken[piece.item.index] = self._taken.get(piece.item.index, 0) + 1
            if (there := beside[other]) is not None:
                # Each with how far its edge lies off, sideways and along, at the nearest.
                half_across, half_along = chosen.patch.half_across, chosen.patch.half_along
                self._patches.append(
                    (there.sideways.low - half_across, there.along.low - half_along, there, chosen.patch)
                )

    def use_up(self, one: Item) -> bool:
        """Return whether they take all there is of a unit."""
        used = self._taken.get(one.index, 0)
        return used > 0 and used + 1 > one.on_hand

    def met_by(self, patch: Patch) -> Iterator[Miss]:
        """Yield those of their patches that a patch of this channel meets, or may meet."""
        gap = self._gap
        far_across, far_along = patch.half_across + gap.high + ROUNDING, patch.half_along + gap.high + ROUNDING
        for across, along, there, other in self._patches:
            if across > far_across or along > far_along:
                continue
            answer = clear(patch, other, there.sideways, there.along, gap)
            if answer != YES:
                apart = between(patch, other, there.sideways.low, there.along.low)
                yield Miss("meets_injury", answer, has=str(there.index), by=gap.high - apart, unit="mm")


def others_of(picked: Picked, channel: int) -> Others:
    """Return what was chosen for the channels other than one."""
    found = picked.others.get(channel)
    if found is None:
        found = picked.others[channel] = Others(picked, channel)
    return found


def meeting(picked: Picked, channel: int, option: Option) -> Iterable[Miss]:
    """Return the chosen patches of other channels that an option's patch meets, or may meet."""
    return others_of(picked, channel).met_by(option.patch) if len(picked.channels.needs) > 1 else ()


def passed_over(picked: Picked, channel: int, words: UnitWords) -> Iterator[PassedOver]:
    """Yield every unit of the shelf that was not taken for a channel, with the reasons."""
    chosen = picked.assignment.options[channel]
    taken = () if chosen is None else tuple(piece.item.index for piece in chosen.pieces)
    for one in picked.shelf.items:
        if one.index in taken:
            continue
        missed = picked.channels.fits[channel].missed(one)
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
    if others_of(picked, channel).use_up(one.item):
        yield reason("used_up", words, has=f"{one.item.on_hand:g}")
    yield from (reason_for(miss, words) for miss in _surely_met(picked, channel, one))


def _surely_met(picked: Picked, channel: int, one: Candidate) -> Iterator[Miss]:
    if one.item.patch is not None:
        yield from (miss for miss in others_of(picked, channel).met_by(one.item.patch) if miss.answer == NO)


def nothing_fits(picked: Picked, channel: int, words: UnitWords) -> Reason | None:
    """Return by how much the nearest unit fails, where a channel is left without one."""
    if picked.assignment.options[channel] is not None:
        return None
    options = picked.options[channel]
    if options:
        return _nearest_in_the_way(picked, channel, words)
    fitting = {"stem": options.stems, "patch": options.patches}
    kinds = ["one_piece"] if picked.channels.needs[channel].one_piece != NO else []
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
    options, others = picked.options[channel], others_of(picked, channel)
    units: list[tuple[Candidate, ...]] = [(one,) for one in options.one_piece]
    if options.stems:
        stem = min(options.stems, key=lambda one: others.use_up(one.item))
        units += [(stem, patch) for patch in options.patches]
    ranked = sorted(
        (any(others.use_up(piece.item) for piece in pieces), options.of(pieces).cost, place)
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
        failed = [miss for miss in picked.channels.fits[channel].missed(one) if miss.answer == NO]
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
