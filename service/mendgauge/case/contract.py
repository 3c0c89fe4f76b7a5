"""What the contract says of each field of the case, read from the types of the contract itself."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from math import inf
from typing import Any, Literal, TypeAlias

import msgspec
from msgspec import inspect

from mendgauge.core.vocabulary import Range

Pointer: TypeAlias = str
"""Where a field of a case stands: an RFC 6901 pointer, such as `/injuries/0/lean_deg`."""

Pattern: TypeAlias = str
"""A pointer with `*` for any place in a list, such as `/injuries/*/lean_deg`; also the key of the field's question."""

AskedAt: TypeAlias = Literal["record", "phone", "vehicle", "bench"]
"""The first place where a field can be answered: from the papers, by a driver on the phone, by someone who stands at
the tyre on its rim, or with the tyre off the rim."""

Instrument: TypeAlias = Literal["ruler_mm", "calliper_mm", "depth_gauge_mm", "probe_deg"]
"""A field of `measuring`."""


class Entry(msgspec.Struct, frozen=True):
    """What the service knows of a field beside its type.

    `facts` name the attributes of the subject's facts that stay open while the field is missing, that of the
    measurement itself first. A field without facts leaves no rule open. A field `alone` is not answered by what its
    section says with `complete`. One that `waits` is seen or looked up once the tyre is in the workshop: it may decide,
    and too seldom to hold up the booking.
    """

    asked_at: AskedAt
    facts: tuple[str, ...] = ()
    instrument: Instrument | None = None
    alone: bool = False
    waits: bool = False


class Measurement(msgspec.Struct, frozen=True):
    """A field that is measured: the bounds of a bare number, to which the ends of a range are held too."""

    field: str
    low: float
    high: float
    instrument: Instrument | None


class CaseField(msgspec.Struct, frozen=True):
    """A field of the case: its entry, and what the contract says of it.

    `choices` are all the answers of a choice, none for a number or a free text; `numeric` is false for the text.
    """

    pattern: Pattern
    section: type[msgspec.Struct]
    entry: Entry
    measurement: Measurement | None
    choices: tuple[Any, ...]
    numeric: bool


def describe(
    case: type[msgspec.Struct], entries: Mapping[Pattern, Entry], settings: Collection[Pattern]
) -> dict[Pattern, CaseField]:
    """Return every field of a case but its settings, in the order of the contract.

    Raise `TypeError` with its name for a field without an entry, and for an entry or a setting without a field.
    """
    fields: dict[Pattern, CaseField] = {}
    seen: set[Pattern] = set()
    for pattern, section, field in _walk(case, settings):
        seen.add(pattern)
        options = _options(field.type)
        if pattern in settings or _section(options) is not None:
            continue
        if pattern not in entries:
            message = f"The field {pattern} of the case has no entry: say in `mendgauge.case.fields` what it gives."
            raise TypeError(message)
        entry = entries[pattern]
        fields[pattern] = CaseField(
            pattern,
            section,
            entry,
            _measurement(field.name, options, entry),
            _choices(options),
            numeric=any(isinstance(option, inspect.FloatType) for option in options),
        )
    if stale := {*entries, *settings} - seen:
        message = f"The contract has no field for these entries: {', '.join(sorted(stale))}."
        raise TypeError(message)
    return fields


def blanks(
    case: type[msgspec.Struct], settings: Collection[Pattern]
) -> dict[tuple[type[msgspec.Struct], str], msgspec.Struct | tuple[msgspec.Struct, ...]]:
    """Return what stands for a section, or for a list of them, of which nothing is known yet, by section and field."""
    found: dict[tuple[type[msgspec.Struct], str], msgspec.Struct | tuple[msgspec.Struct, ...]] = {}
    for pattern, section, field in _walk(case, settings):
        options = _options(field.type)
        inner, items = _section(options), _items(options)
        if pattern in settings:
            continue
        if inner is not None and not field.required:
            found[section, field.name] = inner()
        if items is not None:
            found[section, field.name] = (items(),)
    return found


def _walk(
    section: type[msgspec.Struct], settings: Collection[Pattern], below: Pattern = ""
) -> Iterator[tuple[Pattern, type[msgspec.Struct], inspect.Field]]:
    """Yield every field of a section, and of the sections in it that are no settings."""
    described = inspect.type_info(section)
    for field in described.fields if isinstance(described, inspect.StructType) else ():
        pattern, options = f"{below}/{field.name}", _options(field.type)
        yield pattern, section, field
        if pattern in settings:
            continue
        inner, items = _section(options), _items(options)
        if inner is not None:
            yield from _walk(inner, settings, pattern)
        if items is not None:
            yield from _walk(items, settings, f"{pattern}/*")


def _options(of: inspect.Type) -> tuple[inspect.Type, ...]:
    """Return the types a value may have, without their metadata."""
    if isinstance(of, inspect.Metadata):
        return _options(of.type)
    if isinstance(of, inspect.UnionType):
        return tuple(option for each in of.types for option in _options(each))
    return (of,)


def _section(options: tuple[inspect.Type, ...]) -> type[msgspec.Struct] | None:
    """Return the section that stands at a field; a range is a value and no section."""
    for option in options:
        if isinstance(option, inspect.StructType) and option.cls is not Range:
            return option.cls
    return None


def _items(options: tuple[inspect.Type, ...]) -> type[msgspec.Struct] | None:
    """Return what a list of sections is a list of."""
    for option in options:
        if isinstance(option, inspect.VarTupleType) and isinstance(option.item_type, inspect.StructType):
            return option.item_type.cls
    return None


def _measurement(name: str, options: tuple[inspect.Type, ...], entry: Entry) -> Measurement | None:
    """Return the bounds of a number that may be sent as a range."""
    if not any(isinstance(option, inspect.StructType) and option.cls is Range for option in options):
        return None
    number = next(option for option in options if isinstance(option, inspect.FloatType))
    low = number.ge if number.ge is not None else number.gt
    high = number.le
    return Measurement(name, -inf if low is None else low, inf if high is None else high, entry.instrument)


def _choices(options: tuple[inspect.Type, ...]) -> tuple[Any, ...]:
    for option in options:
        if isinstance(option, inspect.LiteralType):
            return option.values
        if isinstance(option, inspect.BoolType):
            return (True, False)
    items = _items(options)
    return () if items is None else ((), (items(),))
