"""Checks a tyre, chooses its unit, prices the repair, reads a refusal, and an answer of a later release."""

import os
from typing import TypeVar

from tyre_check import Client
from tyre_check.api.decisions import check_repairability, choose_repair_units, quote_repair
from tyre_check.api.reference import list_generic_units
from tyre_check.models import (
    History,
    Injury,
    InjuryDepthType0,
    InjuryEmergesInType0,
    InjuryMeasuredFromType0,
    InjuryRegionType0,
    InjuryStageType0,
    Inspection,
    LabourRate,
    ListGenericUnitsTyreClass,
    MakerPolicy,
    MakerPolicyRepairType0,
    Position,
    PositionAxleType0,
    PriceBook,
    PriceBookConsumables,
    PriceBookUnits,
    Problem,
    Range,
    Tax,
    Traits,
    Tyre,
    TyreCase,
    Vehicle,
    VehicleKindType0,
)

Answer = TypeVar("Answer")


def tyre_case(marking: str) -> TyreCase:
    """Return a car's tyre with a hole in the tread, of which everything is known."""
    return TyreCase(
        rulebook="gb",
        vehicle=Vehicle(kind=VehicleKindType0.CAR, gross_mass_kg=1900),
        position=Position(axle=PositionAxleType0.REAR),
        tyre=Tyre(
            marking=marking,
            date_code="2323",
            tread_depth_mm=5.0,
            traits=Traits(complete=True),
            maker_policy=MakerPolicy(repair=MakerPolicyRepairType0.PERMITTED),
        ),
        injuries=[
            Injury(
                region=InjuryRegionType0.TREAD,
                depth=InjuryDepthType0.THROUGH,
                across_mm=Range(low=18, high=22),
                around_mm=640,
                measured_from=InjuryMeasuredFromType0.OUTSIDE,
                diameter_mm=4.0,
                stage=InjuryStageType0.FOUND,
                lean_deg=5,
                lean_toward_deg=0,
                emerges_in=InjuryEmergesInType0.GROOVE,
            )
        ],
        earlier_repairs=[],
        inspection=Inspection(complete=True),
        history=History(complete=True, pressure_found_percent=90),
    )


def answered(answer: Answer | Problem | None) -> Answer:
    """Return an answer that is no problem."""
    if answer is None or isinstance(answer, Problem):
        raise SystemExit(str(answer))
    return answer


service = Client(base_url=os.environ["MENDGAUGE_URL"])
case = tyre_case("205/55R16 91V")

check = answered(check_repairability.sync(client=service, body=case))
print(f"check: {check.verdict}, {check.next_step}")

chosen = answered(choose_repair_units.sync(client=service, body=case)).injuries[0].choices[0].chosen
print("unit:", " + ".join(piece.code for piece in chosen.pieces))

codes = answered(list_generic_units.sync(client=service, rulebook="gb", tyre_class=ListGenericUnitsTyreClass.CAR))
case.price_book = PriceBook(
    currency="GBP",
    labour=LabourRate(per_hour="54.00"),
    units=PriceBookUnits.from_dict({unit.code: "3.40" for unit in codes.units}),
    consumables=PriceBookConsumables.from_dict({used.code: "0.12" for used in codes.consumables}),
    taxes=[Tax(name="VAT", percent="20")],
)
quote = answered(quote_repair.sync(client=service, body=case))
print(f"price: {quote.totals.gross} {quote.currency}")

problem = check_repairability.sync(client=service, body=tyre_case("205/55R61"))
if isinstance(problem, Problem):
    print(f"refused: {problem.status} {problem.title}, {problem.errors[0].pointer}")

later = Client(base_url=os.environ["MENDGAUGE_LATER_URL"])
answer = answered(check_repairability.sync(client=later, body=tyre_case("205/55R16 91V")))
print(f"later: {answer.verdict}, {answer.next_step}")
