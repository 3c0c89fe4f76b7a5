"""What needs minutes: `make torture` stops the service 200 times under load and prints one table."""

from __future__ import annotations

import sys
import tempfile
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))

from tests.torture.stops import DRAIN_SECONDS, LOGS, SENT, stop_under_load

STOPS_EACH = 25
MOST_SECONDS = DRAIN_SECONDS + 2


def main() -> int:
    """Stop, print the table, and return 1 if any stop took too long."""
    print(f"{'stopped under load':32} {'tried':>6} {'failed':>7} {'worst':>8}   target {MOST_SECONDS} s")
    failed_at_all = 0
    for log in LOGS:
        for client in SENT:
            with tempfile.TemporaryDirectory() as folder:
                took = [stop_under_load(log, client, Path(folder), patience=20) for _ in range(STOPS_EACH)]
            failed = sum(seconds is None or seconds > MOST_SECONDS for seconds in took)
            worst = "never" if None in took else f"{max(filter(None, took)):.2f} s"
            print(f"{f'{client} clients, log to a {log}':32} {len(took):>6} {failed:>7} {worst:>8}", flush=True)
            failed_at_all += failed
    return failed_at_all > 0


if __name__ == "__main__":
    sys.exit(main())
