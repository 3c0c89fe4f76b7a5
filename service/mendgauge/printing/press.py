"""Printing: data into a template of this room, out comes a PDF or a picture; the same data give the same bytes.

The typesetter runs in a process of its own: it takes up to a hundred megabytes, which come back only when a process
ends. That process is begun at the first job, replaced after one that took much, and ends when it is idle.
"""

from __future__ import annotations

import atexit
import os
import subprocess
import sys
from contextlib import suppress
from datetime import date
from importlib.util import find_spec
from math import sqrt
from threading import Lock, Timer
from typing import Final, Literal, TypeAlias

import msgspec

from mendgauge.printing.frames import FAILED, LAST, read_frame, write_frame

Form: TypeAlias = Literal["pdf", "png"]

PIXELS_PER_INCH: Final = 150.0
_PIXELS_MAX: Final = 4_000_000
"""Of a picture: what a small replica has the memory for. A longer sheet is drawn coarser."""
_MM_PER_INCH: Final = 25.4
_SECONDS_MAX: Final = 20.0
"""A job that takes longer is given up."""


class PrintingNotInstalledError(RuntimeError):
    """Raised where the typesetter is not installed; says how to install it."""

    def __init__(self) -> None:
        super().__init__("this deployment cannot print; install the service as `mendgauge[print]`")


class PrintingFailedError(RuntimeError):
    """Raised where the press ended without an answer, twice: for want of memory, or because the job took too long."""

    def __init__(self) -> None:
        super().__init__("the page could not be printed; there may be too little memory for it")


class Page(msgspec.Struct, frozen=True):
    """One page that is drawn: an SVG, and the same in words."""

    svg: str
    alt: str


class Pages(msgspec.Struct, frozen=True):
    """Drawings to print at their true size, one a page, all of one size; lengths in mm."""

    title: str
    on: date
    language: str
    width_mm: float
    height_mm: float
    pages: tuple[Page, ...]


def print_pages(sheets: Pages, form: Form = "pdf") -> bytes:
    """Return drawings as PDF at their true size, or the first of them as PNG.

    Raises:
        PrintingNotInstalledError: The typesetter is not installed.
        PrintingFailedError: The press gave no answer.
    """
    square_inches = sheets.width_mm * sheets.height_mm / _MM_PER_INCH**2
    return print_template("pages", sheets, form, min(PIXELS_PER_INCH, sqrt(_PIXELS_MAX / square_inches)))


def print_template(template: str, data: object, form: Form = "pdf", ppi: float = PIXELS_PER_INCH) -> bytes:
    """Return a template of this room filled with data: a PDF, or its first page as PNG.

    Raises:
        PrintingNotInstalledError: The typesetter is not installed.
        PrintingFailedError: The press gave no answer.
    """
    if not _is_installed():
        raise PrintingNotInstalledError
    answer = _press.answer(msgspec.json.encode((template, data, form, ppi)))
    if answer[:1] == FAILED:
        raise RuntimeError(f"the typesetter refused {template}: {answer[1:].decode()}")
    return answer[1:]


def _is_installed() -> bool:
    try:
        return find_spec("typst") is not None
    except (ImportError, ValueError):  # it was hidden from this process
        return False


class _Press:
    """The process that typesets, begun anew where it has ended."""

    def __init__(self) -> None:
        self._lock = Lock()
        self._process: subprocess.Popen[bytes] | None = None

    def answer(self, job: bytes) -> bytes:
        """Send a job and return the answer; once more to a new process where the old one had ended."""
        with self._lock:
            for _ in range(2):
                answer = self._asked(self._process or self._begin(), job)
                if answer is not None and answer[:1] != LAST:
                    return answer
                self.end()
                if answer is not None:
                    self._begin()  # so that it is ready by the next job
                    return answer
        raise PrintingFailedError

    def _begin(self) -> subprocess.Popen[bytes]:
        # Apart from the caller's terminal and environment; it ends with its standard input.
        self._process = subprocess.Popen(
            [sys.executable, "-I", "-m", "mendgauge.printing"],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            env={name: value for name, value in os.environ.items() if name in ("LD_LIBRARY_PATH", "PATH")},
            start_new_session=True,
        )
        return self._process

    def _asked(self, process: subprocess.Popen[bytes], job: bytes) -> bytes | None:
        assert process.stdin
        assert process.stdout
        late = Timer(_SECONDS_MAX, process.kill)
        late.daemon = True
        late.start()
        try:
            write_frame(process.stdin, job)  # type: ignore[arg-type]
            return read_frame(process.stdout)  # type: ignore[arg-type]
        except OSError:  # it had been idle for so long that it ended
            return None
        finally:
            late.cancel()

    def end(self) -> None:
        """Let the process end; what it would still do is nothing."""
        process, self._process = self._process, None
        if process is not None and process.stdin and process.stdout:
            process.kill()
            process.wait()
            for pipe in (process.stdin, process.stdout):
                with suppress(OSError):
                    pipe.close()


_press: Final = _Press()
atexit.register(_press.end)
