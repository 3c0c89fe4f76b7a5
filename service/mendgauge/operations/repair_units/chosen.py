"""The unit that was chosen for a channel."""

from __future__ import annotations

from decimal import Decimal

from mendgauge.answers.base import CERTAIN
from mendgauge.answers.bound_edition import BoundEdition
from mendgauge.answers.figure import tidy
from mendgauge.core.interval import negate
from mendgauge.operations.repair_units.answer import Chosen, Piece
from mendgauge.operations.repair_units.choice import Picked, meeting
from mendgauge.operations.repair_units.patch_room import inside, reach_past
from mendgauge.operations.repair_units.preparation import outline
from mendgauge.operations.repair_units.reasons import reason_for
from mendgauge.operations.repair_units.requirements import Requirements
from mendgauge.operations.repair_units.search import Option


def chosen_unit(picked: Picked, place: int, option: Option, bound: BoundEdition) -> Chosen:
    """Return the unit that was chosen for a channel, with its patch and the areas round it."""
    words, requirements = bound.words.units, picked.channels.needs[place]
    open_misses = [miss for piece in option.pieces for miss in piece.open]
    hangs_on = (*open_misses, *meeting(picked, place, option))
    prices = [piece.item.price for piece in option.pieces]
    unit = requirements.figures.unit
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
        buffed=outline(option.patch.grown(unit.buffed_margin_mm)),
        cleaned=outline(option.patch.grown(requirements.figures.cleaned.margin_high_mm)) if bound.full else None,
        reach_mm=_reach_mm(option, requirements),
        arrows=words.arrows[requirements.carcass or "not_known"],
        under_shoulder=CERTAIN[negate(inside(option.patch, requirements.off_centre, requirements.shoulder))],
    )


def _reach_mm(option: Option, requirements: Requirements) -> float:
    return tidy(
        reach_past(
            option.patch, requirements.mouth_long.high, requirements.mouth_across.high, requirements.mouth_along.high
        )
    )
