"""Ask for advisories on the locked packages: `make audit`. Fails on findings, and says what was not audited.

pip-audit passes over a package that its service does not know, as a mirror of the index knows none, and then reports
that it found nothing; here that counts as not asked, and npm has a registry's refusal count so too. What nobody could
be asked about is at least looked up in the index: whether its authors withdrew a release, and whether there is a newer.
"""

from __future__ import annotations

import json
import re
import subprocess
import sys
import tempfile
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

_UV = str(Path(sys.executable).with_name("uv"))
_COMPILE = (
    _UV,
    "pip",
    "compile",
    "--no-deps",
    "--universal",
    "--python-version",
    "3.11",
    "--no-header",
    "--no-annotate",
)


def main(locks: Sequence[str]) -> int:
    """Print what was found in each lock, and return 1 if that is anything."""
    found = [_audited(lock) for lock in locks]
    return int(any(found))


def _audited(lock: str) -> bool:
    of_npm = lock.endswith(".json")
    found, asked = npm_advisories(*_npm(lock)) if of_npm else pip_advisories(*_pip(lock))
    print(f"{lock}: {asked}")
    if not of_npm and "NOT AUDITED" in asked:
        withdrawn, newer = _by_the_index(lock)
        found += withdrawn
        print(f"    {newer}")
    for one in found:
        print(f"    {one}")
    return bool(found)


def _pip(lock: str) -> tuple[str, str]:
    command = ["pip_audit", "--disable-pip", "--require-hashes", "--requirement", lock, "--format", "json"]
    return _run(sys.executable, "-m", *command, "--progress-spinner", "off")


def pip_advisories(printed: str, complaint: str) -> tuple[list[str], str]:
    """Return the advisories in what pip-audit printed, and how much was audited."""
    try:
        packages: list[Mapping[str, Any]] = json.loads(printed)["dependencies"]
    except ValueError:
        return [], f"NOT AUDITED, the advisory service could not be asked: {complaint.strip()[-200:]}"
    skipped = [package["name"] for package in packages if "skip_reason" in package]
    advisories = [
        f"{package['name']} {package['version']}: {advisory['id']}, mended in "
        f"{', '.join(advisory['fix_versions']) or 'no version yet'}"
        for package in packages
        for advisory in package.get("vulns", ())
    ]
    asked = f"{len(packages) - len(skipped)} packages audited, {len(advisories)} advisories"
    return advisories, asked + (f"; {len(skipped)} NOT AUDITED, the service does not know them" if skipped else "")


def _npm(lock: str) -> tuple[str, str]:
    return _run("npm", "audit", "--package-lock-only", "--json", cwd=Path(lock).parent)


def npm_advisories(printed: str, complaint: str) -> tuple[list[str], str]:
    """Return the advisories in what `npm audit` printed, and how much was audited."""
    try:
        report = json.loads(printed)
        found: Mapping[str, Any] = report["vulnerabilities"]
    except (ValueError, KeyError):
        why = next(iter(re.findall(r'"message": "([^"]+)"', printed)), complaint.strip()[-200:])
        return [], f"NOT AUDITED, the advisory service could not be asked: {re.sub(r'https?://[^ ]+', '…', why)}"
    advisories = [f"{name}: {entry['severity']}" for name, entry in found.items()]
    return advisories, f"{report['metadata']['dependencies']['total']} packages audited, {len(advisories)} advisories"


def _by_the_index(lock: str) -> tuple[list[str], str]:
    """Return the locked releases that were withdrawn, and a line on what there is newer."""
    locked = _releases(Path(lock).read_text("utf-8"))
    same, complaint = _run(*_COMPILE, lock)
    with tempfile.NamedTemporaryFile("w", suffix=".in") as names:
        names.write("\n".join(locked))
        names.flush()
        newest, _ = _run(*_COMPILE, names.name)
    if not same or not newest:
        return [], f"the index could not be asked either: {complaint.strip()[-200:]}"
    newer = [f"{name} {release}" for name, release in _releases(newest).items() if release != locked[name]]
    withdrawn = re.findall(r"warning: (.* is yanked.*)", complaint)
    return (
        withdrawn,
        f"by the index {len(withdrawn)} withdrawn; there is a newer {', '.join(newer) or 'release of none'}",
    )


def _releases(requirements: str) -> dict[str, str]:
    return dict(re.findall(r"^([A-Za-z0-9._-]+)==([^ \\;\n]+)", requirements, flags=re.MULTILINE))


def _run(*command: str, cwd: Path | None = None) -> tuple[str, str]:
    """Return what a program prints and what it complains of; the latter alone where there is no such program."""
    try:
        done = subprocess.run(command, capture_output=True, text=True, check=False, cwd=cwd)
    except FileNotFoundError as absent:
        return "", str(absent)
    return done.stdout, done.stderr


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
