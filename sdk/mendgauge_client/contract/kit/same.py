"""Whether two JSON values are the same, and where they are not."""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any

SHOWN_CHARS = 80


def differences(expected: Any, got: Any, pointer: str = "", *, may_grow: bool = False) -> Iterator[str]:
    """Yield every difference of a JSON value from the expected one, by JSON Pointer.

    Numbers are compared by value: 5 and 5.0 are the same number in JSON.

    Args:
        expected: What it should be.
        got: What it is.
        pointer: Where the two stand.
        may_grow: Whether objects may have more members than expected.
    """
    if isinstance(expected, dict) and isinstance(got, dict):
        yield from _members(expected, got, pointer, may_grow)
    elif isinstance(expected, list) and isinstance(got, list):
        if len(expected) != len(got):
            yield f"{pointer or '/'}: expected {len(expected)} items, got {len(got)}"
        for index, (wanted, item) in enumerate(zip(expected, got, strict=False)):
            yield from differences(wanted, item, f"{pointer}/{index}", may_grow=may_grow)
    elif _kind(expected) != _kind(got) or expected != got:
        yield f"{pointer or '/'}: expected {shown(expected)}, got {shown(got)}"


def shown(value: Any) -> str:
    """Format a value for a fault, kept short."""
    text = json.dumps(value, ensure_ascii=False)
    return text if len(text) <= SHOWN_CHARS else f"{text[:SHOWN_CHARS]}…"


def _members(expected: dict[str, Any], got: dict[str, Any], pointer: str, may_grow: bool) -> Iterator[str]:
    for name, value in expected.items():
        place = f"{pointer}/{name.replace('~', '~0').replace('/', '~1')}"
        if name not in got:
            yield f"{place}: expected {shown(value)}, and it is missing"
        else:
            yield from differences(value, got[name], place, may_grow=may_grow)
    if not may_grow:
        for name in got.keys() - expected.keys():
            yield f"{pointer}/{name}: not expected, got {shown(got[name])}"


def _kind(value: Any) -> str:
    return "number" if type(value) in (int, float) else type(value).__name__
