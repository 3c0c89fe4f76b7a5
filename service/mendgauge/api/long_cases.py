"""Long cases, worked out beside the event loop: one thread takes them in turn, and who asks something short goes on.

Most cases are judged in less time than a thread takes to be woken, so they stay on the loop. Twenty injuries beside
fifty repairs take half a second of it, for which every other caller, and health, would wait.
"""

from __future__ import annotations

import asyncio
import sys
from collections.abc import AsyncIterator, Callable
from concurrent.futures import ThreadPoolExecutor
from contextlib import asynccontextmanager
from contextvars import copy_context
from typing import Any, Final, TypeVar

from mendgauge.case.case import Case

T = TypeVar("T")

INJURIES_SHORT: Final = 2
EARLIER_SHORT: Final = 10
STOCK_SHORT: Final = 50
"""A case with more is long. One with as many takes a turn of a batch, about 5 ms, at most a few."""

SWITCH_SECONDS: Final = 0.001
"""How long the thread keeps the interpreter from the loop, which asks for it several times a request."""

_pool: Final = ThreadPoolExecutor(1, thread_name_prefix="long case")


def is_long(case: Case) -> bool:
    """Return whether working out a case may hold others up."""
    return (
        len(case.injuries or ()) > INJURIES_SHORT
        or len(case.earlier_repairs or ()) > EARLIER_SHORT
        or len(case.stock or ()) > STOCK_SHORT
    )


async def worked_out(operation: Callable[[Case], T], case: Case) -> T:
    """Return what an operation answers to a case."""
    return await beside_the_loop(operation, case) if is_long(case) else operation(case)


async def beside_the_loop(make: Callable[..., T], *given: Any) -> T:
    """Return what a function makes, run in its turn in the thread; what it logs belongs to the request."""
    return await asyncio.get_running_loop().run_in_executor(_pool, copy_context().run, make, *given)


@asynccontextmanager
async def short_switches(_app: object) -> AsyncIterator[None]:
    """Have the interpreter go from the thread to the loop soon, while the application runs."""
    before = sys.getswitchinterval()
    sys.setswitchinterval(SWITCH_SECONDS)
    yield
    sys.setswitchinterval(before)
