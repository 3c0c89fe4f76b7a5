"""How many examples a property is given: the profile's number, or a share of it where each example is many cases."""

from __future__ import annotations

from hypothesis import settings


def share(of_profile: float) -> settings:
    """Settings with a share of the examples that the profile in force asks for."""
    return settings(max_examples=max(1, round(settings().max_examples * of_profile)))
