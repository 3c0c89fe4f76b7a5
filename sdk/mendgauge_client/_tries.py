"""The tries of a call, decided in one place for both clients, which differ only in how they wait and how they send."""

from __future__ import annotations

import time
from collections.abc import Generator
from typing import TYPE_CHECKING, TypeAlias

from mendgauge_client._retry import LONGEST_WAIT_ASKED_S, RETRIED_STATUSES, backoff, retry_after
from mendgauge_client.errors import REQUEST_ID, CallError, TimedOutError, UnreachableError, UnreadableAnswerError

if TYPE_CHECKING:
    import httpx2

Tries: TypeAlias = "Generator[float, httpx2.Response, httpx2.Response]"


def tries_of(request: httpx2.Request, retries: int, timeout_retries: int) -> Tries:
    """Yield the seconds to pause before each try, and return the response to keep.

    Whoever makes them sends in the response to each, or throws in the error that came instead.

    Args:
        request: What is sent.
        retries: How often it is sent again after a refusal that may pass or a connection that failed.
        timeout_retries: How often it is sent again after a timeout.

    Raises:
        CallError: No response is to be had.
    """
    # Late, like the HTTP client: a program that makes no client imports neither.
    import httpx2

    from mendgauge_client import _log

    left, timeouts_left, tries, pause = retries, timeout_retries, 0, 0.0
    while True:
        tries += 1
        due = time.perf_counter() + pause
        try:
            response = yield pause
        except httpx2.TimeoutException as error:
            if timeouts_left <= 0:
                raise _call_error(error, request, tries) from error
            timeouts_left -= 1
            pause, why = backoff(tries - 1), "it timed out"
        except httpx2.RequestError as error:
            failed = _call_error(error, request, tries)
            if left <= 0 or not isinstance(failed, UnreachableError):
                raise failed from error
            left -= 1
            pause, why = backoff(tries - 1), _reason(error)
        else:
            _log.answered(request, response, max(0.0, time.perf_counter() - due))
            asked = retry_after(response.headers.get("Retry-After"))
            pause = backoff(tries - 1) if asked is None else asked
            if left <= 0 or response.status_code not in RETRIED_STATUSES or pause > LONGEST_WAIT_ASKED_S:
                return response
            left -= 1
            why = f"{response.status_code} {response.reason_phrase}".rstrip()
        _log.tried_again(request, why, pause)


def _call_error(error: httpx2.RequestError, request: httpx2.Request, tries: int) -> CallError:
    import httpx2

    request_id = request.headers[REQUEST_ID]
    counted = f"{tries} {'try' if tries == 1 else 'tries'}"
    if isinstance(error, httpx2.TimeoutException):
        return TimedOutError(
            "Allow more time with timeout=, or see how busy the service is: "
            f"{request.url} did not answer in {counted}: {_reason(error)}",
            request_id,
        )
    if isinstance(error, httpx2.DecodingError):
        return UnreadableAnswerError(
            f"See what lies between here and {request.url}: its answer cannot be unpacked: {_reason(error)}", request_id
        )
    return UnreachableError(
        f"Check the service's address and that it runs: {request.url} not reached in {counted}: {_reason(error)}",
        request_id,
    )


def _reason(error: httpx2.RequestError) -> str:
    return str(error) or type(error).__name__
