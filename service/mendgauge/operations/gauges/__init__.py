"""The paper gauge: a sheet at full size to print, cut out and lay on the tread of one size of tyre."""

from __future__ import annotations

from datetime import date

from mendgauge.case.case import Case, Tyre, Vehicle
from mendgauge.core.vocabulary import VehicleKind
from mendgauge.operations.gauges.pages import pages_of
from mendgauge.operations.gauges.paper import Paper
from mendgauge.operations.workup import work_up
from mendgauge.printing.press import Pages, print_pages


def draw_gauge(
    marking: str,
    rulebook: str,
    vehicle_kind: VehicleKind,
    paper: Paper = "a4",
    *,
    tread_width_mm: float | None = None,
    today: date | None = None,
) -> Pages:
    """Return the pages of the gauge for a tyre, each an SVG at its true size.

    Where the band hangs on the width of the tread, it is as wide as `tread_width_mm` makes it; without that, the sheet
    has a strip to lay at the tread's edge. `today` is the day whose rules hold.

    Raises:
        CaseError: The marking cannot be read, does not suit the vehicle, or the rulebook is not there.
    """
    tyre = Tyre(marking=marking, tread_width_mm=tread_width_mm)
    case = Case(rulebook=rulebook, tyre=tyre, vehicle=Vehicle(kind=vehicle_kind))
    with work_up(case, today) as workup:
        return pages_of(workup, paper)


def print_gauge(pages: Pages) -> bytes:
    """Return the pages of a gauge as PDF.

    Raises:
        PrintingNotInstalledError: The typesetter is not installed.
    """
    return print_pages(pages)
