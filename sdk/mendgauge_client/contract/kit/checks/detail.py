"""A full answer has all that the brief one to the same case has, each thing at its place."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from typing import Any

from mendgauge_client.contract.kit.asking import ask, content_of, takes_batch
from mendgauge_client.contract.kit.check import BrokenError, Check, NotTriedError, broken_if
from mendgauge_client.contract.kit.deployment import Deployment
from mendgauge_client.contract.kit.material import Example, examples, operations
from mendgauge_client.contract.kit.same import shown

GROUP = "detail"
TABLE = ("cites", "sources")
"""How a brief answer names its documents: by keys into a table, where a full one names them in place."""


def checks() -> Iterator[Check]:
    """Yield the checks of this group."""
    for operation in operations().values():
        asked = [example for example in examples() if example.operation == operation and example.status == 200]
        if asked and operation.takes_body and not takes_batch(operation):
            yield Check(GROUP, f"{operation.id}: full has all that brief has", partial(_has_all, asked))


def _has_all(asked: list[Example], deployment: Deployment) -> str:
    if not deployment.offers(asked[0].operation):
        raise NotTriedError("this deployment does not have it")
    broken_if(
        f"{example.name}, {fault}"
        for example in asked
        for fault in missing(_answer(deployment, example, "brief"), _answer(deployment, example, "full"))
    )
    return f"{len(asked)} cases"


def _answer(deployment: Deployment, example: Example, detail: str) -> dict[str, Any]:
    response = ask(deployment, example.operation, {**example.request, "detail": detail})
    answer = content_of(response)
    if response.status_code != 200 or not isinstance(answer, dict):
        raise BrokenError(f"{example.name}, {detail}: expected status 200, got {response.status_code}")
    return answer


def missing(brief: dict[str, Any], full: dict[str, Any]) -> Iterator[str]:
    """Yield by JSON pointer what a brief answer has and the full one has not."""
    yield from _missing(brief, full, brief.get("sources", {}), "")


def _missing(brief: Any, full: Any, sources: dict[str, Any], pointer: str) -> Iterator[str]:
    if isinstance(brief, dict) and isinstance(full, dict):
        if (key := brief.get("cites")) is not None:
            named = sources.get(key)
            if named is None or named != {name: full.get(name) for name in named}:
                yield f"{pointer}/cites: {shown(key)} is {shown(named)} among the sources, and another in full"
        for name, value in brief.items():
            if name in TABLE:
                continue
            if name not in full:
                yield f"{pointer}/{name}: brief has {shown(value)}, and full has it not"
            else:
                yield from _missing(value, full[name], sources, f"{pointer}/{name}")
    elif isinstance(brief, list) and isinstance(full, list):
        yield from _missing_items(brief, full, sources, pointer)
    elif brief != full:
        yield f"{pointer or '/'}: brief has {shown(brief)}, full {shown(full)}"


def _missing_items(brief: list[Any], full: list[Any], sources: dict[str, Any], pointer: str) -> Iterator[str]:
    """Yield the items of a list that a longer one has not, in the same order."""
    rest = iter(full)
    for index, item in enumerate(brief):
        if not any(not any(_missing(item, other, sources, "")) for other in rest):
            yield f"{pointer}/{index}: brief has {shown(item)}, and full has it not, or in another order"
            return
