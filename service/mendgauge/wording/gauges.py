"""What stands on a paper gauge."""

from __future__ import annotations

import msgspec


class GaugeWords(msgspec.Struct, frozen=True, eq=False, forbid_unknown_fields=True):
    """The texts of a gauge; templates over its figures."""

    title: str
    page: str
    valid_for: str
    check_mm: str
    check_inches: str
    check: str
    band: str
    half_band: str
    inset: str
    lay_band: str
    lay_halves: str
    lay_edge: str
    no_band: str
    band_needs_tread: str
    fan: str
    one_piece: str
    no_repair: str
    holes: str
    size: str
    no_size: str
    patches: str
    steps: str
    least_tread: str
    sources: str
    aid: str
    figures: dict[str, str]
    bases: dict[str, str]
