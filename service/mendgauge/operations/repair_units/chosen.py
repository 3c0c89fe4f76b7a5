"""The unit that was chosen for a channel."""

from __future__ import annotations

from decimal import Decimal

from mendgauge.answers.base import CERTAIN
from mendgauge.answers.bound_edition import BoundEdition
from mendgauge.answers.figure import tidy
from mendgauge.core.interval import Truth, negate
from mendgauge.operations.repair_units.answer import Chosen, Piece
from mendgauge.operations.repair_units.choice import Picked, meeting
from mendgauge.operations.repair_units.fit import Miss
from mendgauge.operations.repair_units.patch_room import inside, reach_past
from mendgauge.operations.repair_units.preparation import outline
from mendgauge.operations.repair_units.reasons import reason_for
from mendgauge.operations.repair_units.requirements import AskedOfUnit, Requirements
from mendgauge.operations.repair_units.search import Option


def chosen_unit(picked: Picked, place: int, requirements: Requirements, bound: BoundEdition) -> Chosen | None:
    """Return the unit that was chosen for a channel, by its place, with its patch and the areas round it."""
    option = picked.assignment.options[place]
    if option is None:
        return None
    under_shoulder = negate(inside(option.patch, requirements.off_centre, requirements.shoulder))
    return as_chosen(option, requirements, tuple(meeting(picked, place, option)), under_shoulder, bound)


def as_chosen(
    option: Option, asked: AskedOfUnit, meets: tuple[Miss, ...], under_shoulder: Truth, bound: BoundEdition
) -> Chosen:
    """Return an option that was chosen for a channel; `meets` are the patches of other channels that it may meet."""
    words, figures = bound.words.units, asked.figures
    open_misses = [miss for piece in option.pieces for miss in piece.open]
    hangs_on = (*open_misses, *meets)
    prices = [piece.item.price for piece in option.pieces]
    return Chosen(
        kind="one_piece" if len(option.pieces) == 1 else "two_piece",
        certain=not hangs_on,
        hangs_on=tuple(reason_for(miss, words) for miss in hangs_on),
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
        buffed=outline(option.patch.grown(figures.unit.buffed_margin_mm)),
        cleaned=outline(option.patch.grown(figures.cleaned.margin_high_mm)) if bound.full else None,
        reach_mm=tidy(reach_past(option.patch, asked.mouth_long.high, asked.mouth_across.high, asked.mouth_along.high)),
        arrows=words.arrows[asked.carcass or "not_known"],
        under_shoulder=CERTAIN[under_shoulder],
    )
