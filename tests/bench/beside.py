"""How late a short question is answered while another caller's worst is under way."""

from __future__ import annotations

import tempfile
from pathlib import Path

from tests.bench.report import Report
from tests.torture.others import LATE_SECONDS_MAX, late

_ASKED = f"at most {LATE_SECONDS_MAX * 1e3:.0f} ms"


def compare(report: Report) -> None:
    """Measure the 99th percentile of another's check and of health beside each kind of work."""
    with tempfile.TemporaryDirectory() as folder:
        for one in late(Path(folder)):
            what = f"{one.work} under way: {one.asked}, p99"
            worked = f"the service worked {one.worked * 1e3:.0f}"
            report.add(what, f"{one.took * 1e3:.0f} ms", worked, asked=_ASKED)
