"""What is under way at once: how many bytes all bodies hold together, and whose turn it is to work for long.

Many callers at once then exhaust neither the process's memory nor the patience of whoever asks something short.
"""

from __future__ import annotations

import asyncio

from mendgauge.api.problems import TOO_MUCH_UNDER_WAY, Refusal

BODIES_TOGETHER = 4
"""Bodies of the largest size that are held at once; smaller ones are held in greater number."""

RETRY_AFTER_SECONDS = 1


TURN_SECONDS = 0.005
"""How long a long answer keeps the event loop before others get their turn."""


class UnderWay:
    """The bytes of all bodies that are being read or answered, and the turn of one long answer at a time."""

    def __init__(self, most: int) -> None:
        self.most = most
        self.held = 0
        self.turn = asyncio.Lock()


class Lease:
    """The bytes that one request holds of what all may hold."""

    def __init__(self, under_way: UnderWay) -> None:
        self._under_way = under_way
        self._held = 0

    def take(self, size: int) -> None:
        """Hold so many bytes more.

        Raises:
            Refusal: 503 when all requests together would hold too many.
        """
        if self._under_way.held + size > self._under_way.most:
            raise Refusal(
                TOO_MUCH_UNDER_WAY,
                "too many bytes are under way at once; send the request again in a moment",
                headers={"Retry-After": str(RETRY_AFTER_SECONDS)},
            )
        self._under_way.held += size
        self._held += size

    def release(self) -> None:
        """Hold nothing any more."""
        self._under_way.held -= self._held
        self._held = 0
