"""The deployment's own document: one that this client may go by, and one that is true of it."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from typing import Any

from mendgauge_client.contract.compat.changes import Document, changes, major
from mendgauge_client.contract.compat.schema_changes import resolved
from mendgauge_client.contract.kit.asking import ask, content_of
from mendgauge_client.contract.kit.check import BrokenError, Check, NotTriedError, broken_if
from mendgauge_client.contract.kit.deployment import Deployment
from mendgauge_client.contract.kit.material import Operation, built_from, operations
from mendgauge_client.contract.kit.same import differences

GROUP = "document"


def checks() -> Iterator[Check]:
    """Yield the checks of this group."""
    yield Check(GROUP, "/openapi.json is an OpenAPI 3.1 document", _is_served)
    yield Check(GROUP, "its major version is the one this client was made for", _same_major)
    yield Check(GROUP, "nothing that this client goes by has changed", _nothing_broken)
    for operation in operations().values():
        if operation.takes_body and not operation.forms:
            yield Check(GROUP, f"its example of {operation.id} is answered as shown", partial(_own_example, operation))


def _served(deployment: Deployment) -> Document:
    if deployment.served is None:
        raise BrokenError("GET /openapi.json gives no OpenAPI document")
    return deployment.served


def _is_served(deployment: Deployment) -> str:
    document = _served(deployment)
    if not str(document.get("openapi", "")).startswith("3.1."):
        raise BrokenError(f"/openapi: expected 3.1, got {document.get('openapi')!r}")
    return f"version {document.get('info', {}).get('version')}, this client {built_from()['info']['version']}"


def _same_major(deployment: Deployment) -> None:
    expected, document = major(built_from()), _served(deployment)
    try:
        found = major(document)
    except ValueError as error:
        raise BrokenError(str(error)) from error
    if found != expected:
        raise BrokenError(f"expected version {expected}.x, got {document['info']['version']}: use a client made for it")


def _nothing_broken(deployment: Deployment) -> str | None:
    found = changes(built_from(), _served(deployment))
    broken_if(str(change) for change in found if change.breaking)
    return "\n".join([f"{len(found)} additions", *map(str, found)]) if found else None


def _own_example(operation: Operation, deployment: Deployment) -> None:
    if not deployment.offers(operation):
        raise NotTriedError("this deployment does not have it")
    definition = _served(deployment)["paths"][operation.path][operation.method.lower()]
    bodies = definition.get("requestBody", {}), definition.get("responses", {}).get("200", {})
    request, expected = (shown_example(_served(deployment), body) for body in bodies)
    if request is None or expected is None:
        raise NotTriedError("the document shows none")
    response = ask(deployment, operation, request)
    if response.status_code != 200:
        raise BrokenError(f"expected status 200, got {response.status_code}: {response.text[:200]}")
    broken_if(differences(expected, content_of(response)))


def shown_example(document: Document, body: Document) -> Any:
    """Return the first example that a document shows of a request or a response; None where it shows none."""
    for content in body.get("content", {}).values():
        for example in content.get("examples", {}).values():
            return resolved(document, example)["value"]
        if "example" in content:
            return content["example"]
    return None
