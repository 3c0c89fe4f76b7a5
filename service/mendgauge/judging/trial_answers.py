"""A case with one more fact: what could be answered to a question, and the case with the answer in its place."""

from __future__ import annotations

from typing import Any, Final

import msgspec

from mendgauge.case.case import Case
from mendgauge.case.contract import Pointer
from mendgauge.case.fields import BLANKS, field_at
from mendgauge.core.interval import Interval
from mendgauge.facts.position import PositionFacts
from mendgauge.facts.tyre import TyreFacts

_STEPS: Final = 2


def answers(field: Pointer, facts: TyreFacts) -> tuple[Any, ...]:
    """Return a few answers that the question for a field can have, the extremes among them.

    None for a field whose answers are too many to try, such as a marking.
    """
    span = span_of(field, facts)
    if span is None:
        return choices_of(field)
    return tuple(span.low + (span.high - span.low) * step / _STEPS for step in range(_STEPS + 1))


def choices_of(field: Pointer) -> tuple[Any, ...]:
    """Return every answer of a field that is a choice; none for a measurement or a free text."""
    return field_at(field).choices


def span_of(field: Pointer, facts: TyreFacts) -> Interval | None:
    """Return all values that a measured field can still have; none for a field that is not measured."""
    entry = field_at(field)
    if entry.measurement is None or not entry.entry.facts:
        return None
    span: Interval = getattr(_owner(field.strip("/").split("/"), facts), entry.entry.facts[0])
    return span


def _owner(parts: list[str], facts: TyreFacts) -> Any:
    if parts[0] == "injuries":
        return facts.injuries[int(parts[1])]
    if "axle_mates" in parts and isinstance(facts, PositionFacts):
        return facts.mates[int(parts[2])]
    return facts.earlier[int(parts[1])] if parts[0] == "earlier_repairs" else facts


def put(case: Case, field: Pointer, value: Any) -> Case:
    """Return the case with a value at a field; what stands between is made where missing."""
    placed: Case = _put(case, field.strip("/").split("/"), value)
    return placed


def _put(within: Any, parts: list[str], value: Any) -> Any:
    name, rest = parts[0], parts[1:]
    if isinstance(within, tuple):
        index = int(name)
        return (*within[:index], _put(within[index], rest, value) if rest else value, *within[index + 1 :])
    if not rest:
        return msgspec.structs.replace(within, **{name: value})
    inner = getattr(within, name)
    inner = BLANKS[type(within), name] if inner is None else inner
    return msgspec.structs.replace(within, **{name: _put(inner, rest, value)})
