"""Plans under books on one procedure are kept apart: each has the figures of its own book, whichever came before.

The shipped books of one language give the same figures at the steps that they share, so one is altered here.
"""

from __future__ import annotations

from datetime import date
from typing import Final, get_args

import msgspec
import pytest
from tests.property.test_kept import forget
from tests.reference.plan_cases import JOBS, plan
from tests.unit import provisions_in_a_book as made

from mendgauge.operations.work_plans.answer import WorkStep
from mendgauge.rulebooks import Edition
from mendgauge.rulebooks.schema.book import Book, Workshop
from mendgauge.tyre.tyre_class import TyreClass

OF_STEPS: Final = (
    (Book, "run_low"),
    (Book, "one_piece_lean"),
    (Book, "repair_mark"),
    (Workshop, "repair_unit"),
    (Workshop, "cutter_passes"),
    (Workshop, "tool_limits"),
    (Workshop, "cleaned_margin"),
    (Workshop, "stem_length"),
)
"""What figures of steps stand under; the procedure gives the others, which is every book's."""

LATER: Final = date(2099, 1, 1)
WORK: Final = tuple(
    {**JOBS[job], "detail": detail} for job in ("car", "truck, run low") for detail in ("full", "brief")
)


def with_figures_of_its_own(shipped: Edition, kind: type[Book | Workshop], heading: str) -> Edition:
    """The same edition with another figure for every class of tyre, on the very same procedure."""
    first = made.entries_of(shipped, kind, heading)[0]
    own = made.changed(first, classes=list(get_args(TyreClass)), ends=LATER)
    edition = made.with_entries(shipped, kind, heading, own, others_start=LATER)
    same = {"procedure": shipped.procedure}
    periods = tuple(msgspec.structs.replace(one, **same) for one in edition.periods)
    return msgspec.structs.replace(edition, periods=periods, **same)


def steps_under(edition: Edition) -> list[tuple[WorkStep, ...]]:
    """The steps of each job under an edition."""
    with made.in_use(edition):
        return [plan({**case, "rulebook": edition.book.id}).steps for case in WORK]


@pytest.mark.parametrize(("kind", "heading"), OF_STEPS, ids=[heading for _, heading in OF_STEPS])
def test_a_figure_of_one_book_stands_in_no_plan_under_another(kind: type[Book | Workshop], heading: str) -> None:
    shipped = made.a_book_with(kind, heading)
    own = with_figures_of_its_own(shipped, kind, heading)
    alone = []
    for edition in (shipped, own):
        forget()
        alone.append(steps_under(edition))
    assert alone[0] != alone[1], "the figure is at some step"
    for order in ((0, 1), (1, 0)):
        forget()
        for place in (*order, *order):
            assert steps_under((shipped, own)[place]) == alone[place]
