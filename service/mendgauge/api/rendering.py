"""Rendering beside the event loop: one thread draws, few requests wait for it, and further ones are sent away.

A picture takes a hundred times as long as a decision. On the loop, decisions would wait for it; in a thread each, many
pictures at once would take the memory of a small replica.
"""

from __future__ import annotations

import asyncio
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from threading import BoundedSemaphore
from typing import Final, TypeVar

from mendgauge.api.problems import TOO_MUCH_UNDER_WAY, Refusal

T = TypeVar("T")

AT_ONCE: Final = 1
TOGETHER: Final = 16
"""Pictures under way or waiting in a process; at 100 ms each the last waits less than two seconds."""

_pool: Final = ThreadPoolExecutor(AT_ONCE, thread_name_prefix="render")
_places: Final = BoundedSemaphore(TOGETHER)


async def rendered(make: Callable[[], T]) -> T:
    """Return what a function makes, run in its turn beside the event loop.

    Raises:
        Refusal: 503 when as many as may are waiting already.
    """
    if not _places.acquire(blocking=False):
        raise Refusal(
            TOO_MUCH_UNDER_WAY,
            f"{TOGETHER} pictures are being drawn already; send the request again",
            headers={"Retry-After": "1"},
        )
    future = _pool.submit(make)
    # Its place is free when it is done, not when its caller gave up waiting.
    future.add_done_callback(lambda _: _places.release())
    return await asyncio.wrap_future(future)
