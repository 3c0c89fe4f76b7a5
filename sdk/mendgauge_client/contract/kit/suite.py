"""All checks of the contract, in the order they are made, and what comes of each."""

from __future__ import annotations

import time
from collections.abc import Iterator
from typing import Literal, NamedTuple, TypeAlias

import httpx2

from mendgauge_client.contract.kit.check import BrokenError, Check, NotTriedError
from mendgauge_client.contract.kit.checks import (
    access,
    batch,
    caching,
    detail,
    document,
    golden,
    media,
    refusals,
    request_id,
    sameness,
)
from mendgauge_client.contract.kit.deployment import Deployment

Result: TypeAlias = Literal["ok", "failed", "not tried"]


class Outcome(NamedTuple):
    """What came of a check.

    Attributes:
        check: The check.
        result: `ok`, `failed` or `not tried`.
        says: The faults, why it was not tried, or a remark; a line each, empty where there is nothing to say.
        seconds: How long it took.
    """

    check: Check
    result: Result
    says: str
    seconds: float


def all_checks() -> Iterator[Check]:
    """Yield every check of the contract. None needs another; the one that may use up limits comes last."""
    for group in (document, golden, detail, media, sameness, request_id, refusals, caching, batch, access):
        yield from group.checks()


def outcome(check: Check, deployment: Deployment) -> Outcome:
    """Run a check and return its outcome."""
    began = time.perf_counter()
    result, says = _made(check, deployment)
    return Outcome(check, result, says, time.perf_counter() - began)


def _made(check: Check, deployment: Deployment) -> tuple[Result, str]:
    try:
        return "ok", check.run(deployment) or ""
    except BrokenError as broken:
        return "failed", str(broken)
    except NotTriedError as reason:
        return "not tried", str(reason)
    except httpx2.RequestError as error:
        return "failed", f"no answer came: {str(error) or type(error).__name__}"
    except (AttributeError, KeyError, TypeError, ValueError) as error:
        # An answer may be of any shape at all; one that a check stumbles over is not the one promised.
        return "failed", f"the answer is not of the shape that was promised: {type(error).__name__}: {error}"
