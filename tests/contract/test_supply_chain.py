"""`make audit` passes nothing off as audited that was not; `make sbom` lists what the image is made of."""

from __future__ import annotations

import json
import re
import subprocess
import sys
from pathlib import Path

from tests.audit import npm_advisories, pip_advisories
from tests.contract.test_licences import locked

ROOT = Path(__file__).parents[2]


def test_a_package_that_the_service_does_not_know_is_not_audited() -> None:
    printed = {"dependencies": [{"name": "a", "version": "1", "vulns": []}, {"name": "b", "skip_reason": "unknown"}]}
    found, asked = pip_advisories(json.dumps(printed), "")
    assert found == []
    assert "1 packages audited" in asked
    assert "1 NOT AUDITED" in asked


def test_an_advisory_is_a_finding() -> None:
    advisory = {"id": "PYSEC-0", "fix_versions": ["2"]}
    printed = {"dependencies": [{"name": "a", "version": "1", "vulns": [advisory]}]}
    found, asked = pip_advisories(json.dumps(printed), "")
    assert found == ["a 1: PYSEC-0, mended in 2"]
    assert "NOT AUDITED" not in asked


def test_an_advisory_of_npm_is_a_finding() -> None:
    printed = {"vulnerabilities": {"a": {"severity": "high"}}, "metadata": {"dependencies": {"total": 7}}}
    found, asked = npm_advisories(json.dumps(printed), "")
    assert (found, asked) == (["a: high"], "7 packages audited, 1 advisories")


def test_a_service_that_refuses_to_say_has_audited_nothing() -> None:
    assert "NOT AUDITED" in pip_advisories("", "connection refused")[1]
    refusal = '{"message": "405 Method Not Allowed", "error": {}}'
    assert npm_advisories(refusal, "")[1].endswith("could not be asked: 405 Method Not Allowed")


def test_the_bill_of_materials_lists_what_the_image_installs_with_its_hashes(tmp_path: Path) -> None:
    (recipe,) = re.findall(r"^sbom:.*\n((?:\t.*\n)+)", (ROOT / "Makefile").read_text("utf-8"), flags=re.MULTILINE)
    options = re.findall("cyclonedx-py (.*)", recipe.replace("\\\n", " "))[0].split()
    assert options[-2:] == ["--output-file", "dist/sbom.json"]
    bill = tmp_path / "sbom.json"
    program = Path(sys.executable).with_name("cyclonedx-py")
    subprocess.run([program, *options[:-1], bill], cwd=ROOT, check=True, capture_output=True)
    (lock,) = re.findall(r"^ARG LOCK=(\S+)$", (ROOT / "docker/Dockerfile").read_text("utf-8"), flags=re.MULTILINE)
    components = {part["name"]: part for part in json.loads(bill.read_bytes())["components"]}
    assert components.keys() == set(locked(lock))
    for part in components.values():
        assert part["externalReferences"][0]["hashes"]
