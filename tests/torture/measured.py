"""What a process has used, as the kernel counts it."""

from __future__ import annotations

import os
from pathlib import Path


def cpu_seconds(process: int) -> float:
    """Return the CPU time that a process has used (proc(5): fields 14 and 15 of `stat`)."""
    fields = Path(f"/proc/{process}/stat").read_text("utf-8").rpartition(") ")[2].split()
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


def worked_seconds(process: int) -> float:
    """Return how long the threads of a process have run (sched-stats: field 1 of `schedstat`, in nanoseconds)."""
    threads = Path(f"/proc/{process}/task").iterdir()
    return sum(int((thread / "schedstat").read_text("utf-8").split()[0]) for thread in threads) / 1e9


def ran_and_waited_seconds(process: int) -> tuple[float, float]:
    """Return how long the main thread of a process has run, and how long it was ready to run and did not.

    They are fields 1 and 2 of `schedstat` (sched-stats).
    """
    ran, waited, _ = Path(f"/proc/{process}/schedstat").read_text("utf-8").split()
    return int(ran) / 1e9, int(waited) / 1e9


def peak_mb(process: int) -> float | None:
    """Return the most memory that a process ever held, in MB; nothing when it is gone."""
    try:
        status = Path(f"/proc/{process}/status").read_text("utf-8")
    except FileNotFoundError:
        return None
    lines = [line for line in status.splitlines() if line.startswith("VmHWM:")]
    return int(lines[0].split()[1]) * 1024 / 1e6 if lines else None  # what has ended, and nobody waited for, has none
