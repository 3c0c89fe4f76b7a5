"""Clients that other people's generators make of the document: each is compiled, calls the service, and does the same.

The programs are in `openapi/clients`. Each checks a tyre, chooses its unit, prices the repair, reads a refusal, and
reads the answer of a release that has words and fields to come.
"""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import httpx2
import msgspec
import pytest
from tests.contract.generators import CLIENTS, GO, GO_VALIDATOR, JAKARTA, PYTHON, environment, generate, jar, need
from tests.contract.later_release import WORD, later_release
from tests.contract.live import served
from tests.contract.node_tools import OPENAPI, installed, run

from mendgauge.server import create_app

pytestmark = pytest.mark.generators


@pytest.fixture(scope="module")
def services() -> Iterator[dict[str, str]]:
    """The environment of a client: where the service is, and where that of a later release."""
    with served(create_app()) as service, served(later_release(create_app())) as later:
        yield environment(MENDGAUGE_URL=service, MENDGAUGE_LATER_URL=later)


@pytest.fixture(scope="module")
def expected(services: dict[str, str]) -> str:
    """What a client prints: the same questions asked by hand."""
    case = msgspec.json.decode((OPENAPI / "quick_starts" / "case.json").read_bytes())
    case["injuries"][0]["across_mm"] = {"low": 18, "high": 22}
    with httpx2.Client(base_url=services["MENDGAUGE_URL"]) as client:

        def answer(path: str, status: int = 200, **changes: Any) -> Any:
            response = client.post(path, json=case | changes)
            assert response.status_code == status, response.text
            return response.json()

        check = answer("/v1/repairability")
        (piece,) = answer("/v1/repair-units")["injuries"][0]["choices"][0]["chosen"]["pieces"]
        codes = client.get("/v1/generic-units?rulebook=gb&tyre_class=car").json()
        prices = {
            "currency": "GBP",
            "labour": {"per_hour": "54.00"},
            "units": {unit["code"]: "3.40" for unit in codes["units"]},
            "consumables": {used["code"]: "0.12" for used in codes["consumables"]},
            "taxes": [{"name": "VAT", "percent": "20"}],
        }
        quote = answer("/v1/quotes", price_book=prices)
        refused = answer("/v1/repairability", 422, tyre={"marking": "205/55R61"})
    return (
        f"check: {check['verdict']}, {check['next_step']}\n"
        f"unit: {piece['code']}\n"
        f"price: {quote['totals']['gross']} GBP\n"
        f"refused: 422 {refused['title']}, {refused['errors'][0]['pointer']}\n"
        f"later: {WORD}, {WORD}\n"
    )


def test_java(services: dict[str, str], expected: str, tmp_path: Path) -> None:
    need("javac", "default-jdk-headless")
    need(JAKARTA, "libjakarta-annotation-api-java")
    generate("java", tmp_path / "client")
    sources = [CLIENTS / "java" / "Ask.java", *(tmp_path / "client" / "src" / "main").rglob("*.java")]
    (tmp_path / "sources").write_text("\n".join(map(str, sources)), encoding="utf-8")
    classes = f"{jar()}:{JAKARTA}"
    run("javac", "-proc:none", "-nowarn", "-cp", classes, "-d", "classes", "@sources", cwd=tmp_path)
    printed = run("java", "-cp", f"classes:{classes}", "Ask", cwd=tmp_path, environment=services)
    assert printed == expected


def test_typescript_fetch(services: dict[str, str], expected: str, tmp_path: Path) -> None:
    generate("typescript", tmp_path / "client")
    shutil.copytree(CLIENTS / "typescript", tmp_path, dirs_exist_ok=True)
    (tmp_path / "node_modules").symlink_to(installed().parent)
    (tmp_path / "package.json").write_text('{"type": "module"}', encoding="ascii")
    run(installed() / "tsc", "--project", ".", cwd=tmp_path)
    assert run("node", "ask.js", cwd=tmp_path, environment=services) == expected


def test_python(services: dict[str, str], expected: str, tmp_path: Path) -> None:
    generate("python", tmp_path)
    shutil.copy(CLIENTS / "python" / "ask.py", tmp_path)
    assert run(PYTHON, "ask.py", cwd=tmp_path, environment=services) == expected


def test_python_by_openapi_python_client(services: dict[str, str], expected: str, tmp_path: Path) -> None:
    """A second generator for Python: its constructors take a plain number where a range would do."""
    program = CLIENTS / "python-attrs"
    options = ("--config", program / "config.yaml", "--meta", "none", "--output-path", tmp_path / "tyre_check")
    generator = PYTHON.with_name("openapi-python-client")
    printed = run(generator, "generate", "--path", OPENAPI / "openapi.json", *options, cwd=tmp_path)
    assert "WARNING" not in printed.upper()
    shutil.copy(program / "ask.py", tmp_path)
    assert run(PYTHON, "ask.py", cwd=tmp_path, environment=services) == expected


def test_go(services: dict[str, str], expected: str, tmp_path: Path) -> None:
    need(GO_VALIDATOR, "golang-gopkg-validator.v2-dev")
    shutil.copytree(CLIENTS / "go", tmp_path, dirs_exist_ok=True)
    generate("go", tmp_path / "client")
    shutil.copytree(GO_VALIDATOR, tmp_path / "validator", ignore=shutil.ignore_patterns("*_test.go"))
    (tmp_path / "validator" / "go.mod").write_text("module gopkg.in/validator.v2\n", encoding="ascii")
    offline = {"GOPROXY": "off", "GOTOOLCHAIN": "local", "GOFLAGS": "-mod=mod"}
    run(GO, "mod", "edit", "-replace", "gopkg.in/validator.v2=./validator", cwd=tmp_path)
    run(GO, "build", "-o", "ask", ".", cwd=tmp_path, environment=services | offline)
    assert run(tmp_path / "ask", cwd=tmp_path, environment=services) == expected
