"""What goes to a package index: both packages as sdist and wheel, and what their metadata says."""

from __future__ import annotations

import subprocess
import sys
import tarfile
import zipfile
from email import message_from_bytes
from email.message import Message
from pathlib import Path
from typing import NamedTuple

import pytest

ROOT = Path(__file__).parents[3]
SOURCES = {"mendgauge": ROOT, "mendgauge_client": ROOT / "sdk"}


class Built(NamedTuple):
    """A package as it is built from a checkout, and once more from its own sdist."""

    wheel: Path
    from_sdist: Path

    def files(self) -> set[str]:
        return set(zipfile.ZipFile(self.wheel).namelist())

    def metadata(self) -> Message:
        (name,) = (name for name in self.files() if name.endswith(".dist-info/METADATA"))
        return message_from_bytes(zipfile.ZipFile(self.wheel).read(name))


def build(target: str, source: Path, into: Path) -> Path:
    command = [sys.executable, "-m", "hatchling", "build", "--target", target, "--directory", str(into)]
    done = subprocess.run(command, cwd=source, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    (made,) = into.iterdir()
    return made


@pytest.fixture(scope="module", params=SOURCES)
def built(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Built:
    folder = tmp_path_factory.mktemp(request.param)
    source = SOURCES[request.param]
    wheel = build("wheel", source, folder / "wheel")
    with tarfile.open(build("sdist", source, folder / "sdist")) as packed:
        packed.extractall(folder / "unpacked", filter="data")
    (unpacked,) = (folder / "unpacked").iterdir()
    return Built(wheel, build("wheel", unpacked, folder / "again"))


def test_a_wheel_from_the_sdist_is_that_from_the_checkout(built: Built) -> None:
    direct, again = zipfile.ZipFile(built.wheel), zipfile.ZipFile(built.from_sdist)
    assert set(again.namelist()) == built.files()
    for name in built.files():
        if not name.endswith("/RECORD"):  # it lists the same files, in the order they were packed in
            assert again.read(name) == direct.read(name), name


def test_a_wheel_says_what_it_is_and_brings_its_licence(built: Built) -> None:
    metadata = built.metadata()
    assert metadata["License-Expression"] == "Apache-2.0"
    (licence,) = (name for name in built.files() if name.endswith(".dist-info/licenses/LICENSE"))
    assert zipfile.ZipFile(built.wheel).read(licence) == (ROOT / "LICENSE").read_bytes()
    assert metadata.get_all("License-File") == ["LICENSE"]
    classifiers = metadata.get_all("Classifier", [])
    assert "Typing :: Typed" in classifiers
    assert "Programming Language :: Python :: 3.11" in classifiers
    assert "tyre" in metadata["Keywords"]
    assert metadata["Requires-Python"] == ">=3.11"
    assert metadata["Description-Content-Type"] == "text/markdown"


def test_a_wheel_has_its_types_and_its_data_and_nothing_of_the_workshop(built: Built) -> None:
    names = {name for name in built.files() if ".dist-info/" not in name}
    (package,) = {name.partition("/")[0] for name in names}
    assert f"{package}/py.typed" in names
    assert any(name.endswith(".toml") for name in names)
    if package == "mendgauge_client":
        examples = {
            path.relative_to(ROOT / "openapi").as_posix() for path in (ROOT / "openapi/examples").rglob("*.json")
        }
        assert {f"{package}/contract/material/{name}" for name in (*examples, "openapi.json")} <= names
    assert not any(part in name for name in names for part in ("tests/", "__pycache__", "examples.py", ".mypy_cache"))
