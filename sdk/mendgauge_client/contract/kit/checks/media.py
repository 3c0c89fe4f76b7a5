"""Pictures and pages: in the form that is asked for, to scale, and the same each time."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from typing import Any
from xml.etree import ElementTree

import httpx2

from mendgauge_client.contract.kit.asking import CASE, ask
from mendgauge_client.contract.kit.check import BrokenError, Check, NotTriedError
from mendgauge_client.contract.kit.deployment import Deployment
from mendgauge_client.contract.kit.material import Operation, operations

GROUP = "media"
SVG = "image/svg+xml"
FIRST_BYTES = {SVG: b"<svg", "image/png": b"\x89PNG", "application/pdf": b"%PDF"}
OF_A_TYRE = {"marking": "205/55R16 91V", "rulebook": "gb", "vehicle_kind": "car"}
"""What an operation asks for that takes no case."""
CANNOT_PRINT = 501


def checks() -> Iterator[Check]:
    """Yield the checks of this group."""
    for operation in operations().values():
        for form in operation.forms:
            yield Check(GROUP, f"{operation.id} answers in {form}", partial(_in_form, operation, form))
        if SVG in operation.forms:
            yield Check(GROUP, f"{operation.id} draws to scale", partial(_to_scale, operation))


def _asked(operation: Operation, form: str, deployment: Deployment) -> httpx2.Response:
    request: dict[str, Any] = CASE if operation.takes_body else OF_A_TYRE
    if not deployment.offers(operation):
        raise NotTriedError("this deployment does not have it")
    response = ask(deployment, operation, request, {"Accept": form})
    if response.status_code == CANNOT_PRINT:
        raise NotTriedError("this deployment cannot print")
    if response.status_code != 200:
        raise BrokenError(f"expected status 200, got {response.status_code}: {response.text[:200]}")
    return response


def _in_form(operation: Operation, form: str, deployment: Deployment) -> None:
    response = _asked(operation, form, deployment)
    given = response.headers.get("Content-Type", "")
    if given.partition(";")[0].strip() != form:
        raise BrokenError(f"asked for {form}, got Content-Type {given!r}")
    if not response.content.startswith(FIRST_BYTES[form]):
        raise BrokenError(f"the content is no {form}: it begins with {response.content[:20]!r}")
    if _asked(operation, form, deployment).content != response.content:
        raise BrokenError("the same request got other bytes the second time")


def _to_scale(operation: Operation, deployment: Deployment) -> str:
    try:
        root = ElementTree.fromstring(_asked(operation, SVG, deployment).content)
    except ElementTree.ParseError as error:
        raise BrokenError(f"the drawing is not XML: {error}") from error
    size = [root.get(name, "") for name in ("width", "height")]
    if root.get("viewBox", "").split()[2:] != [length.removesuffix("mm") for length in size]:
        raise BrokenError(f"one unit is not one millimetre: {size} for the view box {root.get('viewBox')!r}")
    return " by ".join(size)
