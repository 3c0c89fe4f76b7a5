"""Checks a tyre, chooses its unit, prices the repair, reads a refusal, and an answer of a later release."""

import os

import tyre_check as client


def tyre_case(marking: str) -> client.TyreCase:
    """Return a car's tyre with a hole in the tread, of which everything is known."""
    return client.TyreCase(
        rulebook="gb",
        vehicle=client.Vehicle(kind="car", gross_mass_kg=client.MeasuredMass(1900)),
        position=client.Position(axle="rear"),
        tyre=client.Tyre(
            marking=marking,
            date_code="2323",
            tread_depth_mm=client.MeasuredLength(5.0),
            traits=client.Traits(complete=True),
            maker_policy=client.MakerPolicy(repair="permitted"),
        ),
        injuries=[
            client.Injury(
                region="tread",
                depth="through",
                across_mm=client.MeasuredLength(client.Range(low=18, high=22)),
                around_mm=client.MeasuredLength(640),
                measured_from="outside",
                diameter_mm=client.MeasuredLength(4.0),
                stage="found",
                lean_deg=client.MeasuredAngle(5),
                lean_toward_deg=client.MeasuredAngle(0),
                emerges_in="groove",
            )
        ],
        earlier_repairs=[],
        inspection=client.Inspection(complete=True),
        history=client.History(complete=True, pressure_found_percent=client.MeasuredPercent(90)),
    )


def connected(address: str) -> client.ApiClient:
    """Return a client of the service at an address."""
    return client.ApiClient(client.Configuration(host=address))


service = connected(os.environ["MENDGAUGE_URL"])
decisions = client.DecisionsApi(service)
case = tyre_case("205/55R16 91V")

check = decisions.check_repairability(case)
print(f"check: {check.verdict}, {check.next_step}")

chosen = decisions.choose_repair_units(case).injuries[0].choices[0].chosen
print("unit:", " + ".join(piece.code for piece in chosen.pieces))

codes = client.ReferenceApi(service).list_generic_units("gb", tyre_class="car")
case.price_book = client.PriceBook(
    currency="GBP",
    labour=client.LabourRate(per_hour="54.00"),
    units={unit.code: "3.40" for unit in codes.units},
    consumables={used.code: "0.12" for used in codes.consumables},
    taxes=[client.Tax(name="VAT", percent="20")],
)
quote = decisions.quote_repair(case)
print(f"price: {quote.totals.gross} {quote.currency}")

try:
    decisions.check_repairability(tyre_case("205/55R61"))
except client.ApiException as refused:
    problem = client.Problem.from_json(refused.body)
    print(f"refused: {problem.status} {problem.title}, {problem.errors[0].pointer}")

later = client.DecisionsApi(connected(os.environ["MENDGAUGE_LATER_URL"]))
answer = later.check_repairability(tyre_case("205/55R16 91V"))
print(f"later: {answer.verdict}, {answer.next_step}")
