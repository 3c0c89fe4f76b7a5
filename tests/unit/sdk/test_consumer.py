"""A program written against the client, from the wheel as it ships, under two type checkers at their strictest."""

from __future__ import annotations

import json
import shutil
import subprocess
import sys
import sysconfig
import venv
import zipfile
from collections.abc import Callable
from pathlib import Path

import pytest

HERE = Path(__file__).parent / "consumer"
SDK = Path(__file__).parents[3] / "sdk"
MISTAKEN = HERE / "mistakes.txt"
"""No module as it stands: this project's own checkers would find the mistakes too."""
PROGRAMS = ["depot.py", "mistakes.py"]
MISTAKES = [
    number
    for number, line in enumerate(MISTAKEN.read_text("utf-8").splitlines(), start=1)
    if line.endswith("# mistake")
]


def run(*command: str | Path, cwd: Path) -> subprocess.CompletedProcess[str]:
    return subprocess.run(command, cwd=cwd, capture_output=True, text=True, check=False)


@pytest.fixture(scope="module")
def project(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A project with an environment of its own, the client in it as a wheel, and what the client needs."""
    folder = tmp_path_factory.mktemp("project")
    built = run(sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", folder / "dist", cwd=SDK)
    assert built.returncode == 0, built.stderr
    venv.create(folder / ".venv", with_pip=False)
    installed = Path(sysconfig.get_path("purelib", vars={"base": str(folder / ".venv")}))
    (wheel,) = (folder / "dist").glob("*.whl")
    with zipfile.ZipFile(wheel) as packed:
        packed.extractall(installed)
    needed = Path(sysconfig.get_path("purelib"))
    (installed / "needed.pth").write_text(f"{needed}\n", encoding="utf-8")
    for source, program in zip((HERE / "depot.py", MISTAKEN), PROGRAMS, strict=True):
        shutil.copy(source, folder / program)
    return folder


def interpreter(project: Path) -> Path:
    return project / ".venv" / "bin" / "python"


def test_the_program_runs_with_the_client_from_the_wheel(project: Path) -> None:
    done = run(interpreter(project), "-c", "import depot, mendgauge_client as c; print(c.__file__)", cwd=project)
    assert done.stdout.startswith(str(project)), done.stderr
    assert (Path(done.stdout.strip()).parent / "py.typed").exists()
    assert (Path(done.stdout.strip()).parent / "tabular" / "columns.toml").exists()


def mypy(project: Path) -> set[tuple[str, int]]:
    done = run(
        *(sys.executable, "-m", "mypy", "--strict", "--no-error-summary", "--output=json", "--config-file="),
        *(f"--python-executable={interpreter(project)}", *PROGRAMS),
        cwd=project,
    )
    assert done.stderr == ""
    shown = [json.loads(line) for line in done.stdout.splitlines()]
    return {(Path(error["file"]).name, error["line"]) for error in shown if error["severity"] == "error"}


def pyright(project: Path) -> set[tuple[str, int]]:
    settings = {"typeCheckingMode": "strict", "venvPath": ".", "venv": ".venv", "include": PROGRAMS}
    (project / "pyrightconfig.json").write_text(json.dumps(settings), encoding="utf-8")
    if not (HERE / "node_modules" / "pyright").exists():
        done = run("npm", "ci", "--prefer-offline", "--no-progress", cwd=HERE)
        assert done.returncode == 0, done.stderr
    done = run("node", HERE / "node_modules" / "pyright" / "index.js", "--outputjson", "-p", project, cwd=project)
    shown = json.loads(done.stdout)
    assert shown["summary"]["filesAnalyzed"] == len(PROGRAMS), done.stderr
    found = [error for error in shown["generalDiagnostics"] if error["severity"] == "error"]
    return {(Path(error["file"]).name, error["range"]["start"]["line"] + 1) for error in found}


@pytest.mark.parametrize("checker", [mypy, pyright])
def test_a_program_is_clean_and_its_mistakes_are_found(
    checker: Callable[[Path], set[tuple[str, int]]], project: Path
) -> None:
    assert sorted(checker(project)) == [("mistakes.py", line) for line in MISTAKES]
    assert len(MISTAKES) > 10
