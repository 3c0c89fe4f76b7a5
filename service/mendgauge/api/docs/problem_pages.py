"""A page for each kind of problem: what it means, what to do about it, and what one looks like."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from typing import Any

from mendgauge.api.docs.golden import golden_examples
from mendgauge.api.docs.page import Page
from mendgauge.api.openapi import problem_example
from mendgauge.api.problems import PROBLEM_TYPES, ProblemType


def problem_pages(document: dict[str, Any]) -> Iterator[Page]:
    """Yield the page of every kind of problem, at the address that `type` names."""
    for kind in PROBLEM_TYPES:
        yield Page(
            path=kind.type,
            title=kind.title,
            section="Problems",
            about=f"`{kind.status}` `{kind.type}`",
            template="problem.html",
            content=partial(_content, document, kind),
            words=f"error {kind.remedy}",
        )


def _content(document: dict[str, Any], kind: ProblemType) -> dict[str, Any]:
    """Return what the page of a kind shows; the example is a golden answer where there is one."""
    golden = next((one for one in golden_examples() if _kind_of(one.response) == kind.type), None)
    shown = problem_example(kind)
    example = golden.response | {"request_id": shown["value"]["request_id"]} if golden else shown["value"]
    return {
        "kind": kind,
        "example": example,
        "of_example": golden,
        "operations": [
            described
            for methods in document["paths"].values()
            for described in methods.values()
            if str(kind.status) in described["responses"]
        ],
    }


def _kind_of(response: Any) -> str | None:
    return response.get("type") if isinstance(response, dict) else None
