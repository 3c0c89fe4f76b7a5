"""Where the stem of each repair is cut: outside where the channel comes out, inside where the patch is separate."""

from __future__ import annotations

from datetime import date

from mendgauge.case.case import Case
from mendgauge.operations.stem_trim.answer import StemTrims
from mendgauge.operations.stem_trim.trims import trims_of
from mendgauge.operations.workup import work_up


def trim_stems(case: Case, today: date | None = None) -> StemTrims:
    """Return where the stem of each repair is cut, by the trade's habit or the chosen unit's own instruction.

    `today` stands in for a missing `assessed_on`.

    Raises:
        CaseError: The case contradicts itself, names a rulebook that is not there, or sets a house rule looser than it.
    """
    with work_up(case, today) as workup:
        return trims_of(workup)
