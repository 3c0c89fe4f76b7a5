"""What a full answer gives, and a brief one may leave out."""

from __future__ import annotations

from typing import TypeVar

T = TypeVar("T")


def given(value: T | None) -> T:
    """Return a value that a full answer has."""
    assert value is not None
    return value
