"""What every sheet says of the tyre: its facts, its injuries, its findings; and its drawings."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from mendgauge.answers.finding import Finding
from mendgauge.drafting.lettering import printable
from mendgauge.operations.drawings.crown import channels_of
from mendgauge.operations.drawings.figures import figures_of
from mendgauge.operations.drawings.marks import marks_of
from mendgauge.operations.drawings.sheet import card_pictures
from mendgauge.operations.job_cards.blocks import Beside, Block, Drawn, Facts, Notes
from mendgauge.operations.workup import Workup
from mendgauge.wording.quantities import quantity

_BESIDE_MM: Final = 100.0
"""A drawing no wider than this leaves room for facts beside it."""


def tyre_facts(workup: Workup, *more: tuple[str, str]) -> Facts:
    """Return what is known of the tyre and where it runs, and more facts after it."""
    return Facts(workup.bound.words.cards.headings["tyre"], (*_tyre(workup), *more))


def _tyre(workup: Workup) -> Iterator[tuple[str, str]]:
    names, case = workup.bound.words.cards.facts, workup.case
    if case.reference:
        yield names["reference"], printable(case.reference)
    yield names["marking"], printable(case.tyre.marking)
    if case.tyre.date_code:
        yield names["date_code"], printable(case.tyre.date_code)
    if case.vehicle is not None and case.vehicle.kind:
        yield names["vehicle"], case.vehicle.kind
    if case.position is not None and case.position.axle:
        yield names["position"], case.position.axle
    if case.tyre.tread_depth_mm is not None:
        tread = workup.facts[0].tread_depth
        yield names["tread"], quantity(tread.low, tread.high, "mm", workup.bound.words.language, tread=True)
    if case.earlier_repairs is not None:
        yield names["earlier"], f"{len(case.earlier_repairs)}"


def injury_facts(workup: Workup) -> Iterator[Facts]:
    """Yield the figures of each injury."""
    words = workup.bound.words.cards
    for channel in channels_of(workup):
        yield Facts(words.injury.format(number=channel.index + 1), tuple(figures_of(workup, channel)))


def reasons(workup: Workup, findings: tuple[Finding, ...]) -> Notes:
    """Return findings in words, each with the source of its rule."""
    words = workup.bound.words.cards
    said = tuple(
        f"{found.says} {words.source.format(source=', '.join(filter(None, (found.source, found.clause))))}."
        for found in findings
    )
    return Notes(words.headings["reasons"], said)


def drawings(workup: Workup, *more: Block) -> Iterator[Block | Beside]:
    """Yield the liner with facts beside it, the section, and what the flags on both stand for."""
    section, plan = (Drawn(one.svg, one.width_mm, one.description) for one in card_pictures(workup))
    facts = (*more, *injury_facts(workup))
    if plan.width_mm <= _BESIDE_MM:
        yield Beside(facts, (plan,))
    else:
        yield from (*facts, plan)
    yield section
    if marks := marks_of(workup):
        said = tuple(f"{mark.number}{'' if mark.broken else '?'}: {mark.says}" for mark in marks)
        yield Notes(workup.bound.words.cards.headings["marks"], said)
