"""The whole plan: each part is what its own operation answers, to the byte; what does not apply says why."""

from __future__ import annotations

import copy
import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any, TypeAlias

import pytest
from litestar.testing import TestClient

from mendgauge.server import create_app

Json: TypeAlias = dict[str, Any]

EXAMPLES = Path(__file__).parents[2] / "openapi" / "examples"
PARTS = {
    "repairability": "/v1/repairability",
    "repair_units": "/v1/repair-units",
    "stem_trims": "/v1/stem-trim",
    "service_limits": "/v1/service-limits",
    "work_plan": "/v1/work-plans",
    "quote": "/v1/quotes",
}


@pytest.fixture(scope="module")
def client() -> Iterator[TestClient[Any]]:
    with TestClient(create_app(), raise_server_exceptions=False) as client:
        yield client


def golden() -> dict[str, Json]:
    """Every case of the golden examples that is answered, whatever it was asked."""
    found = {}
    for file in sorted(EXAMPLES.rglob("*.json")):
        example = json.loads(file.read_bytes())
        if "tyre" in example["request"] and example["status"] == 200:
            found[f"{file.parent.name}/{file.stem}"] = example["request"]
    return found


def till(name: str = "uk_counter_vat_inclusive") -> Json:
    request: Json = copy.deepcopy(json.loads((EXAMPLES / "quote_repair" / f"{name}.json").read_bytes())["request"])
    return request


@pytest.mark.parametrize("request_of", golden().values(), ids=golden().keys())
def test_each_part_is_what_its_own_operation_answers_to_the_byte(client: TestClient[Any], request_of: Json) -> None:
    request_of = request_of | {"detail": "full"}
    whole = client.post("/v1/repair-plans", json=request_of)
    assert whole.status_code == 200
    plan = whole.json()
    absent = {one["part"]: one["says"] for one in plan["absent"]}
    assert absent.keys() == {part for part in PARTS if plan[part] is None}
    assert all(absent.values())
    for part, path in PARTS.items():
        if part not in absent:
            alone = client.post(path, json=request_of)
            assert alone.status_code == 200
            assert f'"{part}":'.encode() + alone.content in whole.content


def test_a_full_case_has_every_part(client: TestClient[Any]) -> None:
    plan = client.post("/v1/repair-plans", json=till()).json()
    assert plan["absent"] == []
    assert all(plan[part] for part in PARTS)


@pytest.mark.parametrize(
    ("changed", "absent"),
    [
        ({"price_book": None}, {"quote"}),
        (
            {"inspection": {"belt_separation": True}},
            {"repair_units", "stem_trims", "service_limits", "work_plan"},
        ),
        ({"injuries": []}, {"repair_units", "stem_trims"}),
        ({"injuries": [], "history": {"losing_air": False}}, {"repair_units", "stem_trims", "work_plan"}),
    ],
)
def test_a_part_that_does_not_apply_is_absent_and_says_why(
    client: TestClient[Any], changed: Json, absent: set[str]
) -> None:
    plan = client.post("/v1/repair-plans", json=till() | changed).json()
    assert {one["part"] for one in plan["absent"]} == absent
    assert all(plan[part] is None for part in absent)


def test_a_tyre_with_nothing_to_sell_for_has_no_quote(client: TestClient[Any]) -> None:
    request = till("may_not_be_repaired")
    del request["replacement"], request["price_book"]["inspection"]
    plan = client.post("/v1/repair-plans", json=request).json()
    assert plan["quote"] is None
    assert "neither an inspection nor a replacement" in next(
        one["says"] for one in plan["absent"] if one["part"] == "quote"
    )
    alone = client.post("/v1/quotes", json=request)
    assert (alone.status_code, alone.json()["type"]) == (422, "/problems/not-priced")


def test_a_repair_that_cannot_be_priced_is_an_error_as_it_is_alone(client: TestClient[Any]) -> None:
    request = till("unit_without_a_price")
    whole, alone = client.post("/v1/repair-plans", json=request), client.post("/v1/quotes", json=request)
    assert whole.status_code == alone.status_code == 422
    assert whole.json()["errors"] == alone.json()["errors"]
    assert [fault["pointer"] for fault in alone.json()["errors"]] == ["/price_book/units/U-6"]


def test_without_known_injuries_there_is_a_plan(client: TestClient[Any]) -> None:
    plan = client.post("/v1/repair-plans", json={"rulebook": "gb", "tyre": {"marking": "205/55R16 91V"}}).json()
    assert plan["verdict"] == "inspect"
    assert plan["repair_units"]["offer"] == "conditional"
    assert [one["part"] for one in plan["absent"]] == ["quote"]
