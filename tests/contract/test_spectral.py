"""The document keeps to the rules of its style, `openapi/rules.yaml`; and each of them would notice if it did not."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

import pytest
from tests.contract.node_tools import OPENAPI, installed, run

BREAKS_EVERY_RULE = Path(__file__).parent / "style" / "breaks_every_rule.json"
pytestmark = pytest.mark.generators

OWN_RULES = re.findall(r"^  ([a-z-]+):$", (OPENAPI / "rules.yaml").read_text("utf-8").partition("\nrules:\n")[2], re.M)


@pytest.fixture(scope="module")
def faults() -> dict[str, list[dict[str, Any]]]:
    """Return the faults of both documents, by file name: the tool takes longer to start than to read one more."""
    options = ["--ruleset", "rules.yaml", "--format", "json", "--quiet", "--fail-severity", "hint"]
    documents = ["openapi.json", str(BREAKS_EVERY_RULE)]
    found: list[dict[str, Any]] = json.loads(
        run(installed() / "spectral", "lint", *options, *documents, cwd=OPENAPI, codes=(0, 1))
    )
    return {
        Path(name).name: [fault for fault in found if Path(fault["source"]).name == Path(name).name]
        for name in documents
    }


def test_the_document_keeps_to_every_rule(faults: dict[str, list[dict[str, Any]]]) -> None:
    assert [f"{fault['code']} at /{'/'.join(map(str, fault['path']))}" for fault in faults["openapi.json"]] == []


def test_there_are_rules() -> None:
    assert len(OWN_RULES) > 12


@pytest.mark.parametrize("rule", OWN_RULES)
def test_a_breach_of_a_rule_is_noticed(faults: dict[str, list[dict[str, Any]]], rule: str) -> None:
    assert rule in {fault["code"] for fault in faults[BREAKS_EVERY_RULE.name]}
