"""Clears every cache of the service before a test: a mutated function is called, not its remembered answer."""

from __future__ import annotations

import functools
import gc

import pytest


@pytest.fixture(autouse=True)
def fresh_caches() -> None:
    """Forget what was bound and reckoned by earlier tests."""
    for thing in gc.get_objects():
        if isinstance(thing, functools._lru_cache_wrapper) and (thing.__module__ or "").startswith("mendgauge"):
            thing.cache_clear()
