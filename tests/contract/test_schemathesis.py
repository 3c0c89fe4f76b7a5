"""Requests made from the OpenAPI document, right ones and wrong ones, and every answer held against the document."""

from __future__ import annotations

import json
from collections.abc import Iterator
from functools import cache
from typing import Any

import pytest
import schemathesis
from hypothesis import HealthCheck, settings
from schemathesis.config import SchemathesisConfig

from mendgauge.printing import press
from mendgauge.server import create_app, document

EXAMPLES = 40
"""Requests an operation, besides those that go through the schema's edges one by one."""

CONFIG = SchemathesisConfig.from_dict(
    {
        "checks": {
            "positive_data_acceptance": {
                # A case can keep to every schema and still contradict itself, or name a marking that no tyre carries:
                # that is a 422 too, and no schema can say it beforehand.
                "expected-statuses": ["2xx", "3xx", "401", "404", "422"]
            }
        },
        "operations": [
            {
                # An item that breaks the contract is reported in its own place; the batch is answered all the same.
                "include-operation-id-regex": "_in_batch$",
                "checks": {"negative_data_rejection": {"enabled": False}},
                # The edges of a batch are full batches, a thousand plans each: tests of their own send those.
                "phases": {"coverage": {"enabled": False}},
            },
            {
                # They take the same case as `check_repairability`, whose edges are gone through one by one there.
                "include-operation-id-regex": "^(choose_repair_units|trim_stems|find_service_limits|plan_[a-z]+)$",
                "phases": {"coverage": {"enabled": False}},
            },
            {
                # The same case again, of which each makes something of its own: a wrong one is refused before that.
                "include-operation-id-regex": "^(quote_repair|draw_tyre|print_job_card)$",
                "phases": {"coverage": {"generation": {"mode": "positive"}}},
            },
        ],
        "generation": {"deterministic": True, "database": "none"},
    }
)


def without_default(document: dict[str, Any]) -> dict[str, Any]:
    """The document without what covers every status, so that one that an operation does not name is noticed."""
    for item in document["paths"].values():
        for operation in item.values():
            del operation["responses"]["default"]
    return document


SCHEMA = schemathesis.openapi.from_dict(without_default(json.loads(document())), config=CONFIG)
SCHEMA.app = create_app()


@pytest.fixture(autouse=True, scope="module")
def printed_once() -> Iterator[None]:
    """Typeset no page twice: three in four edges of a case change nothing on its card, and the same data give the same
    bytes (`tests/unit/test_job_cards.py`).
    """
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(press._press, "answer", cache(press._press.answer))
        yield


@SCHEMA.parametrize()
@settings(
    max_examples=EXAMPLES, derandomize=True, database=None, deadline=None, suppress_health_check=list(HealthCheck)
)
def test_what_is_answered_is_what_is_promised(case: schemathesis.Case[Any]) -> None:
    case.call_and_validate()
