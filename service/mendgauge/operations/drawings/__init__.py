"""Pictures of a case to scale: the section through the crown with every channel, and the liner unrolled with patches.

They are drawn for every verdict. What is a range is drawn as a range, hatched where the edge may lie; a rule that is
broken or open is marked where it is; what nobody measured is named.
"""

from __future__ import annotations

from datetime import date

import msgspec

from mendgauge.case.case import Case
from mendgauge.operations.drawings.picture import Picture, View
from mendgauge.operations.drawings.sheet import sheet_of
from mendgauge.operations.workup import work_up


def draw_tyre(case: Case, view: View = "sheet", today: date | None = None) -> Picture:
    """Return a picture of a case as SVG: the whole sheet, or one of its two views.

    `today` stands in for a missing `assessed_on`.

    Raises:
        CaseError: The case contradicts itself, names a rulebook that is not there, or sets a house rule looser than it.
    """
    # A drawing says everything that a full answer says: there is no asking it again for more.
    with work_up(msgspec.structs.replace(case, detail="full"), today) as workup:
        return sheet_of(workup, view)
