"""What stands on a job card, a refusal slip, an intake sheet and a driver's slip."""

from __future__ import annotations

import msgspec

from mendgauge.case.contract import AskedAt


class CardWords(msgspec.Struct, frozen=True, eq=False, forbid_unknown_fields=True):
    """The texts of the printed sheets; templates over their figures."""

    titles: dict[str, str]
    headings: dict[str, str]
    asked_at: dict[AskedAt, str]
    facts: dict[str, str]
    fields: dict[str, str]
    says: dict[str, str]
    injury: str
    source: str
    rulebook: str
    hold: str
    if_not: str
    only_if: str
    due_on: str
    to_ask: str
    tyre: str
    vehicle: str
    operation: str
