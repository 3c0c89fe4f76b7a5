"""npm packages that files are checked with, as the `package-lock.json` of a folder pins them."""

from __future__ import annotations

import fcntl
import hashlib
import subprocess
from pathlib import Path

OPENAPI = Path(__file__).parents[2] / "openapi"


def installed(folder: Path = OPENAPI) -> Path:
    """Return the folder of the tools' programs; install them first if they are absent or not those locked."""
    packages = folder / "node_modules"
    packages_digest = packages / "installed.sha256"  # of the lock file that was installed
    digest = hashlib.sha256((folder / "package-lock.json").read_bytes()).hexdigest()
    with (folder / "package.json").open("rb") as turn:
        fcntl.flock(turn, fcntl.LOCK_EX)  # tests may run in several processes, and one of them installs
        if not packages_digest.exists() or packages_digest.read_text("ascii") != digest:
            run("npm", "ci", "--prefer-offline", "--no-progress", cwd=folder)
            packages_digest.write_text(digest, "ascii")
    return packages / ".bin"


def run(
    *command: str | Path, cwd: Path, codes: tuple[int, ...] = (0,), environment: dict[str, str] | None = None
) -> str:
    """Return what a program prints; fail with all of its output when it ends with a code not in `codes`."""
    done = subprocess.run(command, cwd=cwd, env=environment, capture_output=True, text=True, check=False)
    assert done.returncode in codes, f"{command[0]} ended with {done.returncode}:\n{done.stdout}\n{done.stderr}"
    return done.stdout
