"""What Prometheus is to watch: held to what the service counts, and to what Prometheus and Grafana publish."""

from __future__ import annotations

import json
import re
import shutil
from pathlib import Path
from typing import Any

import pytest
import yaml
from prometheus_client.parser import text_string_to_metric_families
from tests.contract.node_tools import installed, run
from tests.contract.running import serve

from mendgauge.api.under_way import BODIES_TOGETHER
from mendgauge.server import document
from mendgauge.settings import Settings

ROOT = Path(__file__).parents[2]
ALERTS = ROOT / "docker/prometheus/alerts.yaml"
ALERTS_TEST = Path(__file__).parent / "alerts_test.yaml"
DASHBOARD = ROOT / "docker/prometheus/dashboard.json"

RULES: dict[str, dict[str, Any]] = {
    rule["alert"]: rule for group in yaml.safe_load(ALERTS.read_text())["groups"] for rule in group["rules"]
}
PANELS: dict[str, list[str]] = {
    panel["title"]: [target["expr"] for target in panel["targets"]]
    for panel in json.loads(DASHBOARD.read_text())["panels"]
}
EXPRESSIONS = [*(rule["expr"] for rule in RULES.values()), *(expr for panel in PANELS.values() for expr in panel)]

GIVEN_BY_PROMETHEUS = {"up", "job", "instance"}


@pytest.fixture(scope="module")
def counted() -> tuple[set[str], set[str]]:
    """The names of the service's samples and of their labels."""
    with serve() as service:
        service.client.post("/v1/repairability", json={"rulebook": "gb", "tyre": {"marking": "205/55R16 91V"}})
        text = service.client.get("/metrics").text
    samples = [sample for family in text_string_to_metric_families(text) for sample in family.samples]
    return {sample.name for sample in samples}, {label for sample in samples for label in sample.labels}


@pytest.mark.parametrize("expression", EXPRESSIONS)
def test_what_is_asked_for_is_counted(expression: str, counted: tuple[set[str], set[str]]) -> None:
    samples, labels = counted
    named = set(re.findall(r"\b(?:mendgauge_|process_|up\b)[a-z_]*", re.sub(r'"[^"]*"', "", expression)))
    selected = set(re.findall(r"([a-z]+)(?:=~|!~|!=|=)\"", expression))
    grouped = {label for found in re.findall(r"by \(([^)]+)\)", expression) for label in re.split(r",\s*", found)}
    assert named
    assert named <= samples | GIVEN_BY_PROMETHEUS
    assert selected | grouped <= labels | GIVEN_BY_PROMETHEUS


def test_figures_and_paths_in_alerts_are_the_services() -> None:
    most = (BODIES_TOGETHER - 1) * Settings().max_body_bytes
    assert RULES["MendgaugeBytesUnderWay"]["expr"] == f"mendgauge_bytes_under_way > {most}"
    paths = {path for path in json.loads(document())["paths"] if re.fullmatch("/v1/[a-z-]+", path)}
    left_out = {path for path in paths if re.fullmatch("/v1/(drawings|gauges|job-cards)", path)}
    assert "/v1/(drawings|gauges|job-cards)" in RULES["MendgaugeSlow"]["expr"]
    assert len(left_out) == 3 < len(paths)


def test_every_alert_is_tested_where_it_fires_and_where_it_does_not() -> None:
    tried = [one for test in yaml.safe_load(ALERTS_TEST.read_text())["tests"] for one in test["alert_rule_test"]]
    assert {one["alertname"] for one in tried if one.get("exp_alerts")} == RULES.keys()
    assert {one["alertname"] for one in tried if not one.get("exp_alerts")} == RULES.keys()


def promtool(*arguments: str | Path, codes: tuple[int, ...] = (0,)) -> str:
    program = shutil.which("promtool") or ROOT / ".promtool/usr/bin/promtool"
    return run(program, *arguments, cwd=ROOT, codes=codes)


@pytest.mark.prometheus
def test_prometheus_takes_the_alerts_and_they_fire_when_they_should() -> None:
    promtool("check", "rules", "--lint-fatal", ALERTS)
    promtool("test", "rules", ALERTS_TEST)


@pytest.mark.prometheus
def test_prometheus_would_notice_an_alert_that_never_fires(tmp_path: Path) -> None:
    wrong = ALERTS.read_text().replace("mendgauge_ready == 0", "mendgauge_ready == 2")
    (tmp_path / "alerts.yaml").write_text(wrong)
    tests = yaml.safe_load(ALERTS_TEST.read_text()) | {"rule_files": ["alerts.yaml"]}
    (tmp_path / "test.yaml").write_text(yaml.safe_dump(tests))
    promtool("test", "rules", tmp_path / "test.yaml", codes=(1,))


@pytest.mark.prometheus
def test_prometheus_takes_every_expression_of_the_dashboard(tmp_path: Path) -> None:
    # Grafana puts in its variables before it asks.
    shown = [
        expr.replace("$__rate_interval", "5m").replace("$job", "mendgauge")
        for exprs in PANELS.values()
        for expr in exprs
    ]
    rules = [{"record": f"panel:{number}", "expr": expr} for number, expr in enumerate(shown)]
    file = tmp_path / "panels.yaml"
    file.write_text(yaml.safe_dump({"groups": [{"name": "panels", "rules": rules}]}))
    promtool("check", "rules", file)


@pytest.mark.prometheus
@pytest.mark.parametrize(
    ("right", "wrong", "codes"),
    [("", "", (0,)), ('"unit":', '"units":', (2,)), ('"panels":', '"pannels":', (2,)), ('"h": 8', '"h": "8"', (2,))],
)
def test_the_dashboard_is_one_by_grafanas_types(right: str, wrong: str, codes: tuple[int, ...], tmp_path: Path) -> None:
    here = Path(__file__).parent
    compiler = installed(here) / "tsc"
    dashboard = DASHBOARD.read_text().replace(right, wrong)
    (tmp_path / "dashboard.ts").write_text(
        f'import type {{ Dashboard }} from "@grafana/schema";\nexport const dashboard: Dashboard = {dashboard};\n'
    )
    types = here / "node_modules/@grafana/schema/dist/types/index.d.ts"
    options = {
        "strict": True,
        "noEmit": True,
        "skipLibCheck": True,
        "types": [],
        "paths": {"@grafana/schema": [str(types)]},
    }
    (tmp_path / "tsconfig.json").write_text(json.dumps({"compilerOptions": options, "files": ["dashboard.ts"]}))
    run(compiler, "--project", tmp_path, cwd=tmp_path, codes=codes)
