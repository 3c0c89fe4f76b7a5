"""The document passes Redocly's recommended rules without an error or a warning; and a fault of it would be noticed."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from tests.contract.node_tools import OPENAPI, installed, run

pytestmark = pytest.mark.generators


def found_in(document: Path, folder: Path) -> list[str]:
    """Return what is found in a document, by rule; run beside no settings, so that the recommended ones hold."""
    options = ["--extends", "recommended", "--format", "json"]
    report: dict[str, Any] = json.loads(
        run(installed() / "redocly", "lint", document, *options, cwd=folder, codes=(0, 1))
    )
    return [f"{problem['severity']} {problem['ruleId']}: {problem['message']}" for problem in report["problems"]]


def test_the_document_is_clean(tmp_path: Path) -> None:
    assert found_in(OPENAPI / "openapi.json", tmp_path) == []


def test_a_fault_is_noticed(tmp_path: Path) -> None:
    document = json.loads((OPENAPI / "openapi.json").read_bytes())
    del document["paths"]["/v1/repairability"]["post"]["operationId"]
    (tmp_path / "faulty.json").write_text(json.dumps(document), "utf-8")
    assert any("operation-operationId" in fault for fault in found_in(tmp_path / "faulty.json", tmp_path))
