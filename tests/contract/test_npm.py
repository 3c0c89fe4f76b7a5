"""What holds of the npm packages and their guide without Node."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from tests.contract.node_tools import OPENAPI

ROOT = OPENAPI.parent
LOCKS = [OPENAPI / "package-lock.json", *sorted((ROOT / "tests").glob("*/package-lock.json"))]


@pytest.mark.parametrize("file", LOCKS, ids=lambda file: file.parent.name)
def test_the_lock_pins_every_package_and_names_no_address(file: Path) -> None:
    lock = json.loads(file.read_bytes())
    packages = [entry for place, entry in lock["packages"].items() if place]
    assert packages
    for entry in packages:
        assert entry["version"]
        assert entry["integrity"].startswith("sha512-")
        assert not entry.keys() & {"resolved", "funding"}


def test_the_guide_makes_the_types_as_the_tests_do() -> None:
    assert "node typescript/types.mjs" in (OPENAPI / "README.md").read_text("utf-8")
