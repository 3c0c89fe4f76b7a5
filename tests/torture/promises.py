"""Requests made from the OpenAPI document against the live service, every operation, with a fixed seed."""

from __future__ import annotations

import json
import sys
from collections.abc import Iterator
from typing import Any

import schemathesis
from hypothesis import HealthCheck, Phase, given, seed, settings
from hypothesis import strategies as st
from schemathesis import GenerationMode
from schemathesis.core.failures import FailureGroup
from tests.contract.test_schemathesis import CONFIG, without_default
from tests.torture.table import Row
from tests.torture.wire import LATENCY_SECONDS_MAX

from mendgauge.server import document

_SEED = 20261126
_EXAMPLES = 60
_DRAWN = frozenset({"draw_tyre", "print_gauge", "print_job_card"})

_SCHEMA = schemathesis.openapi.from_dict(without_default(json.loads(document())), config=CONFIG)


def promised(port: int) -> Iterator[Row]:
    """Yield a row for the operations with JSON and for those with pictures and pages."""
    rows: dict[str, list[float | None]] = {"JSON": [], "SVG, PDF and PNG": []}
    for found in _SCHEMA.get_all_operations():
        operation: Any = found.ok()  # type: ignore[union-attr]
        drawn = operation.definition.raw["operationId"] in _DRAWN
        rows["SVG, PDF and PNG" if drawn else "JSON"] += _asked(operation, f"http://127.0.0.1:{port}")
    for kind, took in rows.items():
        yield Row(f"requests from the document, {kind}", took, LATENCY_SECONDS_MAX, "s")


def _asked(operation: Any, address: str) -> list[float | None]:
    """Return how long each answer of an operation took; none where it breaks a promise of the document."""
    took: list[float | None] = []

    @seed(_SEED)
    @settings(
        max_examples=_EXAMPLES,
        database=None,
        deadline=None,
        phases=[Phase.generate],
        suppress_health_check=list(HealthCheck),
    )
    @given(case=st.one_of(*(operation.as_strategy(generation_mode=mode) for mode in GenerationMode)))
    def ask(case: schemathesis.Case[Any]) -> None:
        answer = case.call(base_url=address)
        try:
            case.validate_response(answer)
        except FailureGroup as broken:
            took.append(None)
            print(*broken.exceptions, sep="\n", file=sys.stderr)
        else:
            took.append(answer.elapsed)

    ask()
    return took
