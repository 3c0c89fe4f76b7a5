"""The quick starts of `openapi/quick_starts`, run as their guide says, print the same bill in every language."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Final

import pytest
from tests.contract.generators import jar, need
from tests.contract.live import served
from tests.contract.node_tools import OPENAPI, installed, run

from mendgauge.server import create_app

QUICK_STARTS: Final = OPENAPI / "quick_starts"


@pytest.fixture(scope="module")
def service() -> Iterator[str]:
    with served(create_app()) as address:
        yield address


def printed(service: str, folder: Path, *command: str | Path) -> str:
    """Return what a quick start prints of a service."""
    environment = os.environ | {"MENDGAUGE_URL": service}
    done = subprocess.run(command, cwd=folder, env=environment, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    return done.stdout


@pytest.fixture(scope="module")
def bill(service: str) -> str:
    return printed(service, QUICK_STARTS, sys.executable, "price.py")


def test_python_prints_a_bill(bill: str) -> None:
    first, *lines, last = bill.splitlines()
    assert first == "repairable - Price of the repair, for the injury as described."
    assert last.endswith("GBP to pay")
    # The pence of the lines add up to what is to be paid, tax rounded by the line.
    assert sum(round(100 * float(line.split()[0])) for line in lines) == round(100 * float(last.split()[0]))


def test_python_asks_the_service_beside_it_where_no_address_is_set(
    service: str, bill: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    for file in QUICK_STARTS.glob("*.json"):
        shutil.copy(file, tmp_path)
    beside = (QUICK_STARTS / "price.py").read_text("utf-8").replace("http://127.0.0.1:8340", service)
    (tmp_path / "price.py").write_text(beside, "utf-8")
    monkeypatch.delenv("MENDGAUGE_URL", raising=False)
    done = subprocess.run([sys.executable, "price.py"], cwd=tmp_path, capture_output=True, text=True, check=False)
    assert (done.stdout, done.stderr) == (bill, "")


@pytest.mark.generators
def test_typescript_prints_the_same(service: str, bill: str, tmp_path: Path) -> None:
    folder = tmp_path / "openapi" / "quick_starts"
    shutil.copytree(QUICK_STARTS, folder)
    (tmp_path / "openapi" / "node_modules").symlink_to(installed().parent)
    run("node", "typescript/types.mjs", folder / "mendgauge.ts", cwd=OPENAPI)
    run(installed() / "tsc", "--project", ".", cwd=folder)
    assert printed(service, folder, "node", "price.mjs") == bill


@pytest.mark.generators
def test_java_prints_the_same(service: str, bill: str) -> None:
    need("javac", "default-jdk-headless")  # `java` runs a source file only where the compiler is
    assert printed(service, QUICK_STARTS, "java", "-cp", jar(), "Price.java") == bill
