"""The contract kit as its users run it: from the command line and under pytest, with its reports and exit codes."""

from __future__ import annotations

import os
import subprocess
import sys
import zipfile
from collections.abc import Iterator
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest
from tests.contract.kit_faults import on_answer, without_header
from tests.contract.kit_service import CHECKS, KEY, Service, service_behind_proxy

from mendgauge_client.contract.compat.released import main as released
from mendgauge_client.contract.kit.__main__ import main
from mendgauge_client.contract.kit.material import examples

ROOT = Path(__file__).parents[2]


@pytest.fixture(scope="module")
def service() -> Iterator[Service]:
    with service_behind_proxy() as service:
        yield service


@pytest.fixture(scope="module")
def locked() -> Iterator[Service]:
    with service_behind_proxy(KEY) as service:
        yield service


KIT = ("--pyargs", "mendgauge_client.contract.kit")
PLUGIN = ("-p", "mendgauge_client.contract.kit.plugin")


def run_pytest(folder: Path, *options: str) -> subprocess.CompletedProcess[str]:
    """Run pytest with no other plugin than is asked for."""
    command = [sys.executable, "-m", "pytest", "-p", "no:cacheprovider", *options]
    environment = {**os.environ, "PYTEST_DISABLE_PLUGIN_AUTOLOAD": "1"}
    return subprocess.run(command, cwd=folder, env=environment, capture_output=True, text=True, check=False)


def attributes(tree: ET.Element, tag: str) -> set[str]:
    return {name for element in tree.iter(tag) for name in element.attrib}


def test_the_whole_kit_passes_the_service(
    locked: Service, tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("MENDGAUGE_API_KEY", KEY)
    code = main([locked.address, "--junit", str(tmp_path / "kit.xml")])
    table = capsys.readouterr().out
    assert code == 0, table
    *_, last = table.splitlines()
    assert last.endswith(f" {len(CHECKS) - 1} ok, 0 failed, 1 not tried")
    assert table.count("  ok      ") == len(CHECKS) - 1
    assert KEY not in table
    suite = ET.parse(tmp_path / "kit.xml").getroot()[0]
    assert (suite.get("tests"), suite.get("failures"), suite.get("skipped")) == (str(len(CHECKS)), "0", "1")
    assert len(suite.findall("testcase")) == len(CHECKS)


def test_the_same_checks_run_under_pytest(service: Service, tmp_path: Path) -> None:
    options = ["--mendgauge-url", service.address, "--junitxml", "pytest.xml", "-k", "caching or access"]
    done = run_pytest(tmp_path, *PLUGIN, *KIT, *options)
    assert done.returncode == 0, done.stdout + done.stderr
    chosen = [check for check in CHECKS.values() if check.group in ("caching", "access")]
    cases = list(ET.parse(tmp_path / "pytest.xml").getroot().iter("testcase"))
    assert {f"test_the_deployment_keeps_the_contract[{check.group}: {check.name}]" for check in chosen} <= {
        case.get("name") for case in cases
    }


def test_what_is_broken_is_reported_in_the_table_and_as_pytest_writes_junit(
    service: Service, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    service.proxy.fault = without_header("etag")
    try:
        assert main([service.address, "--only", "access"]) == 0
        assert "  -       401 without a key" in capsys.readouterr().out
        code = main([service.address, "--only", "caching", "--junit", str(tmp_path / "kit.xml")])
        options = ["--mendgauge-url", service.address, "--junitxml=pytest.xml", "-k", "caching or access"]
        done = run_pytest(tmp_path, *PLUGIN, *KIT, *options)
    finally:
        service.proxy.fault = None
    table = capsys.readouterr().out
    assert code == 1
    assert "  FAILED  GET /v1/rulebooks: 304 to a copy that is good\n            the answer has no ETag\n" in table
    assert done.returncode == 1
    # The reference for JUnit XML, which has no standard: what pytest itself writes of the same checks.
    ours, theirs = ET.parse(tmp_path / "kit.xml").getroot(), ET.parse(tmp_path / "pytest.xml").getroot()
    assert {element.tag for element in ours.iter()} <= {element.tag for element in theirs.iter()} | {
        "properties",
        "property",
        "system-out",
    }
    for tag in ("testsuites", "testsuite", "testcase", "failure"):
        assert attributes(ours, tag) <= attributes(theirs, tag)
    assert ours.findtext(".//failure")


def test_junit_has_a_form_for_whatever_a_broken_service_says(service: Service, tmp_path: Path) -> None:
    service.proxy.fault = on_answer("/v1/tyre-markings", lambda answer: answer | {"marking": "\x00\x1b]<&>\ud800"})
    try:
        main([service.address, "--only", "examples", "--junit", str(tmp_path / "kit.xml")])
    finally:
        service.proxy.fault = None
    assert ET.parse(tmp_path / "kit.xml").getroot().findall(".//failure")


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        (["http://127.0.0.1:9"], "http://127.0.0.1:9 was not reached: "),
        (["bench.example"], "Give the service's address as http://host:port or https://host"),
        ([], "Say where the service is: pass base_url= or set MENDGAUGE_URL"),
    ],
)
def test_what_cannot_be_checked_is_reported_as_such(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, arguments: list[str], message: str
) -> None:
    monkeypatch.delenv("MENDGAUGE_URL", raising=False)
    assert main(arguments) == 2
    assert message in capsys.readouterr().err


