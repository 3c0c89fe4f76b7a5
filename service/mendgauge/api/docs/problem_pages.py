"""A page for each kind of problem: what it means, what to do about it, and what one looks like."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache, partial
from pathlib import Path
from typing import Any

import msgspec

from mendgauge.api.docs.golden import golden_examples
from mendgauge.api.docs.page import Page
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


class Occasion(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """When a problem of a kind is answered, and what it then says."""

    when: str
    detail: str
    errors: tuple[dict[str, str], ...] = ()


@cache
def occasions() -> dict[str, Occasion]:
    """Return an occasion for each kind that no golden example has, by the last part of its type."""
    text = Path(__file__).with_name("problems.toml").read_text("utf-8")
    return msgspec.toml.decode(text, type=dict[str, Occasion])


def _content(document: dict[str, Any], kind: ProblemType) -> dict[str, Any]:
    """Return what the page of a kind shows; the example is a golden answer where there is one."""
    golden = next((one for one in golden_examples() if _kind_of(one.response) == kind.type), None)
    said = {"type": kind.type, "title": kind.title, "status": kind.status}
    if golden:
        example = golden.response
        when = f"“{golden.summary}”, an example of [{golden.operation}](/docs/operations/{golden.operation}#examples)"
    else:
        occasion = occasions()[kind.type.rpartition("/")[2]]
        example = said | {"detail": occasion.detail} | ({"errors": occasion.errors} if occasion.errors else {})
        when = occasion.when
    return {
        "kind": kind,
        "example": example | {"request_id": "DEPOT-3.000172"},
        "when": when,
        "operations": [
            described
            for methods in document["paths"].values()
            for described in methods.values()
            if str(kind.status) in described["responses"]
        ],
    }


def _kind_of(response: Any) -> str | None:
    return response.get("type") if isinstance(response, dict) else None
