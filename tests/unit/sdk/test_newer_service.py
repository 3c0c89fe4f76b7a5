"""A client of today asks a service of tomorrow: with more fields, more words and wider limits than it knows of."""

from __future__ import annotations

import asyncio
import copy
import inspect
import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any, get_type_hints

import httpx2
import msgspec
import pytest
from jsonschema import Draft202012Validator  # type: ignore[import-untyped]

from mendgauge_client import (
    AsyncMendgauge,
    CaseBatch,
    InvalidRequestError,
    Mendgauge,
    Tyre,
    TyreCase,
    Verdict,
    bench_case,
)
from mendgauge_client._base import OpenWord

ROOT = Path(__file__).parents[3]
TODAY: dict[str, Any] = json.loads((ROOT / "openapi" / "openapi.json").read_bytes())
URL = "http://tyres.example"
NEW_WORD = "word_of_tomorrow"
NEW_FIELD = "field_of_tomorrow"
NEW_SECTION = "section_of_tomorrow"
WIDER = 10


def tomorrow() -> dict[str, Any]:
    """The document after a year of additions, each of a kind that breaks nobody by the published lists.

    Sources: GitHub REST API, "About breaking changes" (additive changes); Zalando RESTful API guidelines, rules 107 and
    108 (objects are open for extension, clients ignore what they do not know) and 112 (extensible enums).
    """
    document = copy.deepcopy(TODAY)
    answered = reached(document, [response_schema(operation) for _, operation in operations(document)])
    for name, schema in document["components"]["schemas"].items():
        for node in within(schema):
            for limit in ("maximum", "maxLength", "maxItems"):
                if limit in node:
                    node[limit] *= WIDER
            for listed in ("x-extensible-enum", "enum"):
                if listed in node and isinstance(node[listed][0], str):
                    node[listed] = [*node[listed], NEW_WORD]
        if "properties" in schema and name in answered:
            schema["properties"] |= {
                NEW_FIELD: {"type": "string"},
                NEW_SECTION: {"type": "object", "properties": {NEW_FIELD: {"type": "number"}}, "required": [NEW_FIELD]},
            }
            schema["required"] = [*schema.get("required", []), NEW_FIELD, NEW_SECTION]
        elif "properties" in schema:
            schema["properties"][NEW_FIELD] = {"type": "string"}
    return document


def operations(document: dict[str, Any]) -> Iterator[tuple[str, dict[str, Any]]]:
    for methods in document["paths"].values():
        for method, operation in methods.items():
            if "application/json" in operation["responses"].get("200", {}).get("content", {}):
                yield method.upper(), operation


def response_schema(operation: dict[str, Any]) -> dict[str, Any]:
    schema: dict[str, Any] = operation["responses"]["200"]["content"]["application/json"]["schema"]
    return schema


def resolved(document: dict[str, Any], node: dict[str, Any]) -> dict[str, Any]:
    while "$ref" in node:
        node = document["components"]["schemas"][node["$ref"].rpartition("/")[2]]
    return node


def within(node: Any) -> Iterator[dict[str, Any]]:
    if isinstance(node, dict):
        yield node
        for key, part in node.items():
            if key not in ("examples", "example", "default"):
                yield from within(part)
    elif isinstance(node, list):
        for part in node:
            yield from within(part)


def reached(document: dict[str, Any], nodes: list[Any]) -> set[str]:
    found: set[str] = {"Problem", "FaultAt"}
    waiting = list(nodes)
    while waiting:
        for node in within(waiting.pop()):
            name = str(node.get("$ref", "")).rpartition("/")[2]
            if name and name not in found:
                found.add(name)
                waiting.append(document["components"]["schemas"][name])
    return found


TOMORROW = tomorrow()


def sample(schema: dict[str, Any], document: dict[str, Any] = TOMORROW) -> Any:
    """An answer of tomorrow's service: every field there, the newest word, the largest value."""
    schema = resolved(document, schema)
    branches = [branch for branch in schema.get("anyOf", schema.get("oneOf", [])) if branch.get("type") != "null"]
    if branches:
        return sample({name: schema[name] for name in ("examples",) if name in schema} | branches[0], document)
    for listed in ("enum", "x-extensible-enum"):
        if listed in schema:
            return schema[listed][-1]
    if "const" in schema:
        return schema["const"]
    match schema.get("type"):
        case "object":
            named = {name: sample(inner, document) for name, inner in schema.get("properties", {}).items()}
            more = schema.get("additionalProperties")
            return named | ({NEW_FIELD: sample(more, document)} if isinstance(more, dict) else {})
        case "array":
            return [sample(schema["items"], document)] * max(2, schema.get("minItems", 0))
        case "number" | "integer":
            return schema.get("maximum", schema.get("examples", [7])[0])
        case "boolean":
            return True
        case "string" if schema.get("format") == "date":
            return "2030-01-01"
        case "string" if "pattern" in schema or "format" in schema:
            return schema["examples"][0]
        case "string":
            return "x" * min(schema.get("maxLength", 20), 5000)
    raise AssertionError(f"no sample of {schema}")


def validator(document: dict[str, Any], schema: dict[str, Any]) -> Any:
    return Draft202012Validator({**schema, "components": document["components"]})


def arguments(operation: dict[str, Any]) -> list[Any]:
    """What to call the method of an operation with."""
    if "requestBody" in operation:
        case = bench_case("gb", "205/55R16 91V", vehicle="car")
        method = getattr(Mendgauge, operation["operationId"])
        (name,) = (name for name in get_type_hints(method) if name in ("case", "case_batch"))
        return [CaseBatch(items=[case]) if name == "case_batch" else case]
    required = [parameter for parameter in operation["parameters"] if parameter.get("required")]
    return ["x" for _ in required]


