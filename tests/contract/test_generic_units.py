"""A till prices a repair with the codes that `GET /v1/generic-units` lists, and never learns them from refusals."""

from __future__ import annotations

from typing import Any, Final

import pytest
from litestar.testing import TestClient

BOOKS: Final = ("au", "de", "fr", "gb", "in", "jp", "nz", "us", "za")
TYRES: Final = {
    "car": ("car", "205/55R16 91V", 1900),
    "van": ("van", "195/75R16C 107/105R", 3200),
    "truck": ("truck", "315/80R22.5 156/150L", 18_000),
    "motorcycle": ("motorcycle", "120/70R17M/C 58W", 300),
}
"""By the class of tyre: a vehicle, a marking and a mass."""


def case_of(book: str, tyre_class: str) -> dict[str, Any]:
    """Return a nail hole in the middle of the tread, of which little is known yet."""
    kind, marking, mass = TYRES[tyre_class]
    return {
        "rulebook": book,
        "assessed_on": "2026-11-24",
        "vehicle": {"kind": kind, "gross_mass_kg": mass},
        "tyre": {"marking": marking},
        "injuries": [{"region": "tread", "depth": "through", "across_mm": 0, "diameter_mm": 3.0, "lean_deg": 0}],
    }


@pytest.mark.parametrize("tyre_class", TYRES)
@pytest.mark.parametrize("book", BOOKS)
def test_a_repair_is_priced_by_the_codes_that_are_listed(client: TestClient[Any], book: str, tyre_class: str) -> None:
    listed = client.get("/v1/generic-units", params={"rulebook": book, "tyre_class": tyre_class}).json()
    case = case_of(book, tyre_class)
    prices = {
        "currency": "EUR",
        "labour": {"per_hour": "60.00"},
        "inspection": "12.00",
        "units": {unit["code"]: "4.00" for unit in listed["units"]},
        "consumables": {used["code"]: "0.20" for used in listed["consumables"]},
    }
    answer = client.post("/v1/quotes", json=case | {"price_book": prices})
    assert answer.status_code == 200, answer.text
    quote = answer.json()
    charged = {line["code"] for line in quote["lines"] if line["kind"] == "unit"}
    assert charged <= {unit["code"] for unit in listed["units"]}
    assert bool(charged) == (quote["offer"] != "withheld")


def test_a_size_for_one_class_is_listed_for_all_with_every_class_it_is_for(client: TestClient[Any]) -> None:
    of_all = client.get("/v1/generic-units", params={"rulebook": "gb"}).json()
    for tyre_class in TYRES:
        of_one = client.get("/v1/generic-units", params={"rulebook": "gb", "tyre_class": tyre_class}).json()
        assert {unit["code"] for unit in of_one["units"]} == {
            unit["code"] for unit in of_all["units"] if tyre_class in unit["classes"]
        }


def test_a_copy_at_hand_is_not_sent_again(client: TestClient[Any]) -> None:
    first = client.get("/v1/generic-units", params={"rulebook": "us"})
    again = client.get("/v1/generic-units", params={"rulebook": "us"}, headers={"If-None-Match": first.headers["ETag"]})
    assert (again.status_code, again.content) == (304, b"")


@pytest.mark.parametrize(
    ("parameters", "parameter"),
    [
        ({}, "rulebook"),
        ({"rulebook": "atlantis"}, "rulebook"),
        ({"rulebook": "gb", "tyre_class": "lorry"}, "tyre_class"),
    ],
)
def test_a_parameter_that_is_wrong_is_named(
    client: TestClient[Any], parameters: dict[str, str], parameter: str
) -> None:
    answer = client.get("/v1/generic-units", params=parameters)
    assert answer.status_code == 422
    assert [fault["parameter"] for fault in answer.json()["errors"]] == [parameter]
