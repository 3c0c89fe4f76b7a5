"""What the kit brings along: the document that this client was made from, and the golden examples.

Both are packed into `contract/material` when the client is built; a checkout has them in `openapi/`.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from functools import cache
from importlib.resources import files
from importlib.resources.abc import Traversable
from pathlib import Path
from typing import Any, NamedTuple

from mendgauge_client.contract.compat.changes import METHODS, Document

_PACKED = files("mendgauge_client.contract") / "material"
MATERIAL: Traversable = _PACKED if _PACKED.is_dir() else Path(__file__).parents[4] / "openapi"


class Operation(NamedTuple):
    """An operation of the contract.

    Attributes:
        id: Its name.
        method: The HTTP method, in capitals.
        path: Its path, with parameters in braces.
        definition: Its node in the document.
    """

    id: str
    method: str
    path: str
    definition: dict[str, Any]

    @property
    def takes_body(self) -> bool:
        """Whether it takes a body, which is JSON."""
        return "requestBody" in self.definition

    @property
    def forms(self) -> tuple[str, ...]:
        """The media types of its answer where that is no JSON; empty for JSON."""
        content = self.definition["responses"]["200"].get("content", {})
        return () if "application/json" in content else tuple(content)


class Example(NamedTuple):
    """A request and the whole answer to it.

    Attributes:
        name: The operation and the example, as `check_repairability/explained`.
        operation: The operation it is sent to.
        request: The body, or the path and query parameters by name.
        status: The status of the answer.
        answer: The content of the answer, without its request id.
    """

    name: str
    operation: Operation
    request: dict[str, Any]
    status: int
    answer: Any


@cache
def built_from() -> Document:
    """Return the document that this client was made from."""
    document: Document = json.loads((MATERIAL / "openapi.json").read_bytes())
    return document


@cache
def operations() -> dict[str, Operation]:
    """Return the operations of the contract, by name."""
    found = [
        Operation(item[method]["operationId"], method.upper(), path, item[method])
        for path, item in built_from()["paths"].items()
        for method in METHODS
        if method in item
    ]
    return {operation.id: operation for operation in found}


@cache
def examples() -> tuple[Example, ...]:
    """Return the golden examples, by name."""
    return tuple(_example(file) for file in _files(MATERIAL / "examples"))


def _files(folder: Traversable) -> Iterator[Traversable]:
    for entry in sorted(folder.iterdir(), key=lambda entry: entry.name):
        if entry.is_dir():
            yield from _files(entry)
        elif entry.name.endswith(".json"):
            yield entry


def _example(file: Traversable) -> Example:
    example = json.loads(file.read_bytes())
    name = f"{example['operation']}/{file.name.removesuffix('.json')}"
    return Example(name, operations()[example["operation"]], example["request"], example["status"], example["response"])
