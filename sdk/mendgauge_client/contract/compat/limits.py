"""The validation rules of a schema: which are new or tighter than before."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, NamedTuple, TypeAlias

Schema: TypeAlias = dict[str, Any]

UPPER = ("maxLength", "maxItems", "maxProperties")
LOWER = ("minLength", "minItems", "minProperties")
EXACT = ("pattern", "format", "multipleOf", "uniqueItems")
"""Rules of which no one can say whether another is looser."""


class LimitChange(NamedTuple):
    """A rule that differs.

    Attributes:
        rule: Its name.
        tighter: Whether something that passed may now be refused.
        says: What was and what is.
    """

    rule: str
    tighter: bool
    says: str


def limit_changes(before: Schema, after: Schema) -> Iterator[LimitChange]:
    """Yield every rule that differs between two schemas."""
    for words, (low, high), sign in (
        ("lowest value", ("minimum", "exclusiveMinimum"), -1),
        ("highest value", ("maximum", "exclusiveMaximum"), 1),
    ):
        bound, bound_now = _bound(before, low, high, sign), _bound(after, low, high, sign)
        if bound != bound_now:
            says = f"{_bounds_shown(before, low, high)} before, {_bounds_shown(after, low, high)} now"
            yield LimitChange(words, bound_now < bound, f"{words} {says}")
    for rule in (*UPPER, *LOWER, *EXACT):
        was, now = before.get(rule), after.get(rule)
        if was != now:
            yield LimitChange(rule, _tighter(rule, was, now), f"{rule} {_shown(was)} before, {_shown(now)} now")


def _bound(schema: Schema, inclusive: str, exclusive: str, sign: int) -> tuple[float, bool]:
    """Return a bound, of which a smaller one is tighter: the value, negated if the lowest, and whether it counts."""
    bounds = [(sign * float(schema[name]), name == inclusive) for name in (inclusive, exclusive) if name in schema]
    return min(bounds, default=(float("inf"), True))


def _bounds_shown(schema: Schema, inclusive: str, exclusive: str) -> str:
    bounds = [f"{schema[inclusive]:g}"] if inclusive in schema else []
    bounds += [f"{schema[exclusive]:g} (not itself)"] if exclusive in schema else []
    return " and ".join(bounds) or "none"


def _tighter(rule: str, was: Any, now: Any) -> bool:
    if now is None or now is False:
        return False
    if was is None or rule in EXACT:
        return True
    return bool(now < was if rule in UPPER else now > was)


def _shown(value: Any) -> str:
    return "none" if value is None else str(value)
