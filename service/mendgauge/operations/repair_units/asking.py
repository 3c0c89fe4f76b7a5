"""Which missing fields decide the unit, beside those that decide the verdict."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any, Final

from mendgauge.answers.questions import with_more
from mendgauge.core.interval import EITHER, NO, at_most
from mendgauge.judging.missing import missing
from mendgauge.judging.questions import ToEstablish
from mendgauge.operations.repair_units.choice import meeting
from mendgauge.operations.repair_units.requirements import Requirements
from mendgauge.operations.repair_units.rounds import Round
from mendgauge.wording import Wording

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
_DEPENDS_ON: Final[dict[str, tuple[str, ...]]] = {
    "one_piece_lean": ("lean",),
    "one_piece_crown": ("crown_thickness",),
    "stem_diameter": ("diameter", "stages"),
    "stem_length": ("crown_thickness", "tread_depth", "emerges", "lean"),
    "largest_injury": ("diameter", "stages"),
    "largest_lean": ("lean",),
    "not_reinforced": ("diameter", "stages"),
    "patch_too_small": ("diameter", "stages", "lean", "toward"),
    "meets_earlier_repair": (*_PLACE, "earlier_known", "neighbours"),
    "meets_injury": (*_PLACE, "neighbours"),
}
"""The facts behind each question of fit; what is not named hangs on the unit alone."""


def questions(
    asked: Sequence[ToEstablish], rounds: tuple[Round, ...], needs: Sequence[Requirements], words: Wording
) -> tuple[ToEstablish, ...]:
    """Return the verdict's questions, then those that decide the unit alone, the one that settles most first."""
    settles: dict[str, dict[str, None]] = {}
    # Many units leave the same question open.
    open_ones = {(question, one.injury.index): one.injury for question, one in _open_questions(rounds, needs)}
    for (question, _), injury in open_ones.items() if rounds else ():
        for field in missing(_DEPENDS_ON.get(question, ()), injury):
            settles.setdefault(field, {})[question] = None
    return with_more(asked, {field: tuple(names) for field, names in settles.items()}, words)


def _open_questions(rounds: tuple[Round, ...], needs: Sequence[Requirements]) -> Iterator[tuple[str, Requirements]]:
    for one in rounds:
        for place, option in enumerate(one.picked.assignment.options):
            requirements = one.picked.channels.needs[place]
            pieces: tuple[Any, ...] = () if option is None else option.pieces
            yield from ((miss.code, requirements) for piece in pieces for miss in piece.open)
            if option is not None:
                yield from ((miss.code, requirements) for miss in meeting(one.picked, place, option))
    for requirements in needs:
        if requirements.injury.through == NO or requirements.one_piece != EITHER:
            continue
        if at_most(requirements.lean, requirements.one_piece_to_deg) == EITHER:
            yield "one_piece_lean", requirements
        if requirements.house.max_one_piece_crown_mm is not None:
            yield "one_piece_crown", requirements