OPERATIONS = [pytest.param(*found, id=found[1]["operationId"]) for found in operations(TOMORROW)]


@pytest.mark.parametrize("asynchronous", [False, True], ids=["sync", "async"])
@pytest.mark.parametrize(("method", "operation"), OPERATIONS)
def test_todays_client_reads_the_answers_of_tomorrow(
    method: str, operation: dict[str, Any], asynchronous: bool
) -> None:
    answer = sample(response_schema(operation))
    assert validator(TOMORROW, response_schema(operation)).is_valid(answer)
    assert NEW_FIELD in answer

    def respond(request: httpx2.Request) -> httpx2.Response:
        assert request.method == method
        return httpx2.Response(200, json=answer)

    transport = httpx2.MockTransport(respond)
    if asynchronous:

        async def ask() -> Any:
            async with AsyncMendgauge(URL, http_client=httpx2.AsyncClient(transport=transport)) as client:
                assert await getattr(client, operation["operationId"])(*arguments(operation))
                return (await getattr(client.raw, operation["operationId"])(*arguments(operation))).answer

        got = asyncio.run(ask())
    else:
        with Mendgauge(URL, http_client=httpx2.Client(transport=transport)) as client:
            assert getattr(client, operation["operationId"])(*arguments(operation))
            got = getattr(client.raw, operation["operationId"])(*arguments(operation)).answer
    assert msgspec.to_builtins(got) == known(answer, TODAY, operation)


def known(answer: Any, document: dict[str, Any], operation: dict[str, Any]) -> Any:
    """What today's client knows of an answer: all of it but the fields that are new, and of a map all the same."""
    (today,) = (found for _, found in operations(document) if found["operationId"] == operation["operationId"])
    return _known(answer, response_schema(today), document)


def _known(value: Any, schema: dict[str, Any], document: dict[str, Any]) -> Any:
    schema = resolved(document, schema)
    branches = [branch for branch in schema.get("anyOf", []) if branch.get("type") != "null"]
    if branches:
        return _known(value, branches[0], document)
    if isinstance(value, dict) and "properties" in schema:
        return {name: _known(value[name], inner, document) for name, inner in schema["properties"].items()}
    if isinstance(value, dict) and isinstance(inner := schema.get("additionalProperties"), dict):
        return {name: _known(part, inner, document) for name, part in value.items()}
    if isinstance(value, list):
        return [_known(item, schema["items"], document) for item in value]
    return value


def test_the_additions_are_met_everywhere() -> None:
    """The samples hold what is new, and today's document would not have them."""
    shown = [sample(response_schema(operation)) for _, operation in operations(TOMORROW)]
    text = json.dumps(shown)
    assert text.count(NEW_WORD) > 50
    assert text.count(NEW_FIELD) > 100
    new_words = [node for node in within(TOMORROW["components"]) if NEW_WORD in node.get("x-extensible-enum", [])]
    assert len(new_words) > 10
    too_long = 0
    for (_, today), answer in zip(operations(TODAY), shown, strict=True):
        errors = list(validator(TODAY, response_schema(today)).iter_errors(answer))
        too_long += any(error.validator in ("maxLength", "maximum", "maxItems") for error in errors)
    assert too_long > 3


def test_a_new_word_is_kept_as_it_came_and_is_none_of_those_known() -> None:
    (operation,) = (found for _, found in operations(TOMORROW) if found["operationId"] == "check_repairability")
    answer = sample(response_schema(operation))
    http = httpx2.Client(transport=httpx2.MockTransport(lambda _: httpx2.Response(200, json=answer)))
    with Mendgauge(URL, http_client=http) as client:
        got = client.check_repairability(bench_case("gb", "205/55R16 91V"))
    assert got.verdict == NEW_WORD
    assert isinstance(got.verdict, OpenWord)
    assert got.verdict not in list(Verdict)
    assert got.findings[0].basis == NEW_WORD


def test_a_refusal_of_tomorrow_is_reported_like_one_of_today() -> None:
    problem = sample({"$ref": "#/components/schemas/Problem"}) | {"type": "/problems/of-tomorrow", "status": 422}
    refusal = httpx2.Response(422, json=problem)
    http = httpx2.Client(transport=httpx2.MockTransport(lambda _: refusal))
    with Mendgauge(URL, http_client=http) as client, pytest.raises(InvalidRequestError) as caught:
        client.check_repairability(bench_case("gb", "205/55R16 91V"))
    assert caught.value.problem is not None
    assert caught.value.problem.type == "/problems/of-tomorrow"
    assert len(caught.value.faults) == 2


def test_a_value_that_only_tomorrow_takes_can_be_sent_today() -> None:
    limit = next(
        node["maximum"]
        for node in within(TODAY["components"]["schemas"]["Tyre"]["properties"]["tread_depth_mm"])
        if "maximum" in node
    )
    case = TyreCase(rulebook="gb", tyre=Tyre(marking="205/55R16 91V", tread_depth_mm=limit * 2))
    sent = msgspec.json.decode(msgspec.json.encode(case))
    ref = {"$ref": "#/components/schemas/TyreCase"}
    assert not validator(TODAY, ref).is_valid(sent)
    assert validator(TOMORROW, ref).is_valid(sent)


def test_every_method_that_answers_json_is_asked() -> None:
    methods = {name for name, _ in inspect.getmembers(Mendgauge, inspect.isfunction)}
    asked = {operation["operationId"] for _, operation in operations(TOMORROW)}
    assert asked <= methods
    assert len(asked) > 10
