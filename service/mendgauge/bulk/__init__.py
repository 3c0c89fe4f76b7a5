"""Millions of cases: a record batch of Arrow in, a record batch of answers out, for engines that spread the work.

Needs `mendgauge[bulk]`. `check` keeps nothing between batches and asks no service: an engine may run it in any process
and in any order, and once more where a process was lost.
"""

from __future__ import annotations

try:
    import pyarrow as pyarrow
except ImportError as error:
    raise ImportError("mendgauge.bulk needs pyarrow: pip install 'mendgauge[bulk]'") from error

from mendgauge.bulk.check import check as check
from mendgauge.bulk.check import check_each as check_each
from mendgauge.bulk.columns import ColumnError as ColumnError
from mendgauge.bulk.schemas import ANSWERS as ANSWERS
from mendgauge.bulk.schemas import CASES as CASES

__all__ = ["ANSWERS", "CASES", "ColumnError", "check", "check_each"]
