"""The OpenAPI document tells the truth: it is what the code makes, it is valid, and it is complete."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator  # type: ignore[import-untyped]
from litestar.testing import TestClient
from openapi_spec_validator import validate

from mendgauge.api.problems import PROBLEM_TYPES
from mendgauge.server import document

COMMITTED = Path(__file__).parents[2] / "openapi" / "openapi.json"
TELLING = {"description", "schema", "in", "name", "required"}


@pytest.fixture(scope="module")
def told() -> dict[str, Any]:
    content: dict[str, Any] = json.loads(COMMITTED.read_bytes())
    return content


def operations(told: dict[str, Any]) -> Iterator[dict[str, Any]]:
    return (operation for item in told["paths"].values() for operation in item.values())


def properties(told: dict[str, Any]) -> Iterator[tuple[str, dict[str, Any]]]:
    for name, schema in told["components"]["schemas"].items():
        for field, inner in schema.get("properties", {}).items():
            yield f"{name}.{field}", inner


def test_the_committed_document_is_what_the_code_makes() -> None:
    assert document() == COMMITTED.read_bytes(), "run `make openapi`"


def test_the_service_serves_it(client: TestClient[Any]) -> None:
    assert client.get("/openapi.json").content == COMMITTED.read_bytes()


def test_it_is_valid_openapi_3_1(told: dict[str, Any]) -> None:
    assert told["openapi"].startswith("3.1")
    validate(told)


def test_every_operation_is_described(told: dict[str, Any]) -> None:
    ids = [operation["operationId"] for operation in operations(told)]
    assert len(ids) == len(set(ids)) > 5
    for operation in operations(told):
        assert re.fullmatch(r"[a-z]+(_[a-z]+)+", operation["operationId"])
        assert operation["summary"].endswith(("?", "means"))
        assert len(operation["description"]) > 40
        assert operation["tags"][0] in {tag["name"] for tag in told["tags"]}
        for parameter in operation["parameters"]:
            assert "$ref" in parameter or parameter.keys() >= TELLING


def test_every_field_is_described(told: dict[str, Any]) -> None:
    silent = [
        name for name, schema in properties(told) if "description" not in schema and "$ref" not in json.dumps(schema)
    ]
    assert silent == []
    assert all(schema.get("description") for schema in told["components"]["schemas"].values())


def test_every_answer_has_a_request_id_and_every_refusal_is_a_problem(told: dict[str, Any]) -> None:
    for operation in operations(told):
        assert {"$ref": "#/components/parameters/RequestId"} in operation["parameters"]
        for status, answer in operation["responses"].items():
            if status < "400":
                assert "X-Request-Id" in answer["headers"]
            else:
                response = told["components"]["responses"][answer["$ref"].rpartition("/")[2]]
                assert "X-Request-Id" in response["headers"]
                (media_type,) = response["content"]
                assert media_type == "application/problem+json"


def test_problem_responses_name_their_kinds(told: dict[str, Any]) -> None:
    responses = json.dumps(told["components"]["responses"])
    promised = {int(status) for operation in operations(told) for status in operation["responses"] if status >= "400"}
    for kind in PROBLEM_TYPES:
        assert (kind.type in responses) == (kind.status in promised)


@pytest.mark.parametrize(
    ("operation_id", "statuses"),
    [
        ("check_repairability", {"200", "400", "401", "408", "413", "415", "422", "429", "500", "503"}),
        ("read_tyre_marking", {"200", "401", "422", "429", "500", "503"}),
        ("list_rulebooks", {"200", "304", "401", "429", "500", "503"}),
        ("get_rulebook", {"200", "304", "401", "404", "429", "500", "503"}),
        ("check_ready", {"200", "500", "503"}),
        ("check_live", {"200", "500", "503"}),
        ("explain_problem", {"200", "404", "500", "503"}),
    ],
)
def test_an_operation_promises_the_statuses_it_has(told: dict[str, Any], operation_id: str, statuses: set[str]) -> None:
    (operation,) = [operation for operation in operations(told) if operation["operationId"] == operation_id]
    assert operation["responses"].keys() == statuses


def test_requests_are_closed_and_bounded(told: dict[str, Any]) -> None:
    schemas = told["components"]["schemas"]
    assert all(schemas[name]["additionalProperties"] is False for name in _reached(schemas, "Case"))
    case, injury = schemas["Case"]["properties"], schemas["Injury"]["properties"]
    assert next(branch for branch in case["injuries"]["anyOf"] if "items" in branch)["maxItems"] == 20
    assert injury["diameter_mm"]["anyOf"] == [
        {"exclusiveMinimum": 0, "maximum": 500, "type": "number"},
        {"$ref": "#/components/schemas/Range"},
        {"type": "null"},
    ]
    assert injury["diameter_mm"]["description"].startswith("Diameter of the injury, mm")
    assert {"type": "number", "minimum": 0, "maximum": 50, "multipleOf": 1} in schemas["HouseRules"]["properties"][
        "max_repairs"
    ]["anyOf"]


def test_etag_and_what_it_is_asked_with(told: dict[str, Any]) -> None:
    for operation in operations(told):
        if "304" in operation["responses"]:
            assert "ETag" in operation["responses"]["200"]["headers"]
            assert "If-None-Match" in [parameter.get("name") for parameter in operation["parameters"]]


def test_examples_fit_their_schemas(told: dict[str, Any]) -> None:
    checked = 0
    for operation in operations(told):
        contents = [operation.get("requestBody", {}), *operation["responses"].values()]
        for content in (media for part in contents for media in part.get("content", {}).values()):
            if "example" in content:
                _fits(told, content["schema"], content["example"])
                checked += 1
    for _, schema in properties(told):
        for example in schema.get("examples", ()):
            _fits(told, schema, example)
            checked += 1
    for response in told["components"]["responses"].values():
        for example in response["content"]["application/problem+json"]["examples"].values():
            _fits(told, {"$ref": "#/components/schemas/Problem"}, example["value"])
            checked += 1
    assert checked > 100


def test_the_example_can_be_sent_and_is_answered_as_shown(told: dict[str, Any], client: TestClient[Any]) -> None:
    for path, item in told["paths"].items():
        for method, operation in item.items():
            if "requestBody" in operation:
                shown = operation["requestBody"]["content"]["application/json"]["example"]
                answer = client.request(method, path, json=shown)
                assert answer.json() == operation["responses"]["200"]["content"]["application/json"]["example"]


def _reached(schemas: dict[str, Any], name: str) -> set[str]:
    """A schema's name and those of all that it refers to."""
    reached, open_names = set(), {name}
    while open_names:
        name = open_names.pop()
        reached.add(name)
        open_names |= set(re.findall(r"#/components/schemas/(\w+)", json.dumps(schemas[name]))) - reached
    return reached


def _fits(told: dict[str, Any], schema: dict[str, Any], example: Any) -> None:
    Draft202012Validator({**schema, "components": told["components"]}).validate(example)
