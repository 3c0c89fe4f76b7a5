"""The files that deploy the service: whole by the published schemas, locked down, and of one mind with the program."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

import jsonschema  # type: ignore[import-untyped]
import kubernetes_validate
import pytest
import yaml
from tests.torture.batches import PEAK_MB_MAX

from mendgauge.api.edge import SETTLE_SECONDS
from mendgauge.cli import LONGEST_REQUEST_SECONDS
from mendgauge.settings import Settings, read_settings

ROOT = Path(__file__).parents[2]
FILES = sorted((ROOT / "docker/kubernetes").glob("*.yaml"))
BY_BYTES: dict[str, Any] = yaml.safe_load((ROOT / "docker/prometheus/autoscaler.yaml").read_text())
RESOURCES: dict[str, Any] = {(found := yaml.safe_load(file.read_text()))["kind"]: found for file in FILES}
POD: dict[str, Any] = RESOURCES["Deployment"]["spec"]["template"]["spec"]
(CONTAINER,) = POD["containers"]
COMPOSE: dict[str, Any] = yaml.safe_load((ROOT / "compose.yaml").read_text())
STOP_SECONDS = Settings().drain_seconds + LONGEST_REQUEST_SECONDS + 2 * SETTLE_SECONDS + 1
"""Calls are answered, then let finish, then the last answers and the last log lines go out; and a second of slack."""

COMPOSE_SCHEMA = Path(__file__).parent / "published/compose-spec.json"
"""The Compose Specification's schema, github.com/compose-spec/compose-spec at 170098b, Apache-2.0."""


@pytest.mark.parametrize("version", ["1.30", "1.37"])
@pytest.mark.parametrize("kind", RESOURCES)
def test_each_resource_is_whole_by_kubernetes_own_schema(kind: str, version: str) -> None:
    kubernetes_validate.validate(RESOURCES[kind], version, strict=True)


@pytest.mark.parametrize("version", ["1.30", "1.37"])
def test_the_autoscaler_by_bytes_is_the_other_and_one_metric_more(version: str) -> None:
    kubernetes_validate.validate(BY_BYTES, version, strict=True)
    by_cpu = RESOURCES["HorizontalPodAutoscaler"]
    *metrics, more = BY_BYTES["spec"]["metrics"]
    assert BY_BYTES | {"spec": BY_BYTES["spec"] | {"metrics": metrics}} == by_cpu
    assert more["pods"]["metric"]["name"] == "mendgauge_bytes_under_way"
    assert more["pods"]["target"]["averageValue"] == f"{Settings().max_body_bytes // 1024**2}Mi"


def test_the_schema_finds_a_misspelt_field() -> None:
    with pytest.raises(kubernetes_validate.ValidationError):
        kubernetes_validate.validate({**RESOURCES["Service"], "specs": {}}, "1.37", strict=True)


def test_the_compose_file_is_whole_by_the_published_schema() -> None:
    schema = json.loads(COMPOSE_SCHEMA.read_text())
    jsonschema.validate(COMPOSE, schema)
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate({**COMPOSE, "sevices": {}}, schema)


def test_every_resource_means_the_same_pods() -> None:
    labels = RESOURCES["Deployment"]["spec"]["template"]["metadata"]["labels"]
    assert RESOURCES["Deployment"]["spec"]["selector"]["matchLabels"] == labels
    assert RESOURCES["Service"]["spec"]["selector"] == labels
    assert RESOURCES["PodDisruptionBudget"]["spec"]["selector"]["matchLabels"] == labels
    assert RESOURCES["NetworkPolicy"]["spec"]["podSelector"]["matchLabels"] == labels
    assert RESOURCES["HorizontalPodAutoscaler"]["spec"]["scaleTargetRef"]["name"] == "mendgauge"


def test_a_pod_can_do_nothing_but_serve() -> None:
    assert POD["securityContext"]["runAsNonRoot"]
    assert POD["securityContext"]["seccompProfile"] == {"type": "RuntimeDefault"}
    assert POD["automountServiceAccountToken"] is False
    assert CONTAINER["securityContext"] == {
        "allowPrivilegeEscalation": False,
        "readOnlyRootFilesystem": True,
        "capabilities": {"drop": ["ALL"]},
    }
    assert RESOURCES["NetworkPolicy"]["spec"]["egress"] == []
    assert f"USER {POD['securityContext']['runAsUser']}:" in (ROOT / "docker/Dockerfile").read_text()


def test_the_variables_set_are_settings_and_no_other_service_sets_them() -> None:
    variables = {one["name"]: one["value"] for one in CONTAINER["env"]}
    settings = read_settings({**variables, "MENDGAUGE_HOST": "0.0.0.0"})
    assert settings.keys_file == "/run/mendgauge/keys"
    assert POD["enableServiceLinks"] is False
    given = dict(line.split("=") for line in COMPOSE["services"]["api"]["environment"] if "=" in line)
    assert read_settings(given).forwarded_by


def test_a_stop_is_given_the_time_it_takes() -> None:
    pause = CONTAINER["lifecycle"]["preStop"]["sleep"]["seconds"]
    assert POD["terminationGracePeriodSeconds"] >= pause + STOP_SECONDS
    assert float(COMPOSE["services"]["api"]["stop_grace_period"].rstrip("s")) >= STOP_SECONDS
    (given,) = re.findall(r"^STOP_SECONDS=([0-9]+)$", (ROOT / "docker/try.sh").read_text(), flags=re.MULTILINE)
    assert f"{given}s" == COMPOSE["services"]["api"]["stop_grace_period"]


def test_a_replica_may_hold_what_endurance_allows_it() -> None:
    limit = CONTAINER["resources"]["limits"]["memory"]
    assert limit == "256Mi"
    assert COMPOSE["services"]["api"]["mem_limit"] == "256m"
    assert PEAK_MB_MAX * 1e6 < 256 * 1024**2
    assert "cpu" not in CONTAINER["resources"]["limits"]


def test_health_is_asked_where_it_is_answered_on_the_port_of_the_image() -> None:
    (port,) = re.findall("^EXPOSE ([0-9]+)$", (ROOT / "docker/Dockerfile").read_text(), flags=re.MULTILINE)
    assert CONTAINER["ports"] == [{"name": "http", "containerPort": int(port)}]
    asked = [CONTAINER[f"{probe}Probe"]["httpGet"]["path"] for probe in ("startup", "readiness", "liveness")]
    assert asked == ["/health/ready", "/health/ready", "/health/live"]


@pytest.mark.parametrize("file", sorted((ROOT / "docker").rglob("Dockerfile")), ids=lambda file: file.parent.name)
def test_what_an_image_copies_is_sent_to_the_build(file: Path) -> None:
    """`.dockerignore` leaves everything out but what it names."""
    sent = {line[1:] for line in (ROOT / ".dockerignore").read_text().splitlines() if line.startswith("!")}
    copied = re.findall(r"^COPY (?!--from)(.+) \S+$", file.read_text(), flags=re.MULTILINE)
    assert copied
    assert {source for sources in copied for source in sources.split()} <= sent
