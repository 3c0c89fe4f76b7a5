"""Which sheets a case has, by its verdict."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from mendgauge.drafting.lettering import printable
from mendgauge.operations.gauges.paper import Paper
from mendgauge.operations.job_cards.blocks import Card, Sheet
from mendgauge.operations.job_cards.driver import driver_blocks
from mendgauge.operations.job_cards.intake import intake_blocks
from mendgauge.operations.job_cards.job import job_blocks
from mendgauge.operations.job_cards.refusal import refusal_blocks
from mendgauge.operations.repairability.offer import offer_for
from mendgauge.operations.repairability.verdict import verdict_of
from mendgauge.operations.work_plans.plan import plan_of
from mendgauge.operations.workup import Workup

_SMALL: Final = 8.0
_READ: Final = 9.0
_TO_SIGN: Final = 11.0
"""Sizes of letters, pt: of what a bench works by, what a customer reads, and what a driver signs."""


def card_of(workup: Workup, paper: Paper) -> Card:
    """Return the sheets of a case."""
    words, used = workup.bound.words, workup.bound.used
    sheets = tuple(_sheets(workup))
    marking = printable(workup.case.tyre.marking, 80)
    return Card(
        title=f"{sheets[0].title}: {marking}",
        on=workup.on,
        language=words.language,
        paper={"a4": "a4", "letter": "us-letter"}[paper],
        marking=marking,
        foot=words.cards.rulebook.format(id=used.id, edition=used.edition, digest=used.digest),
        sheets=sheets,
    )


def _sheets(workup: Workup) -> Iterator[Sheet]:
    answer = verdict_of(workup)
    offer, titles = offer_for(answer), workup.bound.words.cards.titles
    said = workup.bound.words.drawings.verdicts[answer.verdict]
    if answer.verdict == "inspect":
        yield Sheet(titles["intake"], said, _SMALL, tuple(intake_blocks(workup)))
    elif offer == "offered" and plan_of(workup).scope == "repair":
        yield Sheet(titles["job_card"], said, _SMALL, tuple(job_blocks(workup)))
        yield Sheet(titles["driver"], said, _TO_SIGN, tuple(driver_blocks(workup)))
    else:
        yield Sheet(titles["refusal"], said, _READ, tuple(refusal_blocks(workup)))
