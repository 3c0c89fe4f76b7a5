"""The shape of a problem (RFC 9457), as the contract has it."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

import httpx2

from mendgauge_client.contract.kit.check import broken_if
from mendgauge_client.errors import REQUEST_ID

TYPES = "/problems/"
TEXTS = ("type", "title", "detail", "request_id")


def problem_in(response: httpx2.Response, status: int, kind: str) -> dict[str, Any]:
    """Return the problem in a response, which must be one of that status and kind.

    Args:
        response: What was answered.
        status: The status it must have.
        kind: The last part of the `type` it must have.

    Raises:
        BrokenError: It is not.
    """
    broken_if(problem_faults(response, status, kind))
    problem: dict[str, Any] = response.json()
    return problem


def problem_faults(response: httpx2.Response, status: int, kind: str) -> Iterator[str]:
    """Yield what is wrong with a response that must be a problem of that status and kind."""
    if response.status_code != status:
        yield f"expected status {status}, got {response.status_code}"
    media_type = response.headers.get("Content-Type", "")
    if media_type.partition(";")[0].strip() != "application/problem+json":
        yield f"expected Content-Type application/problem+json, got {media_type!r}"
    try:
        problem = response.json()
    except ValueError:
        yield f"expected a problem, got text that is not JSON: {response.text[:80]!r}"
        return
    if not isinstance(problem, dict):
        yield "expected a problem, which is a JSON object"
        return
    yield from _member_faults(problem, response, kind)
    yield from _place_faults(problem.get("errors", []))


def _member_faults(problem: dict[str, Any], response: httpx2.Response, kind: str) -> Iterator[str]:
    for name in TEXTS:
        if not isinstance(problem.get(name), str) or not problem[name]:
            yield f"/{name}: expected text, got {problem.get(name)!r}"
    if problem.get("type") != TYPES + kind:
        yield f"/type: expected {TYPES + kind!r}, got {problem.get('type')!r}"
    if problem.get("status") != response.status_code:
        yield f"/status: expected {response.status_code}, as the response has it, got {problem.get('status')!r}"
    if problem.get("request_id") != response.headers.get(REQUEST_ID):
        yield f"/request_id: expected {response.headers.get(REQUEST_ID)!r}, as the header has it"


def _place_faults(errors: Any) -> Iterator[str]:
    """Yield what is wrong with the list of the places at fault."""
    if not isinstance(errors, list):
        yield "/errors: expected a list"
        return
    for index, error in enumerate(errors):
        if not isinstance(error, dict) or not isinstance(error.get("detail"), str):
            yield f"/errors/{index}: expected an object with a `detail`"
        elif len([name for name in ("pointer", "parameter") if isinstance(error.get(name), str)]) != 1:
            yield f"/errors/{index}: expected either a `pointer` or a `parameter`"
        elif not re.fullmatch("(/.*)?", error.get("pointer", ""), re.DOTALL):
            yield f"/errors/{index}/pointer: {error['pointer']!r} is no JSON Pointer"
