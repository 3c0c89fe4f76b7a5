"""The units for the one channel of a tyre, from nominal sizes: kept, as most tyres have one hole, like many others.

What is kept hangs on what the channel asks for, and not on where across the liner it opens: only whether its patch
reaches under the shoulder does, and is found for each case.
"""

from __future__ import annotations

from datetime import date
from functools import lru_cache

import msgspec
from msgspec.structs import replace

from mendgauge.answers.base import CERTAIN
from mendgauge.answers.bound_edition import BoundEdition
from mendgauge.core import geometry as crown
from mendgauge.core.interval import EITHER, NO, YES, Interval, negate
from mendgauge.facts.neighbours import across_if_shifted
from mendgauge.operations.repair_units.answer import Choice
from mendgauge.operations.repair_units.choice import Kind, lean_of, lone_channel, nothing_fits, pick_generic
from mendgauge.operations.repair_units.chosen import as_chosen
from mendgauge.operations.repair_units.needed import needed_unit, when_leaning
from mendgauge.operations.repair_units.patch_room import Patch, inside
from mendgauge.operations.repair_units.requirements import (
    AskedOfUnit,
    Requirements,
    as_supposed,
    requirements_of,
    tyres_apart_of,
)
from mendgauge.operations.repair_units.shelf import Shelf, shelf_of
from mendgauge.operations.workup import Workup, part


class Alone(msgspec.Struct, frozen=True):
    """The choices for the one channel of a tyre, and the questions of fit that they leave open."""

    choices: tuple[Choice, ...]
    open_questions: tuple[str, ...]


class _Channel(msgspec.Struct, frozen=True):
    """A channel by all that its unit hangs on: what it asks for, and what that comes to if it leans less, or more."""

    asked: AskedOfUnit
    thickness: Interval
    toward: Interval


class _Kept(msgspec.Struct, frozen=True, eq=False):
    """A choice for a channel wherever it opens, which is `shift` across the tread per mm of thickness."""

    choice: Choice
    patch: Patch | None
    shift: Interval
    open_questions: tuple[str, ...]


@part
def alone_of(workup: Workup) -> Alone | None:
    """Return the choices for the one channel of a tyre; none where other repairs, uses or a stock have a say in it."""
    shelf, bound = shelf_of(workup), workup.bound
    if bound.full or not shelf.nominal or not workup.facts[0].lone_injury:
        return None
    (requirements,) = requirements_of(workup)
    if requirements.injury.through == NO or (
        requirements.one_piece == EITHER and not _by_lean_alone(requirements, workup)
    ):
        return None
    channel = _Channel(requirements.of_unit, requirements.thickness, requirements.injury.toward)
    kept = _kept(channel, shelf, bound)
    return Alone(
        tuple([_in_place(one, requirements, workup) for one in kept]),
        tuple([question for one in kept for question in one.open_questions]),
    )


def _by_lean_alone(requirements: Requirements, workup: Workup) -> bool:
    """Return whether nothing but the lean decides between one piece and two, and between what either asks for."""
    injury = requirements.injury
    return (
        requirements.house.max_one_piece_crown_mm is None
        and injury.given.other_side_across_mm is None
        and len(tyres_apart_of(workup)) == 1
    )


def _in_place(kept: _Kept, requirements: Requirements, workup: Workup) -> Choice:
    """Return a choice with whether its patch reaches under the shoulder where the channel opens."""
    choice, patch = kept.choice, kept.patch
    if choice.chosen is None or patch is None:
        return choice
    across, injury = requirements.across, requirements.injury
    if requirements.one_piece == EITHER:
        across = as_supposed(across_if_shifted(injury, kept.shift), workup.opens_within.get(injury.index))
    under_shoulder = CERTAIN[negate(inside(patch, across.magnitude(), requirements.shoulder))]
    if choice.chosen.under_shoulder == under_shoulder:
        return choice
    return replace(choice, chosen=replace(choice.chosen, under_shoulder=under_shoulder))


@lru_cache(maxsize=4096)
def _kept(channel: _Channel, shelf: Shelf, bound: BoundEdition) -> tuple[_Kept, ...]:
    kinds: tuple[Kind, ...] = ("one_piece", "two_piece") if channel.asked.one_piece == EITHER else ("one_piece",)
    return tuple([_choose(kind, channel, shelf, bound) for kind in kinds])


def _choose(kind: Kind, channel: _Channel, shelf: Shelf, bound: BoundEdition) -> _Kept:
    """Return the choice for a channel; for one whose lean leaves it open, if its unit is one of a kind."""
    undecided, words = channel.asked.one_piece == EITHER, bound.words.units
    asked = _leaning(kind, channel) if undecided else channel.asked
    # Nominal sizes never expire.
    picked = pick_generic(lone_channel(asked, date.min), shelf, 1)
    (option,) = picked.assignment.options
    return _Kept(
        Choice(
            kind="two_piece" if asked.one_piece == NO else "one_piece",
            when=when_leaning(channel.asked, kind, words) if undecided else "",
            needed=needed_unit(asked, bound),
            chosen=None if option is None else as_chosen(option, asked, (), NO, bound),
            nothing_fits=nothing_fits(picked, 0, words),
        ),
        None if option is None else option.patch,
        crown.shift_across(asked.lean, channel.toward),
        () if option is None else tuple([miss.code for piece in option.pieces for miss in piece.open]),
    )


def _leaning(kind: Kind, channel: _Channel) -> AskedOfUnit:
    """Return what a channel asks for if it leans as units of a kind are for."""
    asked, toward, lean = channel.asked, channel.toward, lean_of(kind, channel.asked)
    return replace(
        asked,
        one_piece=YES if kind == "one_piece" else NO,
        lean=lean,
        length=crown.stretched(channel.thickness, lean),
        mouth_long=crown.stretched(asked.channel, lean),
        mouth_across=crown.mouth_extent(asked.channel, crown.shift_across(lean, toward)),
        mouth_along=crown.mouth_extent(asked.channel, crown.shift_along(lean, toward)),
    )
