"""What importing the package brings with it: next to nothing, until a client is made."""

from __future__ import annotations

import subprocess
import sys

import pytest

HEAVY = ("httpx2", "ssl", "asyncio", "concurrent", "email", "http", "json", "logging", "socket", "csv", "pyarrow")
"""Each takes milliseconds to import, the HTTP client more than the package with all its models."""


def loaded(program: str) -> set[str]:
    done = subprocess.run(
        [sys.executable, "-c", f"{program}\nimport sys; print(*sys.modules)"],
        capture_output=True,
        text=True,
        check=True,
    )
    return {name.partition(".")[0] for name in done.stdout.split()} | set(done.stdout.split())


def test_importing_the_package_imports_nothing_heavy() -> None:
    assert loaded("import mendgauge_client") & set(HEAVY) == set()


def test_cases_are_made_without_it_too() -> None:
    program = "from mendgauge_client import bench_case, tread_puncture; bench_case('gb', 'x', tread_puncture(4))"
    assert loaded(program) & set(HEAVY) == set()


@pytest.mark.parametrize("part", ["cli", "contract"])
def test_what_is_a_program_of_its_own_is_not_imported_with_it(part: str) -> None:
    assert f"mendgauge_client.{part}" not in loaded("import mendgauge_client")


def test_a_client_brings_what_it_needs_and_nothing_of_the_other() -> None:
    program = "from mendgauge_client import Mendgauge; Mendgauge('http://127.0.0.1:1')"
    assert "httpx2" in loaded(program)
    assert loaded(program) & {"concurrent.futures.thread", "mendgauge_client.cli", "pyarrow"} == set()
