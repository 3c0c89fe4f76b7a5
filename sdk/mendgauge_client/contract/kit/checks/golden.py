"""The golden examples: each request has the answer that it had when this client was made."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from typing import Any

from mendgauge_client.contract.kit.asking import ask, content_of, without_request_ids
from mendgauge_client.contract.kit.check import Check, NotTriedError, broken_if
from mendgauge_client.contract.kit.deployment import Deployment
from mendgauge_client.contract.kit.material import Example, built_from, examples
from mendgauge_client.contract.kit.same import differences

GROUP = "examples"
EDITION_SIGN = "@"


def checks() -> Iterator[Check]:
    """Yield the checks of this group."""
    for example in examples():
        yield Check(GROUP, example.name, partial(_answered, example))


def _answered(example: Example, deployment: Deployment) -> str | None:
    if not deployment.offers(example.operation):
        raise NotTriedError("this deployment does not have the operation")
    faults = list(_faults(example, example.request, deployment))
    if not faults:
        return None
    pinned = _pinned(example)
    if pinned is None or list(_faults(example, pinned, deployment)):
        # The answer to the request as it stands is the most useful one to show: the pinned edition may differ.
        broken_if(faults)
    return f"a later edition answers otherwise; as expected by {pinned['rulebook']}" if pinned else None


def _faults(example: Example, request: dict[str, Any], deployment: Deployment) -> Iterator[str]:
    response = ask(deployment, example.operation, request)
    if response.status_code != example.status:
        yield f"expected status {example.status}, got {response.status_code}"
    answer, expected = content_of(response), without_request_ids(example.answer)
    if _is_later(deployment):
        answer = _rulebooks_known_then(expected, answer)
    yield from differences(expected, answer, may_grow=_is_later(deployment))


def _is_later(deployment: Deployment) -> bool:
    """Return whether the deployment is of another version, whose answers may have fields unknown here."""
    served = deployment.served or {}
    return bool(served.get("info", {}).get("version") != built_from()["info"]["version"])


def _pinned(example: Example) -> dict[str, Any] | None:
    """Return the request, asking for the very edition that the example was answered by; None where it names none."""
    used = example.answer.get("rulebook") if isinstance(example.answer, dict) else None
    asked = example.request.get("rulebook", "")
    if not isinstance(used, dict) or EDITION_SIGN in asked:
        return None
    return {**example.request, "rulebook": f"{used['id']}{EDITION_SIGN}{used['edition']}"}


def _rulebooks_known_then(expected: Any, answer: Any) -> Any:
    """Return a list of rulebooks without the editions that came later: none that was there may go."""
    if not isinstance(answer, dict) or not isinstance(expected, dict):
        return answer
    known, listed = expected.get("rulebooks"), answer.get("rulebooks")
    if not isinstance(known, list) or not isinstance(listed, list):
        return answer
    references = {rulebook["reference"] for rulebook in known}
    return {**answer, "rulebooks": [book for book in listed if book.get("reference") in references]}
