"""Signals, and the end of the process that supervises this one, handed to the event loop."""

from __future__ import annotations

import asyncio
import signal
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from multiprocessing import parent_process


@contextmanager
def handled(number: signal.Signals, call: Callable[[], object]) -> Iterator[None]:
    """Have the running loop make a call when the process gets a signal; outside the main thread, do nothing.

    A handler runs between any two bytecodes, whatever locks are held there: it hands over to the loop and no more.
    """
    if threading.current_thread() is not threading.main_thread():
        yield
        return
    loop = asyncio.get_running_loop()
    before = signal.signal(number, lambda _number, _frame: loop.call_soon_threadsafe(call))
    try:
        yield
    finally:
        signal.signal(number, before)


@contextmanager
def unsupervised(call: Callable[[], object]) -> Iterator[None]:
    """Have the running loop make a call when the process ends that started this one, as one of several workers.

    Nobody would ever stop such a worker, and no other service could have its port.
    """
    supervisor = parent_process()
    if supervisor is None:
        yield
        return
    loop, ended = asyncio.get_running_loop(), supervisor.sentinel

    def called_once() -> None:
        loop.remove_reader(ended)
        call()

    loop.add_reader(ended, called_once)
    try:
        yield
    finally:
        loop.remove_reader(ended)
