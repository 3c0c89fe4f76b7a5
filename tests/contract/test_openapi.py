"""The OpenAPI document is true: it is what the code makes, it is valid, and it is complete."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator, ValidationError  # type: ignore[import-untyped]
from litestar.testing import TestClient
from openapi_spec_validator import validate

from mendgauge.api.problems import PROBLEM_TYPES
from mendgauge.server import document
from mendgauge_client.contract.kit.checks.document import shown_example

COMMITTED = Path(__file__).parents[2] / "openapi" / "openapi.json"
RESERVED = {"case", "default", "import", "package", "class", "switch", "object", "string", "error", "event", "record"}
"""Words that Java, C#, Go, Swift or Python keep for themselves, or that shadow a type of theirs."""
DESCRIBED = {"description", "schema", "in", "name", "required"}


@pytest.fixture(scope="module")
def published() -> dict[str, Any]:
    content: dict[str, Any] = json.loads(COMMITTED.read_bytes())
    return content


def operations(published: dict[str, Any]) -> Iterator[dict[str, Any]]:
    return (operation for item in published["paths"].values() for operation in item.values())


def properties(published: dict[str, Any]) -> Iterator[tuple[str, dict[str, Any]]]:
    for name, schema in published["components"]["schemas"].items():
        for field, inner in schema.get("properties", {}).items():
            yield f"{name}.{field}", inner


def test_the_committed_document_is_what_the_code_makes() -> None:
    assert document() == COMMITTED.read_bytes(), "run `make openapi`"


def test_the_service_serves_it(client: TestClient[Any]) -> None:
    assert client.get("/openapi.json").content == COMMITTED.read_bytes()


def test_it_is_valid_openapi_3_1(published: dict[str, Any]) -> None:
    assert published["openapi"].startswith("3.1")
    validate(published)


def test_every_operation_is_described(published: dict[str, Any]) -> None:
    ids = [operation["operationId"] for operation in operations(published)]
    assert len(ids) == len(set(ids)) > 5
    for operation in operations(published):
        assert re.fullmatch(r"[a-z]+(_[a-z]+)+", operation["operationId"])
        assert operation["summary"].endswith(("?", "means"))
        assert len(operation["description"]) > 40
        assert operation["tags"][0] in {tag["name"] for tag in published["tags"]}
        for parameter in operation["parameters"]:
            assert "$ref" in parameter or parameter.keys() >= DESCRIBED


def test_every_field_is_described(published: dict[str, Any]) -> None:
    silent = [
        name
        for name, schema in properties(published)
        if "description" not in schema and "$ref" not in json.dumps(schema)
    ]
    assert silent == []
    assert all(schema.get("description") for schema in published["components"]["schemas"].values())


def test_every_answer_has_a_request_id_and_every_refusal_is_a_problem(published: dict[str, Any]) -> None:
    for operation in operations(published):
        assert {"$ref": "#/components/parameters/RequestId"} in operation["parameters"]
        assert operation["responses"].keys() >= {"default"}
        for status, answer in operation["responses"].items():
            if status < "400":
                assert "X-Request-Id" in answer["headers"]
            else:
                response = published["components"]["responses"][answer["$ref"].rpartition("/")[2]]
                assert "X-Request-Id" in response["headers"]
                (media_type,) = response["content"]
                assert media_type == "application/problem+json"


def test_problem_responses_name_their_kinds(published: dict[str, Any]) -> None:
    responses = json.dumps(published["components"]["responses"])
    promised = {int(status) for each in operations(published) for status in each["responses"] if status.isdigit()}
    for kind in PROBLEM_TYPES:
        assert (kind.type in responses) == (kind.status in promised)


@pytest.mark.parametrize(
    ("operation_id", "statuses"),
    [
        ("check_repairability", {"200", "401", "408", "413", "415", "422", "429", "503"}),
        ("read_tyre_marking", {"200", "401", "422", "429", "503"}),
        ("list_generic_units", {"200", "304", "401", "422", "429", "503"}),
        ("list_rulebooks", {"200", "304", "401", "429", "503"}),
        ("get_rulebook", {"200", "304", "401", "404", "429", "503"}),
        ("check_ready", {"200", "503"}),
        ("check_live", {"200", "503"}),
        ("explain_problem", {"200", "404", "503"}),
    ],
)
def test_an_operation_promises_the_statuses_it_has(
    published: dict[str, Any], operation_id: str, statuses: set[str]
) -> None:
    (operation,) = [operation for operation in operations(published) if operation["operationId"] == operation_id]
    assert operation["responses"].keys() == statuses | {"400", "431", "500", "default"}


def test_requests_are_closed_and_bounded(published: dict[str, Any]) -> None:
    schemas = published["components"]["schemas"]
    assert all(
        schemas[name]["additionalProperties"] is False
        for name in _reached(schemas, "TyreCase")
        if "oneOf" not in schemas[name]
    )
    case, injury = schemas["TyreCase"]["properties"], schemas["Injury"]["properties"]
    assert next(branch for branch in case["injuries"]["anyOf"] if "items" in branch)["maxItems"] == 20
    diameter = injury["diameter_mm"]
    assert diameter["anyOf"] == [{"$ref": "#/components/schemas/MeasuredLength"}, {"type": "null"}]
    assert (diameter["exclusiveMinimum"], diameter["maximum"]) == (0, 500)
    assert diameter["description"].startswith("Diameter of the injury, mm")
    assert schemas["MeasuredLength"]["oneOf"] == [
        {"type": "number", "format": "double"},
        {"$ref": "#/components/schemas/Range"},
    ]
    assert {"type": "integer", "format": "int32", "minimum": 0, "maximum": 50} in schemas["HouseRules"]["properties"][
        "max_repairs"
    ]["anyOf"]


