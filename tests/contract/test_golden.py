"""Golden examples: requests with their whole answers, in `openapi/examples/`, one a file:

`{"operation": "check_repairability", "summary": …, "request": {…}, "status": 200, "response": {…}}`.

The request of a POST is its body; of a GET, its path and query parameters. `python tests/contract/test_golden.py`
writes the answers anew from what the service says now: read the difference before it is committed.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from litestar.testing import TestClient

from mendgauge.server import create_app, document

REQUEST_ID = "DEPOT-3.000172"
"""What the problems of a batch's items are listed under."""

EXAMPLES = Path(__file__).parents[2] / "openapi" / "examples"
OPERATIONS = {
    operation["operationId"]: (method.upper(), path, operation)
    for path, item in json.loads(document())["paths"].items()
    for method, operation in item.items()
}


def files() -> list[Path]:
    return sorted(EXAMPLES.rglob("*.json"))


def ask(client: TestClient[Any], operation_id: str, request: dict[str, Any]) -> tuple[int, Any]:
    """Send an example's request; its answer's status and content, without what differs from request to request."""
    method, path, operation = OPERATIONS[operation_id]
    if "requestBody" in operation:
        answer = client.request(method, path, json=request, headers={"X-Request-Id": REQUEST_ID})
    else:
        named = {parameter["name"]: parameter["in"] for parameter in operation["parameters"] if "name" in parameter}
        in_path = {name: value for name, value in request.items() if named.get(name) == "path"}
        query = {name: value for name, value in request.items() if name not in in_path}
        answer = client.request(method, path.format(**in_path), params=query)
    content = answer.json()
    content.pop("request_id", None)
    return answer.status_code, content


@pytest.mark.parametrize("file", files(), ids=lambda file: str(file.relative_to(EXAMPLES)))
def test_an_example_is_answered_as_it_says(client: TestClient[Any], file: Path) -> None:
    example = json.loads(file.read_bytes())
    assert example.keys() == {"operation", "summary", "request", "status", "response"}
    status, content = ask(client, example["operation"], example["request"])
    assert content == example["response"]
    assert status == example["status"]


def rewrite() -> None:
    """Put the present answers into the examples."""
    with TestClient(create_app()) as client:
        for file in files():
            example = json.loads(file.read_bytes())
            example["status"], example["response"] = ask(client, example["operation"], example["request"])
            file.write_text(json.dumps(example, indent=2, ensure_ascii=False) + "\n", encoding="utf-8")


if __name__ == "__main__":
    rewrite()
