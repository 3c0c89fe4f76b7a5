"""The command `mendgauge`, which is also `python -m mendgauge`; it can be stopped from its first moment on."""

from __future__ import annotations

import os
import signal
import sys


def main() -> int:
    """Run the command and return its exit status.

    To the first process of a container the kernel sends no SIGTERM that it does not handle. The rest of the program
    takes a second or more to import, and one asked to stop meanwhile would run on until it is killed.
    """
    signal.signal(signal.SIGTERM, _end)
    from mendgauge.cli import main as run

    return run()


def _end(number: int, _frame: object) -> None:
    """Do what the signal does by default, in the first process of a container too.

    That is also how a server ends that has stopped in good order: it raises the signal again. Nothing is left to wait
    for then, not even a thread that waits for a page to be printed.
    """
    signal.signal(number, signal.SIG_DFL)
    signal.raise_signal(number)
    os._exit(128 + number)


if __name__ == "__main__":
    sys.exit(main())
