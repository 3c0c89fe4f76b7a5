"""Every answer carries its request id: the caller's own where it is well formed, one made up otherwise."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import partial

from mendgauge_client._settings import REQUEST_ID_PATTERN
from mendgauge_client.contract.kit.asking import CASE, request_id_of
from mendgauge_client.contract.kit.check import BrokenError, Check
from mendgauge_client.contract.kit.deployment import Deployment
from mendgauge_client.errors import REQUEST_ID

GROUP = "request id"
WELL_FORMED = ("a", "CONTRACT-KIT.000172", "0af7651916cd43dd8448eb211c80319c", "kit:a_b", "x" * 64)
ILL_FORMED = ("two words", "x" * 65, '"quoted"', "{kit}")
PLACES = {
    "a reading": ("GET", "/v1/tyre-markings?marking=205/55R16"),
    "a decision": ("POST", "/v1/repairability"),
    "a refusal": ("GET", "/v1/tyre-markings"),
    "a path that does not exist": ("GET", "/v1/no-such-path"),
    "a health check": ("GET", "/health/live"),
}


def checks() -> Iterator[Check]:
    """Yield the checks of this group."""
    for place, (method, path) in PLACES.items():
        yield Check(GROUP, f"a well-formed one is taken over by {place}", partial(_taken, method, path))
        yield Check(GROUP, f"an ill-formed one is replaced by {place}", partial(_replaced, method, path))
        yield Check(GROUP, f"one is made where none was sent, by {place}", partial(_made, method, path))


def _taken(method: str, path: str, deployment: Deployment) -> None:
    for given in WELL_FORMED:
        if (got := _request_id(deployment, method, path, given)) != given:
            raise BrokenError(f"sent {REQUEST_ID}: {given}, got {got!r}")


def _replaced(method: str, path: str, deployment: Deployment) -> None:
    for given in ILL_FORMED:
        got = _request_id(deployment, method, path, given)
        if got == given or not _well_formed(got):
            raise BrokenError(f"sent {REQUEST_ID}: {given}, got {got!r}; expected one of the form {REQUEST_ID_PATTERN}")


def _made(method: str, path: str, deployment: Deployment) -> None:
    first, second = (_request_id(deployment, method, path, None) for _ in range(2))
    if not _well_formed(first):
        raise BrokenError(f"sent none, got {first!r}; expected one of the form {REQUEST_ID_PATTERN}")
    if first == second:
        raise BrokenError(f"two requests were given the same id: {first!r}")


def _request_id(deployment: Deployment, method: str, path: str, given: str | None) -> str | None:
    headers = {} if given is None else {REQUEST_ID: given}
    response = (
        deployment.post(path, CASE, headers) if method == "POST" else deployment.ask("GET", path, headers=headers)
    )
    return request_id_of(response)


def _well_formed(got: str | None) -> bool:
    return got is not None and re.fullmatch(REQUEST_ID_PATTERN, got) is not None
