"""The cases that are measured: a full one from the bench and two facts from a driver."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

EXAMPLES = Path(__file__).parents[2] / "openapi" / "examples" / "check_repairability"


def example(name: str) -> dict[str, Any]:
    """The request of a golden example."""
    request: dict[str, Any] = json.loads((EXAMPLES / f"{name}.json").read_bytes())["request"]
    return request


FULL = example("car_inspected_and_good")
LEAN_MISSING = example("car_lean_not_measured")
TWO_FACTS = example("car_two_facts_from_the_driver")
