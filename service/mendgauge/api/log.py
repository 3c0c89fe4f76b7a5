"""The log: one JSON object a line on standard output, whoever wrote it.

Lines go out through a thread and a bounded queue. Whoever reads them may stall or close the pipe: that costs lines,
which are counted, and never an answer or an orderly stop.
"""

from __future__ import annotations

import logging
import os
import select
import sys
import threading
import time
from datetime import UTC, datetime
from functools import cache
from queue import Empty, SimpleQueue
from typing import Any

import msgspec
import structlog

MOST_WAITING_BYTES = 1_048_576
"""Lines beyond this many bytes that wait for their reader are dropped."""

_GATHER_SECONDS = 0.05
"""How long the writer lets lines gather, so that one write takes many of them, and the loop hands the interpreter over
to it twenty times a second and not at every other request. A process that is killed loses so much of its log."""

_log = structlog.get_logger()


class LineWriter:
    """What structlog hands its lines to. A thread writes them, or they are dropped; callers never wait."""

    def __init__(self, descriptor: int | None) -> None:
        """Write to a file descriptor; None where standard output was closed, so that every line is dropped."""
        self._descriptor = descriptor
        self._lines: SimpleQueue[bytes] = SimpleQueue()
        # Each number has one side that writes it: callers add to the first two, the thread to the others.
        self._taken_bytes = self._refused = 0
        self._done_bytes = self._lost = 0
        self._settling = False
        threading.Thread(target=self._run, name="log", daemon=True).start()

    @property
    def dropped(self) -> int:
        """How many lines were dropped since the start."""
        return self._refused + self._lost

    def msg(self, line: bytes) -> None:
        """Take a line for the thread to write, or drop it when too many wait."""
        if self._descriptor is None or self._taken_bytes - self._done_bytes + len(line) > MOST_WAITING_BYTES:
            self._refused += 1
            return
        self._taken_bytes += len(line) + 1
        self._lines.put(line + b"\n")
        if self._settling:
            self.settle(0.2)

    debug = info = warning = error = critical = msg

    def settle(self, seconds: float) -> None:
        """Wait until every line is written, for at most so long, and do the same after each line from now on.

        For the end of the process, which does not wait for the thread. A reader that stalls is waited for once.
        """
        until = time.monotonic() + seconds
        while self._taken_bytes > self._done_bytes and time.monotonic() < until:
            time.sleep(0.001)
        self._settling = self._taken_bytes == self._done_bytes

    def _run(self) -> None:
        reported = 0
        while True:
            lines = [self._lines.get()]
            if not self._settling:
                time.sleep(_GATHER_SECONDS)
            try:
                while True:
                    lines.append(self._lines.get_nowait())
            except Empty:
                pass
            written = self._write(b"".join(lines))
            if not written:
                self._lost += len(lines)
            self._done_bytes += sum(map(len, lines))
            if written and self.dropped > reported:
                reported = self.dropped
                _log.warning("log lines dropped", lines_since_start=reported)

    def _write(self, data: bytes) -> bool:
        """Write all of it, however long the reader takes; False when it cannot be written."""
        assert self._descriptor is not None
        rest = memoryview(data)
        while rest:
            try:
                rest = rest[os.write(self._descriptor, rest) :]
            except BlockingIOError:  # whoever shares the descriptor made it non-blocking
                poll = select.poll()
                poll.register(self._descriptor, select.POLLOUT)
                poll.poll()
            except OSError:
                return False
        return True


@cache
def standard_output() -> LineWriter:
    """Return the writer of this process."""
    try:
        return LineWriter(sys.stdout.fileno())
    except (AttributeError, OSError):  # no standard output, or one that is no file
        return LineWriter(None)


def configure(level: str) -> None:
    """Send everything at or above a level (`debug`, `info`, `warning`, `error`) to standard output as JSON."""
    threshold = logging.getLevelNamesMapping()[level.upper()]
    structlog.configure(
        processors=[
            structlog.contextvars.merge_contextvars,
            _completed,
            _json,
        ],
        wrapper_class=structlog.make_filtering_bound_logger(threshold),
        logger_factory=lambda *_: standard_output(),
        cache_logger_on_first_use=True,
    )
    logging.basicConfig(level=threshold, handlers=[_ToStructlog()], force=True)


class _ToStructlog(logging.Handler):
    """What libraries log the standard way, in the same form and place as our own."""

    def emit(self, record: logging.LogRecord) -> None:
        structlog.get_logger().log(record.levelno, record.getMessage(), logger=record.name, exc_info=record.exc_info)


_encoder = msgspec.json.Encoder(enc_hook=repr)


def _completed(logger: Any, method: str, event: structlog.typing.EventDict) -> structlog.typing.EventDict:
    """Return an event with its level and its time, and with the traceback of an exception as text."""
    event["level"] = method
    event["time"] = datetime.now(UTC).isoformat().replace("+00:00", "Z")
    return structlog.processors.format_exc_info(logger, method, event) if "exc_info" in event else event


def _json(_logger: Any, _method: str, event: structlog.typing.EventDict) -> bytes:
    try:
        return _encoder.encode(event)
    except UnicodeEncodeError:  # half a surrogate pair, from a text that somebody sent
        return _encoder.encode({name: ascii(value) for name, value in event.items()})