@pytest.mark.parametrize(
    ("key", "message"),
    [(None, "asks for an API key: give one as --api-key"), ("wrong-key", "does not take the API key")],
)
def test_without_its_key_a_deployment_cannot_be_checked(
    locked: Service,
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
    key: str | None,
    message: str,
) -> None:
    monkeypatch.delenv("MENDGAUGE_API_KEY", raising=False)
    assert main([locked.address, *(["--api-key", key] if key else [])]) == 2
    assert message in capsys.readouterr().err


def test_a_report_that_cannot_be_written_is_reported(
    service: Service, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main([service.address, "--only", "caching", "--junit", str(tmp_path / "no" / "kit.xml")]) == 2
    assert "cannot be written" in capsys.readouterr().err


def test_pytest_is_given_the_address_of_the_deployment(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("MENDGAUGE_URL", raising=False)
    done = run_pytest(tmp_path, *PLUGIN, *KIT, "-k", "caching")
    assert done.returncode != 0
    assert "Say where the service is" in done.stdout
    assert "--mendgauge-url" in done.stdout


def test_a_project_whose_tests_have_a_base_url_of_their_own_is_left_alone(tmp_path: Path, service: Service) -> None:
    (tmp_path / "conftest.py").write_text(
        "def pytest_addoption(parser):\n    parser.addoption('--base-url')\n", encoding="utf-8"
    )
    (tmp_path / "test_theirs.py").write_text(
        "def test_it(request):\n    assert request.config.getoption('base_url') == 'http://theirs.example'\n",
        encoding="utf-8",
    )
    theirs = ("--base-url", "http://theirs.example", "test_theirs.py")
    alone = run_pytest(tmp_path, *theirs)
    assert (alone.returncode, "1 passed" in alone.stdout) == (0, True), alone.stdout + alone.stderr
    options = ("--mendgauge-url", service.address, "-k", "theirs or 304")
    both = run_pytest(tmp_path, *PLUGIN, *theirs, *KIT, *options)
    assert both.returncode == 0, both.stdout + both.stderr
    # With the plugins that load themselves, but for one that takes a second to load and is not ours.
    helped = subprocess.run(
        [sys.executable, "-m", "pytest", "-p", "no:schemathesis", "--help"],
        cwd=tmp_path,
        capture_output=True,
        text=True,
        check=True,
    )
    assert "--numprocesses" in helped.stdout
    assert "mendgauge" not in helped.stdout


def test_the_kit_without_its_options_says_how_to_load_them(tmp_path: Path) -> None:
    done = run_pytest(tmp_path, *KIT, "-k", "caching")
    assert done.returncode != 0
    assert "load the options with -p mendgauge_client.contract.kit.plugin" in done.stdout


def test_the_kit_needs_no_pytest_and_leaves_the_service_alone() -> None:
    program = "import sys, mendgauge_client.contract.kit.__main__; print(*{name.split('.')[0] for name in sys.modules})"
    loaded = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True).stdout.split()
    assert not {"pytest", "mendgauge", "litestar"} & set(loaded)


def test_the_wheel_has_what_the_kit_brings_along_and_adds_nothing_to_pytest(tmp_path: Path) -> None:
    command = [sys.executable, "-m", "hatchling", "build", "--target", "wheel", "--directory", str(tmp_path)]
    subprocess.run(command, cwd=ROOT / "sdk", capture_output=True, check=True)
    (wheel,) = tmp_path.glob("*.whl")
    with zipfile.ZipFile(wheel) as packed:
        names = packed.namelist()
        (message,) = (packed.read(name).decode() for name in names if name.endswith("entry_points.txt"))
    golden = {f"mendgauge_client/contract/material/examples/{example.name}.json" for example in examples()}
    assert golden <= set(names)
    assert "mendgauge_client/contract/material/openapi.json" in names
    assert "[pytest11]" not in message


def commands_of_the_guide(begin: str) -> list[list[str]]:
    """The commands of the README that begin so, without that beginning."""
    lines = (ROOT / "sdk" / "README.md").read_text("utf-8").splitlines()
    return [line.removeprefix(begin).split() for line in lines if line.startswith(f"{begin} ")]


def test_the_commands_of_the_guide_run(service: Service, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def here(arguments: list[str]) -> list[str]:
        return [service.address if argument == "http://127.0.0.1:8340" else argument for argument in arguments]

    (gate,) = commands_of_the_guide("python -m mendgauge_client.contract.compat.released")
    monkeypatch.chdir(ROOT)
    assert released(gate) == 0
    (kit,) = commands_of_the_guide("python -m mendgauge_client.contract.kit")
    monkeypatch.chdir(tmp_path)
    assert main([*here(kit), "--only", "caching"]) == 0
    assert (tmp_path / "contract.xml").exists()
    (tests,) = commands_of_the_guide("pytest")
    assert run_pytest(tmp_path, *here(tests), "-k", "caching").returncode == 0


def test_the_guide_describes_every_group() -> None:
    guide = (ROOT / "sdk" / "README.md").read_text("utf-8").partition("## Contract kit")[2].partition("\n## ")[0]
    message = [line.split(" | ")[0].removeprefix("| ") for line in guide.splitlines() if line.startswith("| ")][1:]
    assert message == list(dict.fromkeys(check.group for check in CHECKS.values()))
