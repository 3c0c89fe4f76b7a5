"""When to try again, and after how long. The service keeps nothing, so a POST is tried again like a GET."""

from __future__ import annotations

import random
import time

RETRIED_STATUSES = frozenset({408, 429, 502, 503, 504})
FIRST_PAUSE_S = 0.5
LONGEST_PAUSE_S = 8.0
JITTER = 0.25
"""The share of a pause that chance may take off, so that callers turned away together do not come back together."""
LONGEST_WAIT_ASKED_S = 60.0
"""A service that asks for a longer wait than this is not waited for: the caller hears of it at once."""


def backoff(retry: int) -> float:
    """Return seconds to wait before a retry, counted from 0, where the service has not said how long."""
    pause = min(FIRST_PAUSE_S * 2.0 ** min(retry, 10), LONGEST_PAUSE_S)
    return pause * (1 - JITTER * random.random())


def retry_after(field: str | None) -> float | None:
    """Return seconds that a `Retry-After` field asks for, which may be a number or a date (RFC 9110, section 10.2.3).

    None where there is no such field or it cannot be read; 0 for a date gone by.
    """
    if field is None:
        return None
    if field.isascii() and field.isdigit():
        return float(field)
    from email.utils import parsedate_to_datetime

    try:
        return max(0.0, parsedate_to_datetime(field).timestamp() - time.time())
    except (ValueError, OverflowError):
        return None
