"""What reads in a marking and should still make a person look again."""

from __future__ import annotations

from collections.abc import Iterator

from mendgauge.tyre.tables import LOAD_RANGE, SPEED_SYMBOL
from mendgauge.tyre.tokens import Marking, MarkingWarning, ServiceDescription


def oddities(marking: Marking) -> Iterator[MarkingWarning]:
    """Yield a warning of each thing that should make a person look again."""
    kmh = SPEED_SYMBOL[marking.speed].km_h if marking.speed else None
    if marking.temporary_spare:
        yield MarkingWarning("temporary_spare", "This is the marking of a temporary spare.")
    if marking.zr and kmh is not None and kmh < SPEED_SYMBOL["V"].km_h:
        says = f"ZR in the size goes with speed symbol V, W or Y, not {marking.speed}."
        yield MarkingWarning("zr_with_low_symbol", says)
    if marking.speed_in_size and marking.speed and marking.speed_in_size != marking.speed:
        says = f"The size says {marking.speed_in_size}, but the service description says {marking.speed}."
        yield MarkingWarning("speed_in_size_differs", says)
    services: tuple[Marking | ServiceDescription, ...] = (marking, *marking.extra_service)
    for said in services:
        if said.li_single is not None and said.li_dual is not None and said.li_dual > said.li_single:
            says = (
                f"The dual load index, {said.li_dual}, is higher than the single one, {said.li_single}. "
                "They may be swapped."
            )
            yield MarkingWarning("dual_gt_single", says)
    plies = LOAD_RANGE[marking.load_range].ply_rating if marking.load_range else None
    if plies and marking.ply_rating and plies != marking.ply_rating:
        says = f"Load range {marking.load_range} means {plies} plies, but the marking says {marking.ply_rating}."
        yield MarkingWarning("load_range_ply_differ", says)
    if kmh is not None and kmh < SPEED_SYMBOL["F"].km_h:
        says = f"Speed symbol {marking.speed} is only {kmh:g} km/h. That is not a tyre for road speeds."
        yield MarkingWarning("out_of_scope_speed", says)
    if _looks_motorcycle(marking) and not marking.motorcycle:
        says = "The size is a motorcycle's, but M/C is missing. It is an older tyre, or the wrong size."
        yield MarkingWarning("mc_without_suffix", says)


def _looks_motorcycle(marking: Marking) -> bool:
    """Return whether a size that says no class is a motorcycle's by its look: a common practice, no rule of a standard.

    Metric widths go in tens of mm (a car's end in 5), inch widths are narrow; the rim code is 13 to 23, where M/C is
    due so that the tyre is not taken for a car's; the load index is low.
    """
    if marking.prefix or marking.suffix or not 13 <= marking.rim_code <= 23 or (marking.li_single or 0) > 90:
        return False
    if marking.form == "inch":
        return (marking.width_in or 0) <= 4
    return marking.form == "metric" and (marking.width_mm or 0) <= 240 and (marking.width_mm or 0) % 10 == 0
