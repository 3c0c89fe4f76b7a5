"""Which provisions apply to a tyre over everything it may be in use as."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from mendgauge.core.interval import EITHER, YES
from mendgauge.rulebooks.resolver import Applicable


def over_all(found: Sequence[Applicable]) -> Applicable:
    """Return what holds over every use the tyre may be in: surely what does in each of them, perhaps the rest."""
    if len(found) == 1:
        return found[0]
    provisions: dict[int, Any] = {}
    sure: dict[int, int] = {}
    for of_use in found:
        for provision, holds in of_use:
            provisions[id(provision)] = provision
            sure[id(provision)] = sure.get(id(provision), 0) + (holds == YES)
    return [(provision, YES if sure[key] == len(found) else EITHER) for key, provision in provisions.items()]
