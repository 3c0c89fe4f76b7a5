"""Every package that is used may be used: its licence is on a list of those that ask for nothing but notice.

Developers' tools may also be under the Mozilla Public License, which binds only who changes the tool itself.
"""

from __future__ import annotations

import re
from importlib.metadata import PackageMetadata, PackageNotFoundError, metadata
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]

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
    *("3-Clause BSD License", "Apache", "Apache Software License", "BSD License", "ISC License (ISCL)", "MIT License"),
    *("Public Domain", "Python Software Foundation License"),
}
FOR_TOOLS = {
    *(*PERMISSIVE, "MPL-2.0", "Mozilla Public License 2.0 (MPL 2.0)"),
    "BSD-3-Clause, Apache-2.0, dependency licenses",  # pypdfium2: its own and PDFium's, which ask for notice
}


def locked(file: str) -> list[str]:
    return re.findall(r"^([A-Za-z0-9._-]+)==", (ROOT / file).read_text(), flags=re.MULTILINE)


def licences(package: str) -> set[str] | None:
    """The licences of a package, all of which bind; None when it is not for this machine."""
    try:
        found = metadata(package)
    except PackageNotFoundError:
        return None
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


def test_a_licence_that_asks_for_more_is_found() -> None:
    assert not {"GPL-3.0-only"} & FOR_TOOLS
    assert licences("pytest") == {"MIT"}
    assert licences("no-such-package") is None
