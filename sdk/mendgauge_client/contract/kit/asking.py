"""How an operation is asked: its request placed, its answer read."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any
from urllib.parse import quote

import httpx2

from mendgauge_client.contract.compat.schema_changes import resolved
from mendgauge_client.contract.kit.check import BrokenError
from mendgauge_client.contract.kit.deployment import Deployment
from mendgauge_client.contract.kit.material import Operation, built_from
from mendgauge_client.errors import REQUEST_ID

CASE = {"rulebook": "gb", "tyre": {"marking": "205/55R16 91V"}}
"""The smallest case."""


def ask(
    deployment: Deployment, operation: Operation, request: Any, headers: Mapping[str, str] | None = None
) -> httpx2.Response:
    """Send a request to an operation: its body, or its path and query parameters by name."""
    if operation.takes_body:
        return deployment.post(operation.path, request, headers)
    named = [resolved(built_from(), parameter) for parameter in operation.definition.get("parameters", [])]
    in_path = {parameter["name"] for parameter in named if parameter["in"] == "path"}
    path = operation.path.format_map({name: quote(str(value), safe="") for name, value in request.items()})
    query = {name: value for name, value in request.items() if name not in in_path}
    return deployment.ask(operation.method, path, params=query, headers=headers)


def smallest_body(operation: Operation) -> dict[str, Any]:
    """Return the least that an operation takes as its body: a case, or a batch of one."""
    return {"items": [CASE]} if takes_batch(operation) else CASE


def takes_batch(operation: Operation) -> bool:
    """Return whether an operation takes cases by the batch."""
    return operation.takes_body and "items" in _body_schema(operation).get("properties", {})


def most_items(operation: Operation) -> int:
    """Return how many cases an operation takes at a time."""
    most: int = _body_schema(operation)["properties"]["items"]["maxItems"]
    return most


def content_of(response: httpx2.Response) -> Any:
    """Return the content of an answer, without request ids, which differ from request to request.

    Raises:
        BrokenError: It says that it is JSON, and is not.
    """
    media_type = response.headers.get("Content-Type", "").partition(";")[0].strip()
    if media_type != "application/json" and not media_type.endswith("+json"):
        return response.text
    try:
        return without_request_ids(response.json())
    except ValueError as error:
        raise BrokenError(f"the answer is not JSON: {error}") from error


def without_request_ids(value: Any) -> Any:
    """Return a JSON value without the request ids of the problems in it."""
    if isinstance(value, dict):
        return {name: without_request_ids(part) for name, part in value.items() if name != "request_id"}
    return [without_request_ids(item) for item in value] if isinstance(value, list) else value


def request_id_of(response: httpx2.Response) -> str | None:
    """Return the request id that an answer carries; None where it has none."""
    request_id: str | None = response.headers.get(REQUEST_ID)
    return request_id


def _body_schema(operation: Operation) -> dict[str, Any]:
    schema = operation.definition["requestBody"]["content"]["application/json"]["schema"]
    return resolved(built_from(), schema)
