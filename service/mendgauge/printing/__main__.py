"""The press: a process that typesets, one job after another, as `mendgauge.printing.press` sends them.

It ends when its caller does, when it was idle for a while, and after a job that took much memory, which is given back.
"""

from __future__ import annotations

import select
import sys
from pathlib import Path
from resource import RUSAGE_SELF, getrusage

import msgspec

from mendgauge.printing.frames import FAILED, LAST, MADE, read_frame, write_frame
from mendgauge.printing.typesetter import fonts, typeset

IDLE_SECONDS = 30.0
MEMORY_MB = 110.0
"""A process that had more makes room for a new one: the typesetter keeps what it made of the last ten jobs."""


def main() -> None:
    """Typeset until there is nothing more to do."""
    # Where memory runs out it is this process that goes, and not the one that decides on tyres.
    if (score := Path("/proc/self/oom_score_adj")).exists():
        score.write_text("500")
    fonts()
    source, target = sys.stdin.buffer, sys.stdout.buffer
    while select.select([source], [], [], IDLE_SECONDS)[0] and (job := read_frame(source)) is not None:
        template, data, form, ppi = msgspec.json.decode(job)
        try:
            made = typeset(template, data, form, ppi)
        except RuntimeError as error:
            write_frame(target, FAILED, str(error).encode())
            continue
        if _most_memory_mb() > MEMORY_MB:
            write_frame(target, LAST, made)
            return
        write_frame(target, MADE, made)


def _most_memory_mb() -> float:
    """Return the most memory that this process ever had."""
    return getrusage(RUSAGE_SELF).ru_maxrss / 1024.0


if __name__ == "__main__":
    main()
