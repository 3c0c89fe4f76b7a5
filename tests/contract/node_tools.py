"""The npm packages that the document is checked with, as `openapi/package-lock.json` pins them."""

from __future__ import annotations

import fcntl
import hashlib
import subprocess
from pathlib import Path

OPENAPI = Path(__file__).parents[2] / "openapi"
BINARIES = OPENAPI / "node_modules" / ".bin"
INSTALLED = OPENAPI / "node_modules" / "installed.sha256"
"""The digest of the lock file that was installed: the packages stay until that changes."""


def installed() -> Path:
    """Return the folder of the tools' programs; install them first if they are absent or not those locked."""
    digest = hashlib.sha256((OPENAPI / "package-lock.json").read_bytes()).hexdigest()
    with (OPENAPI / "package.json").open("rb") as turn:
        fcntl.flock(turn, fcntl.LOCK_EX)  # tests may run in several processes, and one of them installs
        if not INSTALLED.exists() or INSTALLED.read_text("ascii") != digest:
            run("npm", "ci", "--prefer-offline", "--no-progress", cwd=OPENAPI)
            INSTALLED.write_text(digest, "ascii")
    return BINARIES


def run(
    *command: str | Path, cwd: Path, codes: tuple[int, ...] = (0,), environment: dict[str, str] | None = None
) -> str:
    """Return what a program prints; fail with all of its output when it ends with a code not in `codes`."""
    done = subprocess.run(command, cwd=cwd, env=environment, capture_output=True, text=True, check=False)
    assert done.returncode in codes, f"{command[0]} ended with {done.returncode}:\n{done.stdout}\n{done.stderr}"
    return done.stdout
