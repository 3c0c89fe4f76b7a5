"""The same question has the same answer, byte for byte, however its JSON is written."""

from __future__ import annotations

import json
from collections.abc import Iterator
from functools import partial
from typing import Any

from mendgauge_client.contract.kit.asking import ask
from mendgauge_client.contract.kit.check import Check, NotTriedError, broken_if
from mendgauge_client.contract.kit.deployment import JSON_HEADERS, Deployment
from mendgauge_client.contract.kit.material import Example, Operation, examples, operations
from mendgauge_client.errors import REQUEST_ID

GROUP = "sameness"
SAME_ID = {REQUEST_ID: "contract-kit.same"}


def checks() -> Iterator[Check]:
    """Yield the checks of this group."""
    for operation in operations().values():
        asked = [example for example in examples() if example.operation == operation]
        if asked:
            yield Check(GROUP, f"{operation.id} answers the same bytes again", partial(_same_again, asked))
        if asked and operation.takes_body:
            says = f"{operation.id} answers the same bytes to fields in another order"
            yield Check(GROUP, says, partial(_same_in_any_order, operation, asked))


def _same_again(asked: list[Example], deployment: Deployment) -> None:
    _needs(deployment, asked[0].operation)
    broken_if(
        f"{example.name}: asked twice, answered otherwise"
        for example in asked
        if ask(deployment, example.operation, example.request, SAME_ID).content
        != ask(deployment, example.operation, example.request, SAME_ID).content
    )


def _same_in_any_order(operation: Operation, asked: list[Example], deployment: Deployment) -> None:
    _needs(deployment, operation)
    broken_if(
        f"{example.name}: with its fields in another order, answered otherwise"
        for example in asked
        if example.status == 200
        and ask(deployment, operation, example.request, SAME_ID).content
        != deployment.ask(
            "POST",
            operation.path,
            content=json.dumps(_turned(example.request), indent=1).encode(),
            headers=JSON_HEADERS | SAME_ID,
        ).content
    )


def _turned(value: Any) -> Any:
    """Return a JSON value with the members of its objects in reverse order; the items of a list stay as they are."""
    if isinstance(value, dict):
        return {name: _turned(value[name]) for name in reversed(value)}
    return [_turned(item) for item in value] if isinstance(value, list) else value


def _needs(deployment: Deployment, operation: Operation) -> None:
    if not deployment.offers(operation):
        raise NotTriedError("this deployment does not have it")
