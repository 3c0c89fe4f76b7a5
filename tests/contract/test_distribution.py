"""The lock of the service holds what the service loads: nothing is missing, and nothing is there for nothing."""

from __future__ import annotations

import json
import re
import subprocess
import sys
from importlib.metadata import distributions
from pathlib import Path

ROOT = Path(__file__).parents[2]
INSTALLED = {re.sub("[-_.]+", "-", found.name).lower() for found in distributions()}
LOCKED = [
    name
    for name in re.findall(r"^([a-z0-9-]+)==", (ROOT / "requirements.lock").read_text(), flags=re.MULTILINE)
    if name in INSTALLED  # some are for other versions of Python
]


def test_the_service_loads_every_package_of_its_lock_and_needs_no_other() -> None:
    program = [sys.executable, str(Path(__file__).with_name("with_lock_alone.py")), *LOCKED]
    found = json.loads(subprocess.run(program, capture_output=True, check=True, env={}).stderr.splitlines()[-1])
    assert found == {"status": 200, "loaded": sorted(LOCKED)}
