"""How far a check has come, on a line of the terminal that is written over."""

from __future__ import annotations

import shutil
import time
from typing import TextIO

BAR = 24
EVERY_S = 0.1


class ProgressLine:
    """The line. Where its stream is no terminal, nothing is written: a log has no use for it."""

    def __init__(self, stream: TextIO) -> None:
        self._stream = stream
        self._shown = stream.isatty()
        self._begun = time.monotonic()
        self._last = 0.0

    def show(self, done: int, failed: int, share: float | None) -> None:
        """Say how many rows are done, how many of them have a problem, and what share of the table that is."""
        now = time.monotonic()
        if not self._shown or now - self._last < EVERY_S:
            return
        self._last = now
        width = shutil.get_terminal_size().columns - 1
        self._stream.write("\r" + line(done, failed, share, now - self._begun)[:width].ljust(width))
        self._stream.flush()

    def clear(self) -> None:
        """Take the line away."""
        if self._shown and self._last:
            self._stream.write("\r" + " " * (shutil.get_terminal_size().columns - 1) + "\r")
            self._stream.flush()


def line(done: int, failed: int, share: float | None, seconds: float) -> str:
    """Return the line's text."""
    parts = [f"{done:,} tyres"]
    if failed:
        parts.append(f"{failed:,} with a problem")
    if seconds > 0:
        parts.append(f"{done / seconds:,.0f}/s")
    if share is None:
        return "  ".join(parts)
    if share > 0:
        left = round(seconds * (1 - share) / share)
        parts.append(f"{left // 60}:{left % 60:02} left")
    full = round(BAR * share)
    return f"[{'#' * full}{'.' * (BAR - full)}] {share:4.0%}  " + "  ".join(parts)
