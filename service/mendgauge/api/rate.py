"""How often a key may ask: a token bucket for each, kept in this process alone.

With several workers or replicas each allows the whole rate.
"""

from __future__ import annotations

from collections.abc import Callable
from math import ceil
from time import monotonic
from typing import NamedTuple


class Quota(NamedTuple):
    """What is left to a key after a request, in terms of the IETF draft "RateLimit header fields for HTTP"."""

    rate: float
    burst: int
    tokens: float
    retry_after: int
    """Whole seconds until another request is taken; 0 where this one was."""

    def headers(self) -> list[tuple[bytes, bytes]]:
        """Return `RateLimit-Policy` (quota, window) and `RateLimit` (remaining, seconds until the quota is whole)."""
        whole_in = ceil((self.burst - self.tokens) / self.rate)
        return [
            (b"ratelimit-policy", f'"key";q={self.burst};w={ceil(self.burst / self.rate)}'.encode()),
            (b"ratelimit", f'"key";r={int(self.tokens)};t={whole_in}'.encode()),
        ]


class RateLimit:
    """A bucket a name, which holds `burst` tokens and gains `rate` a second; a request takes one."""

    def __init__(self, rate: float, burst: int, clock: Callable[[], float] = monotonic) -> None:
        self.rate, self.burst, self._clock = rate, burst, clock
        self._buckets: dict[str, tuple[float, float]] = {}

    def take(self, name: str) -> Quota:
        """Take a token, or none where less than one is left. Names are those of stored keys, so few."""
        now = self._clock()
        tokens, since = self._buckets.get(name, (float(self.burst), now))
        tokens = min(self.burst, tokens + (now - since) * self.rate)
        taken = tokens >= 1
        tokens -= taken
        self._buckets[name] = tokens, now
        return Quota(self.rate, self.burst, tokens, 0 if taken else ceil((1 - tokens) / self.rate))
