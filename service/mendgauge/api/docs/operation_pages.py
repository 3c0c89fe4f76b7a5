"""A page for each operation: what it answers, examples that run from the page, and how a program asks it."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from typing import Any, Final

from mendgauge.api.docs.golden import Golden, golden_examples
from mendgauge.api.docs.page import Page
from mendgauge.api.docs.samples import Call, curl, python, typescript
from mendgauge.api.problems import PROBLEM_TYPES

_SHOWN_TO: Final = 20_000
"""Characters of an answer that a page shows; a longer one is seen by running the example."""


def operation_pages(document: dict[str, Any]) -> Iterator[Page]:
    """Yield the page of every operation, in the order of the document: that of the job."""
    for path, methods in document["paths"].items():
        for method, described in methods.items():
            name = described["operationId"]
            yield Page(
                path=f"/docs/operations/{name}",
                title=described["summary"],
                section="Operations",
                about=f"`{method.upper()} {path}`",
                template="operation.html",
                content=partial(_content, document, path, method, described),
                words=f"{name} {' '.join(described['tags'])} {described['description']}",
            )


def _content(document: dict[str, Any], path: str, method: str, described: dict[str, Any]) -> dict[str, Any]:
    examples = _examples(document, described)
    calls = [Call(described["operationId"], method.upper(), path, described, one.request) for one in examples]
    request = _documented(document, described).request if "requestBody" in described else examples[0].request
    sample = Call(described["operationId"], method.upper(), path, described, request)
    return {
        "operation": described,
        "method": method.upper(),
        "address": path,
        "takes": sample.takes,
        "gives": sample.gives,
        "forms": list(described["responses"]["200"].get("content", {})),
        "parameters": list(sample.parameters.values()),
        "examples": list(zip(examples, calls, strict=True)),
        "samples": {"curl": curl(sample), "Python": python(sample), "TypeScript": typescript(sample)},
        "problems": [kind for kind in PROBLEM_TYPES if str(kind.status) in described["responses"]],
        "shown_to": _SHOWN_TO,
    }


def _examples(document: dict[str, Any], described: dict[str, Any]) -> list[Golden]:
    """Return the examples of an operation: golden ones or, where it has none, the one that the document has."""
    golden = [one for one in golden_examples() if one.operation == described["operationId"]]
    return golden or [_documented(document, described)]


def _documented(document: dict[str, Any], described: dict[str, Any]) -> Golden:
    name = described["operationId"]
    body = described.get("requestBody")
    if body:
        reference = next(iter(body["content"]["application/json"]["examples"].values()))["$ref"]
        example = document["components"]["examples"][reference.rpartition("/")[2]]
        return Golden(operation=name, summary=example["summary"], request=example["value"], status=200, response=None)
    request = {
        one["name"]: one["schema"]["examples"][0]
        for one in described["parameters"]
        if one.get("in") in ("path", "query") and one["schema"].get("examples")
    }
    return Golden(operation=name, summary=described["summary"], request=request, status=200, response=None)
