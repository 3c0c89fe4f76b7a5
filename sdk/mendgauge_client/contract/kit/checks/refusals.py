"""Every refusal is a problem of its kind, and says where the request is at fault."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from functools import partial
from typing import Any

import httpx2

from mendgauge_client.contract.kit.asking import ask, smallest_body, takes_batch
from mendgauge_client.contract.kit.check import BrokenError, Check, NotTriedError, broken_if
from mendgauge_client.contract.kit.deployment import JSON_HEADERS, Deployment
from mendgauge_client.contract.kit.material import Operation, operations
from mendgauge_client.contract.kit.problem_shape import TYPES, problem_in
from mendgauge_client.contract.kit.same import shown

GROUP = "errors"
MEBIBYTE = 1_048_576
LARGE_MIB = (3, 9, 17)
"""Sizes of the bodies that are sent to be refused as too large. The operator sets the limit, so it may be higher."""
KINDS = {
    "malformed-request": 400,
    "not-found": 404,
    "method-not-allowed": 405,
    "body-too-large": 413,
    "unsupported-media-type": 415,
    "contract-broken": 422,
    "impossible-case": 422,
}


def checks() -> Iterator[Check]:
    """Yield the checks of this group."""
    for operation in operations().values():
        if operation.takes_body:
            for says, run in BODIES.items():
                yield Check(GROUP, f"{operation.id}: {says}", partial(run, operation))
    yield Check(GROUP, "read_tyre_marking: 422 without the marking, by the parameter's name", _parameter_missing)
    yield Check(GROUP, "read_tyre_marking: 422 to a parameter that there is not, by its name", _parameter_unknown)
    yield Check(GROUP, "check_repairability: 422 to a marking that no tyre carries, by pointer", _impossible)
    yield Check(GROUP, "get_rulebook: 404 to a rulebook that there is not", _no_such_rulebook)
    yield Check(GROUP, "404 to a path that there is not", _no_such_path)
    yield Check(GROUP, "405 to a method that a path does not take, with Allow", _no_such_method)
    for kind, status in KINDS.items():
        yield Check(GROUP, f"{TYPES}{kind} is explained", partial(_explained, kind, status))


def _not_json(operation: Operation, deployment: Deployment) -> None:
    for body in (b'{"rulebook": ', b"", b"NaN", b"\xff"):
        problem_in(_send(deployment, operation, body), 400, "malformed-request")


def _not_declared(operation: Operation, deployment: Deployment) -> None:
    body = json.dumps(smallest_body(operation)).encode()
    for media_type in ("text/plain", "application/x-www-form-urlencoded", ""):
        response = _send(deployment, operation, body, {"Content-Type": media_type})
        problem_in(response, 415, "unsupported-media-type")


def _not_an_object(operation: Operation, deployment: Deployment) -> None:
    problem = problem_in(_send(deployment, operation, b"[]"), 422, "contract-broken")
    _names(problem, {"pointer": ""})


def _unknown_field(operation: Operation, deployment: Deployment) -> None:
    response = ask(deployment, operation, {**smallest_body(operation), "colour": "black"})
    _names(problem_in(response, 422, "contract-broken"), {"pointer": "/colour"})


def _wrong_type(operation: Operation, deployment: Deployment) -> None:
    field = "items" if takes_batch(operation) else "tyre"
    response = ask(deployment, operation, {**smallest_body(operation), field: "205/55R16"})
    _names(problem_in(response, 422, "contract-broken"), {"pointer": f"/{field}"})


def _missing_field(operation: Operation, deployment: Deployment) -> None:
    field = "items" if takes_batch(operation) else "tyre"
    body = {name: value for name, value in smallest_body(operation).items() if name != field}
    _names(problem_in(ask(deployment, operation, body), 422, "contract-broken"), {"pointer": f"/{field}"})


def _too_large(operation: Operation, deployment: Deployment) -> str:
    body = json.dumps(smallest_body(operation)).encode()
    for size in LARGE_MIB:
        response = _send(deployment, operation, body + b" " * (size * MEBIBYTE))
        if response.status_code not in (200, 422):  # neither answered nor even read
            problem_in(response, 413, "body-too-large")
            return f"{size} MiB are refused"
    raise NotTriedError(f"it takes bodies of {LARGE_MIB[-1]} MiB; larger ones are not tried")


BODIES: dict[str, Callable[[Operation, Deployment], str | None]] = {
    "400 to a body that is not JSON": _not_json,
    "413 to a body that is too large": _too_large,
    "415 to a body not declared as JSON": _not_declared,
    "422 to a body that is no object": _not_an_object,
    "422 to a field that there is not, by pointer": _unknown_field,
    "422 to a field of the wrong type, by pointer": _wrong_type,
    "422 without a field that is needed, by pointer": _missing_field,
}


def _parameter_missing(deployment: Deployment) -> None:
    problem = problem_in(deployment.ask("GET", "/v1/tyre-markings"), 422, "contract-broken")
    _names(problem, {"parameter": "marking"})


def _parameter_unknown(deployment: Deployment) -> None:
    response = deployment.ask("GET", "/v1/tyre-markings", params={"marking": "205/55R16", "colour": "black"})
    _names(problem_in(response, 422, "contract-broken"), {"parameter": "colour"})


def _impossible(deployment: Deployment) -> None:
    response = deployment.post("/v1/repairability", {"rulebook": "gb", "tyre": {"marking": "no marking"}})
    _names(problem_in(response, 422, "impossible-case"), {"pointer": "/tyre/marking"})


def _no_such_rulebook(deployment: Deployment) -> None:
    problem_in(deployment.ask("GET", "/v1/rulebooks/no-such-rulebook"), 404, "not-found")


def _no_such_path(deployment: Deployment) -> None:
    problem_in(deployment.ask("GET", "/v1/no-such-path"), 404, "not-found")


def _no_such_method(deployment: Deployment) -> None:
    response = deployment.ask("DELETE", "/v1/repairability")
    problem_in(response, 405, "method-not-allowed")
    if "POST" not in response.headers.get("Allow", ""):
        raise BrokenError(f"the Allow header must name POST, and is {response.headers.get('Allow')!r}")


def _explained(kind: str, status: int, deployment: Deployment) -> None:
    response = deployment.ask("GET", TYPES + kind)
    if response.status_code != 200:
        raise BrokenError(f"GET {TYPES}{kind}: expected status 200, got {response.status_code}")
    try:
        problem = response.json()
    except ValueError as error:
        raise BrokenError(f"GET {TYPES}{kind} gives no JSON") from error
    expected = {"type": TYPES + kind, "status": status}
    broken_if(
        f"/{name}: expected {shown(value)}, got {shown(problem.get(name))}"
        for name, value in expected.items()
        if problem.get(name) != value
    )


def _names(problem: dict[str, Any], place: dict[str, str]) -> None:
    """Fail unless a problem names a place among those at fault."""
    places = [
        {name: error[name] for name in ("pointer", "parameter") if name in error} for error in problem.get("errors", [])
    ]
    if place not in places:
        raise BrokenError(f"/errors: expected {shown(place)} among them, got {shown(places)}")


def _send(
    deployment: Deployment, operation: Operation, body: bytes, headers: dict[str, str] | None = None
) -> httpx2.Response:
    if not deployment.offers(operation):
        raise NotTriedError("this deployment does not have it")
    return deployment.ask("POST", operation.path, content=body, headers=JSON_HEADERS if headers is None else headers)
