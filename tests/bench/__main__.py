"""How fast the service is, as ratios taken in one run: `make bench`.

In process a decision is compared with decoding its case and encoding its answer; over HTTP with an echo of the same
body on the same server; and the rules with a general-purpose rule engine that judges the same limits.
Pictures and pages are timed alone; a day's mix goes through one worker and two, a fleet's file through one process and
two.
"""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))

from tests.bench import beside, day, in_process, many, over_http, printing, rule_engine, sparse, worst
from tests.bench.report import Report


def main() -> None:
    """Run every comparison and print them."""
    report = Report()
    in_process.compare(report)
    sparse.compare(report)
    worst.compare(report)
    rule_engine.compare(report)
    over_http.compare(report)
    day.compare(report)
    beside.compare(report)
    printing.compare(report)
    many.compare(report)
    report.show()


if __name__ == "__main__":
    main()
