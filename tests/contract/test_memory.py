"""A replica has 256 MB: what eight callers send at once, whole plans or nonsense, does not come near."""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.torture.batches import CALLERS, PEAK_MB_MAX, largest, together, whole_batch
from tests.torture.bodies import filled
from tests.torture.measured import peak_mb
from tests.torture.stops import served


@pytest.mark.parametrize(
    "body",
    [
        whole_batch(20),
        largest(),
        filled(b'{"items":[{}', b",{}", b"]}", 8_000_000),
        filled(b'{"items":[{"injuries":[{}', b",{}", b"]}]}", 2_000_000),
    ],
    ids=["whole plans", "of the largest size", "of a million items", "of a hundred thousand injuries each"],
)
def test_eight_callers_at_once_stay_within_a_replicas_memory(tmp_path: Path, body: bytes) -> None:
    with served("file", tmp_path) as (process, port):
        statuses = together(port, body)
        assert len(statuses) == CALLERS
        assert {*statuses} <= {200, 413, 503}
        peak = peak_mb(process.pid)
    assert peak is not None, "the process died"
    assert peak < PEAK_MB_MAX
