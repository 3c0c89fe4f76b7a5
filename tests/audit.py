"""Ask for advisories on the locked packages: `make audit`. Fails on findings, and says what was not audited.

pip-audit passes over a package that its service does not know, as a mirror of the index knows none, and then reports
that it found nothing. Here that counts as not asked.
"""

from __future__ import annotations

import json
import subprocess
import sys
from collections.abc import Sequence


def main(locks: Sequence[str]) -> int:
    """Print what was found in each lock, and return 1 if that is anything."""
    found = [_audit(lock) for lock in locks]
    return int(any(found))


def _audit(lock: str) -> bool:
    command = ["pip_audit", "--disable-pip", "--require-hashes", "--requirement", lock, "--format", "json"]
    done = subprocess.run([sys.executable, "-m", *command, "--progress-spinner", "off"], capture_output=True, text=True)
    try:
        packages = json.loads(done.stdout)["dependencies"]
    except ValueError:
        print(f"{lock}: NOT AUDITED, the advisory service could not be asked: {done.stderr.strip()[-300:]}")
        return False
    skipped = [package["name"] for package in packages if "skip_reason" in package]
    advisories = [(package, advisory) for package in packages for advisory in package.get("vulns", ())]
    print(f"{lock}: {len(packages) - len(skipped)} packages audited, {len(advisories)} advisories")
    if skipped:
        print(f"{lock}: NOT AUDITED, the advisory service knows nothing of {len(skipped)}: {', '.join(skipped)}")
    for package, advisory in advisories:
        mended = ", ".join(advisory["fix_versions"]) or "no version yet"
        print(f"{package['name']} {package['version']}: {advisory['id']}, mended in {mended}")
    return bool(advisories)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
