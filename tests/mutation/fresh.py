"""Clears what the service binds and reckons once, before each test: a mutated function is called, not remembered."""

from __future__ import annotations

import functools
import gc
from typing import Any

import pytest

# What is read from files is not mutated here, and reading it again for every test would take most of the time.
_READ_ONCE = ("mendgauge.rulebooks", "mendgauge.wording", "mendgauge.tyre")


@functools.cache
def _caches() -> tuple[Any, ...]:
    """Every cache of the service but those of files, found once."""
    return tuple(
        thing
        for thing in gc.get_objects()
        if isinstance(thing, functools._lru_cache_wrapper)
        and (thing.__module__ or "").startswith("mendgauge.")
        and not thing.__module__.startswith(_READ_ONCE)
    )


@pytest.fixture(autouse=True)
def fresh_caches() -> None:
    """Forget what earlier tests bound and reckoned."""
    for cache in _caches():
        cache.cache_clear()