def test_bounds_beside_a_named_quantity_hold_for_its_numbers(published: dict[str, Any]) -> None:
    depth = published["components"]["schemas"]["Tyre"]["properties"]["tread_depth_mm"]
    for allowed in (0, 50, None, {"low": 3, "high": 4}):
        _fits(published, depth, allowed)
    for refused in (-1, 51, "5"):
        with pytest.raises(ValidationError):
            _fits(published, depth, refused)


def test_every_shape_is_one_that_generators_take(published: dict[str, Any]) -> None:
    """A number and an object in one field become a class of their own for each field, or lose the number."""
    schemas = published["components"]["schemas"]
    for name, field in properties(published):
        branches = [branch for branch in field.get("anyOf", ()) if branch.get("type") != "null"]
        assert len(branches) <= 1, f"{name}: name the union, as `MeasuredLength` is"
        if "/Measured" in json.dumps(branches):
            assert field.keys() & {"minimum", "exclusiveMinimum"}, f"{name} needs a lowest value"
            assert field.keys() & {"maximum", "exclusiveMaximum"}, f"{name} needs a highest value"
        values = field.get("additionalProperties")
        assert not isinstance(values, dict) or not values.keys() & {"anyOf", "oneOf"}, name
    for schema in _within(schemas):
        if schema.get("type") in ("number", "integer"):
            assert schema["format"] in ("double", "int32")
    assert not {name.lower() for name in schemas} & RESERVED


def test_the_document_refers_to_its_examples_and_is_small(published: dict[str, Any]) -> None:
    assert len(COMMITTED.read_bytes()) < 300_000
    assert published["components"]["examples"].keys() == set(
        re.findall(r'"#/components/examples/(\w+)"', json.dumps(published["paths"]))
    )


def test_operations_stand_in_the_order_of_the_job(published: dict[str, Any]) -> None:
    first, *_, last = published["paths"]
    assert first == "/v1/repairability"
    assert not last.startswith("/v1/")
    tags = list(dict.fromkeys(tag for operation in operations(published) for tag in operation["tags"]))
    assert tags == [tag["name"] for tag in published["tags"]]


def test_an_operation_says_whether_a_key_may_be_needed(published: dict[str, Any]) -> None:
    for path, item in published["paths"].items():
        for operation in item.values():
            assert operation["security"] == ([{}, {"api_key": []}] if path.startswith("/v1/") else [])


def test_etag_and_what_it_is_asked_with(published: dict[str, Any]) -> None:
    for operation in operations(published):
        if "304" in operation["responses"]:
            assert "ETag" in operation["responses"]["200"]["headers"]
            assert "If-None-Match" in [parameter.get("name") for parameter in operation["parameters"]]


def test_examples_fit_their_schemas(published: dict[str, Any]) -> None:
    checked = 0
    for operation in operations(published):
        for body in (operation.get("requestBody", {}), *operation["responses"].values()):
            for content in body.get("content", {}).values():
                if (example := shown_example(published, body)) is not None:
                    _fits(published, content["schema"], example)
                    checked += 1
    for _, schema in properties(published):
        for example in schema.get("examples", ()):
            _fits(published, schema, example)
            checked += 1
    for response in published["components"]["responses"].values():
        for example in response["content"]["application/problem+json"].get("examples", {}).values():
            _fits(published, {"$ref": "#/components/schemas/Problem"}, example["value"])
            checked += 1
    assert checked > 100


def test_the_example_can_be_sent_and_is_answered_as_shown(published: dict[str, Any], client: TestClient[Any]) -> None:
    for path, item in published["paths"].items():
        for method, operation in item.items():
            if "requestBody" in operation:
                answer = client.request(method, path, json=shown_example(published, operation["requestBody"]))
                if "application/json" not in operation["responses"]["200"]["content"]:
                    assert answer.headers["content-type"] in operation["responses"]["200"]["content"]
                    continue
                assert answer.json() == shown_example(published, operation["responses"]["200"])


def _within(node: Any) -> Iterator[dict[str, Any]]:
    if isinstance(node, dict):
        yield node
        for name, part in node.items():
            if name not in ("examples", "default"):
                yield from _within(part)
    elif isinstance(node, list):
        for part in node:
            yield from _within(part)


def _reached(schemas: dict[str, Any], name: str) -> set[str]:
    """A schema's name and those of all that it refers to."""
    reached, open_names = set(), {name}
    while open_names:
        name = open_names.pop()
        reached.add(name)
        open_names |= set(re.findall(r"#/components/schemas/(\w+)", json.dumps(schemas[name]))) - reached
    return reached


def _fits(published: dict[str, Any], schema: dict[str, Any], example: Any) -> None:
    Draft202012Validator({**schema, "components": published["components"]}).validate(example)
