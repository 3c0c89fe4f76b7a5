"""Without docstrings the document would say less: the service and its document then refuse, and say why."""

from __future__ import annotations

import os
import subprocess
import sys

import pytest


@pytest.mark.parametrize("command", ["serve", "openapi"])
def test_without_docstrings_nothing_starts(command: str) -> None:
    environment = os.environ | {"PYTHONOPTIMIZE": "2", "MENDGAUGE_PORT": "0"}
    done = subprocess.run(
        [sys.executable, "-m", "mendgauge", command], env=environment, capture_output=True, timeout=60, check=False
    )
    assert done.returncode == 2
    assert done.stdout == b""
    assert b"PYTHONOPTIMIZE" in done.stderr
    assert b"Traceback" not in done.stderr


def test_without_assertions_the_document_is_the_same() -> None:
    said = [
        subprocess.run(
            [sys.executable, "-m", "mendgauge", "openapi"],
            env=os.environ | {"PYTHONOPTIMIZE": level},
            capture_output=True,
            timeout=120,
            check=True,
        ).stdout
        for level in ("0", "1")
    ]
    assert said[0] == said[1] != b""
