"""Cases as they come in: described by a driver, inspected on the bench, or a row of a table.

The case is the same `TyreCase` either way, and can be filled in by hand as well. What these save is the saying of what
a bench has looked for and not found, which a case has to say before anything firm can be answered.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from typing import Any

import msgspec

from mendgauge_client.models import (
    Axle,
    EarlierRepair,
    History,
    Injury,
    Inspection,
    MeasuredFromLiteral,
    Position,
    Range,
    Region,
    Traits,
    Tyre,
    TyreCase,
    Vehicle,
    VehicleKind,
)

__all__ = ["bench_case", "case_from_row", "give_or_take", "roadside_case", "tread_puncture"]


def give_or_take(value: float, tolerance: float) -> Range:
    """Return a measurement and how far it may be off: `give_or_take(4.0, 0.5)` is 3.5 to 4.5, in the field's own unit.

    Raises:
        ValueError: The tolerance is negative.
    """
    if tolerance < 0:
        raise ValueError(f"tolerance={tolerance} is negative: give how far the value may be off either way")
    return Range(low=value - tolerance, high=value + tolerance)


def tread_puncture(
    diameter_mm: float | Range,
    *,
    across_mm: float | Range | None = None,
    around_mm: float | Range | None = None,
    lean_deg: float | Range | None = None,
    measured_from: MeasuredFromLiteral = "outside",
    object: str | None = None,  # noqa: A002  the field's own name
) -> Injury:
    """Return a hole through the tread, as found: before anything was cut out of it.

    Args:
        diameter_mm: Its diameter, mm.
        across_mm: Place across the tread, mm from its centre line; one side positive, the other negative.
        around_mm: Place along the tread from the valve, mm.
        lean_deg: Lean of the channel from the perpendicular to the tread, degrees.
        measured_from: Which side `across_mm` and `around_mm` were taken on.
        object: What was found in it. For the record.
    """
    return Injury(
        region="tread",
        depth="through",
        stage="found",
        diameter_mm=diameter_mm,
        across_mm=across_mm,
        around_mm=around_mm,
        lean_deg=lean_deg,
        measured_from=measured_from,
        object=object,
    )


def bench_case(
    rulebook: str,
    marking: str,
    *injuries: Injury,
    vehicle: VehicleKind | Vehicle | None = None,
    axle: Axle | Position | None = None,
    tread_depth_mm: float | Range | None = None,
    date_code: str | None = None,
    traits: Traits | None = None,
    seen: Inspection | None = None,
    earlier_repairs: Iterable[EarlierRepair] = (),
    driver_says: History | None = None,
    reference: str | None = None,
) -> TyreCase:
    """Return a tyre that a bench has demounted and looked at, inside and out.

    All signs, traits and earlier repairs were looked for: whatever is not named in `seen`, `traits` and
    `earlier_repairs` is not there. What happened on the road a bench cannot see: it stays not known unless the driver
    was asked.

    Args:
        rulebook: The rulebook that applies, by its id; `gb@2026.1` pins an edition.
        marking: Size and service description as moulded on the sidewall.
        injuries: Every injury found; `tread_puncture` makes the usual one.
        vehicle: What the vehicle is, or all that is known of it.
        axle: Which axle, or all that is known of the position.
        tread_depth_mm: Tread left, at the shallowest point, mm.
        date_code: The date code (week and year), or the identification number that ends in it.
        traits: What the tyre is beyond its marking: `Traits(run_flat=True)`.
        seen: What the bench found: `Inspection(bulge=True)`.
        earlier_repairs: Every repair the tyre carries.
        driver_says: What happened, where the driver was asked; what is not named in it did not happen.
        reference: Your own name for the case; comes back in the answer.
    """
    return TyreCase(
        rulebook=rulebook,
        reference=reference,
        vehicle=_vehicle(vehicle),
        position=_position(axle),
        tyre=Tyre(
            marking=marking,
            date_code=date_code,
            tread_depth_mm=tread_depth_mm,
            traits=msgspec.structs.replace(traits or Traits(), complete=True),
        ),
        injuries=list(injuries),
        earlier_repairs=list(earlier_repairs),
        inspection=msgspec.structs.replace(seen or Inspection(), complete=True),
        history=None if driver_says is None else msgspec.structs.replace(driver_says, complete=True),
    )


def roadside_case(
    rulebook: str,
    marking: str,
    *,
    vehicle: VehicleKind | Vehicle | None = None,
    axle: Axle | Position | None = None,
    region: Region | None = None,
    object: str | None = None,  # noqa: A002  the field's own name
    driver_says: History | None = None,
    reference: str | None = None,
) -> TyreCase:
    """Return a tyre still on its wheel, as a driver describes it: one injury, of which little is known.

    Args:
        rulebook: The rulebook that applies, by its id; `gb@2026.1` pins an edition.
        marking: Size and service description as moulded on the sidewall.
        vehicle: What the vehicle is, or all that is known of it.
        axle: Which axle, or all that is known of the position.
        region: The part of the tyre that is injured, as far as it can be seen.
        object: What sticks in it. For the record.
        driver_says: What happened, as the driver says; `History(complete=True)` says that nothing else did.
        reference: Your own name for the case; comes back in the answer.
    """
    return TyreCase(
        rulebook=rulebook,
        reference=reference,
        vehicle=_vehicle(vehicle),
        position=_position(axle),
        tyre=Tyre(marking=marking),
        injuries=[Injury(region=region, object=object)],
        history=driver_says,
    )


def case_from_row(
    row: Mapping[str, Any],
    *,
    rulebook: str | None = None,
    columns: Mapping[str, str] | None = None,
    keep: Collection[str] = (),
    decimal_comma: bool = False,
) -> TyreCase:
    """Return the case of a row of a table, its values text as people write it or whatever a data frame has.

    Columns are called like their place in the case, `tyre.marking`, or by the names that the command line takes.

    Args:
        row: The values by the names of their columns, as `csv.DictReader` and `DataFrame.to_dict("records")` have them.
        rulebook: The rulebook, for a row that names none.
        columns: What columns are called in this table, by what they mean: `{"tread": "Profiltiefe"}`.
        keep: Columns that say nothing of the tyre.
        decimal_comma: Whether a comma parts the decimals of a number.

    Raises:
        RowError: A column means nothing, or a value does not fit; `faults` says what is wrong in which column.
    """
    # Late, like all that hardly any program needs: it would triple the time that the import takes.
    from mendgauge_client.tabular.columns import RULEBOOK, Columns
    from mendgauge_client.tabular.faults import CellFault, HeaderError, RowError
    from mendgauge_client.tabular.rows import Row, read_row

    try:
        known = Columns(keep, columns)
    except HeaderError as error:
        raise RowError([CellFault("", str(error))]) from None
    defaults = {} if rulebook is None else {RULEBOOK: rulebook}
    read = read_row(Row(1, row), known, defaults, decimal_comma=decimal_comma)
    if read.case is None:
        raise RowError(read.faults)
    return read.case


def _vehicle(given: VehicleKind | Vehicle | None) -> Vehicle | None:
    return Vehicle(kind=given) if isinstance(given, str) else given


def _position(given: Axle | Position | None) -> Position | None:
    return Position(axle=given) if isinstance(given, str) else given
