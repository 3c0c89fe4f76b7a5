"""The golden examples: requests with their whole answers, as the contract tests hold the service to them."""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path
from typing import Any, Final

import msgspec

_PLACES: Final = (Path(__file__).parent / "examples", Path(__file__).parents[4] / "openapi" / "examples")
"""Where they are packed in a wheel, and where they stand in a checkout."""


class Golden(msgspec.Struct, frozen=True, kw_only=True):
    """One request and its answer: of a POST the body, of a GET its parameters by name."""

    operation: str
    summary: str
    request: dict[str, Any]
    status: int
    response: Any


@cache
def golden_examples() -> tuple[Golden, ...]:
    """Return every example: of each operation first those that are answered, the shortest request first."""
    folder = next(place for place in _PLACES if place.is_dir())
    found = [msgspec.json.decode(file.read_bytes(), type=Golden) for file in folder.rglob("*.json")]
    return tuple(sorted(found, key=lambda one: (one.status, len(json.dumps(one.request)), one.summary)))
