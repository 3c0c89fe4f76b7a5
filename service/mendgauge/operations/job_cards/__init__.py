"""The printed sheets of a case: a job card where it is repaired, else the reason why not or the questions still open.

A tyre that may be repaired has a card for the bench and a slip for the driver to sign. One that may not has a slip for
the customer. While that is open there is an intake sheet with the questions in order.
"""

from __future__ import annotations

from datetime import date

import msgspec

from mendgauge.case.case import Case
from mendgauge.operations.gauges.paper import Paper
from mendgauge.operations.job_cards.blocks import Card
from mendgauge.operations.job_cards.sheets import card_of
from mendgauge.operations.workup import work_up
from mendgauge.printing.press import print_template


def write_card(case: Case, paper: Paper = "a4", today: date | None = None) -> Card:
    """Return what is printed of a case. `today` stands in for a missing `assessed_on`.

    Raises:
        CaseError: The case contradicts itself, names a rulebook that is not there, or sets a house rule looser than it.
    """
    # Paper says everything that a full answer says: there is no asking it again for more.
    with work_up(msgspec.structs.replace(case, detail="full"), today) as workup:
        return card_of(workup, paper)


def print_card(card: Card) -> bytes:
    """Return the sheets of a case as PDF.

    Raises:
        PrintingNotInstalledError: The typesetter is not installed.
    """
    return print_template("card", card)
