"""The values of a case's fields, read from what people, spreadsheets and data frames write."""

from __future__ import annotations

import math
import re
from datetime import date, datetime
from decimal import Decimal
from typing import Any

from msgspec import inspect

from mendgauge_client.tabular.faults import UnusableValueError
from mendgauge_client.tabular.fields import MOST_ITEMS, Kind, is_section, kind_of, meant
from mendgauge_client.tabular.quantities import read_quantity, unit_of

YES = frozenset({"yes", "y", "true", "t", "1", "1.0"})
NO = frozenset({"no", "n", "false", "f", "0", "0.0"})
NONE = frozenset({"none", "no", "0", "0.0", "[]"})
NOT_KNOWN = frozenset(
    {
        "-", "--", "–", "—", "?", "??", "n/a", "na", "n.a.", "#n/a", "#na", "#nv", "<na>", "nan", "-nan", "nat", "null",
        "n.k.", "n/k", "nk", "unknown", "unkn", "not known", "not measured", "not checked", "not available",
        "tbc", "tbd",
    }
)  # fmt: skip
"""What people, spreadsheets (`#N/A`, in German `#NV`) and pandas write where they do not know."""
FREE_TEXT = frozenset({"reference", "object"})
"""Fields of which a text such as `NA` may be the name itself."""
DATE_CODES = range(1000, 10000)
"""Whole numbers that are date codes as they stand; a shorter one may have lost its first zero."""


def read(pointer: str, value: Any, *, decimal_comma: bool = False, unit: str = "") -> Any:
    """Return a value as its field takes it; None where nothing is known.

    Text is read as people write it: a number with or without its unit, a range, yes or no, a word in any case.

    Args:
        pointer: The field, such as `/injuries/0/diameter_mm`.
        value: What is written.
        decimal_comma: Whether a comma parts the decimals of a number.
        unit: The unit of a number that has none beside it; the field's own when empty.

    Raises:
        UnusableValueError: The field does not take it.
    """
    kind = kind_of(pointer)
    if value is None or (isinstance(value, float) and math.isnan(value)):
        return None  # where a table has no other way to leave a number out, it says that it is not one
    if isinstance(value, str):
        text = value.strip()
        free = pointer.rpartition("/")[2] in FREE_TEXT
        if not text or (text.casefold() in NOT_KNOWN and not free):
            return None
        return _from_text(pointer, text, kind, decimal_comma, unit)
    if isinstance(value, Decimal):
        value = float(value)
    if isinstance(value, datetime):
        return value.date()
    if isinstance(value, (int, float)):
        return _from_number(pointer, value, kind, unit)
    return value


def _from_text(pointer: str, text: str, kind: Kind, decimal_comma: bool, unit: str) -> Any:
    if is_number(kind):
        return _number(pointer, text, kind, decimal_comma, unit)
    match kind:
        case inspect.StrType():
            return _text(pointer, text)
        case inspect.BoolType():
            return _yes_or_no(text)
        case inspect.LiteralType():
            return _word(text, kind)
        case inspect.DateType():
            return _day(text)
        case inspect.ListType():
            return _list(text, kind)
    raise UnusableValueError(f"{pointer} holds more than one value: give it as JSON lines")


def _from_number(pointer: str, value: float, kind: Kind, unit: str) -> Any:
    """Read what a data frame has as a number: it makes floats of whole numbers wherever one is missing."""
    whole = float(value).is_integer()
    if is_number(kind):
        if isinstance(value, bool):
            raise UnusableValueError(f"{value} is no number: {_number_wanted(pointer, kind)}")
        if unit and math.isfinite(value):
            return _number(pointer, repr(value), kind, False, unit)
        return int(value) if whole and _counts(kind) else value
    match kind:
        case inspect.StrType() if not isinstance(value, bool):
            return _text_of_number(pointer, int(value) if whole else value)
        case inspect.BoolType() if value in (0, 1):
            return bool(value)
        case inspect.ListType() if not isinstance(value, bool):
            return _list(str(int(value) if whole else value), kind)
    return value


def is_number(kind: Kind) -> bool:
    """Return whether a field takes a number."""
    kinds = kind.types if isinstance(kind, inspect.UnionType) else (kind,)
    return any(isinstance(one, (inspect.FloatType, inspect.IntType)) for one in kinds)


def _counts(kind: Kind) -> bool:
    """Return whether a field takes a whole number."""
    kinds = kind.types if isinstance(kind, inspect.UnionType) else (kind,)
    return any(isinstance(one, inspect.IntType) for one in kinds)


def _number(pointer: str, text: str, kind: Kind, decimal_comma: bool, unit: str) -> Any:
    numbers = read_quantity(pointer, text, decimal_comma=decimal_comma, unit=unit)
    if numbers is None or (len(numbers) > 1 and not isinstance(kind, inspect.UnionType)):
        comma = "," in text and read_quantity(pointer, text, decimal_comma=True) is not None
        hint = " (with a point, not a comma)" if comma and not decimal_comma else ""
        raise UnusableValueError(f"{text!r} is no number: {_number_wanted(pointer, kind)}{hint}")
    if len(numbers) == 1:
        return int(numbers[0]) if _counts(kind) and numbers[0].is_integer() else numbers[0]
    low, high = numbers
    if low > high:
        raise UnusableValueError(f"{text!r} is a range from more to less: write it as {high:g}..{low:g}")
    return {"low": low, "high": high}


def _number_wanted(pointer: str, kind: Kind) -> str:
    _, name = unit_of(pointer)
    range_too = ", or a range such as 3.5..4.5" if isinstance(kind, inspect.UnionType) else ""
    return f"write {name or 'a number'} such as 4.5{range_too}"


def _text(pointer: str, text: str) -> str:
    if pointer.endswith("/date_code") and re.fullmatch(r"\d+\.0", text):
        return _text_of_number(pointer, int(text.removesuffix(".0")))
    return text


def _text_of_number(pointer: str, value: float) -> str:
    fits = DATE_CODES if pointer.endswith("/date_code") else None
    if isinstance(value, int) and (pointer == "/reference" or (fits is not None and value in fits)):
        return str(value)
    raise UnusableValueError(
        f"{value!r} is a number where text is wanted: a zero in front would be lost; write it as text"
    )


def _yes_or_no(text: str) -> bool:
    word = text.casefold()
    if word not in YES | NO:
        raise UnusableValueError(f"{text!r} is neither yes nor no: write yes or no, or nothing where it is not known")
    return word in YES


def _word(text: str, kind: inspect.LiteralType) -> str:
    word = re.sub(r"[\s-]+", "_", text.casefold())
    words = [str(value) for value in kind.values]
    if word not in words:
        raise UnusableValueError(f"{text!r} is none of {', '.join(words)}{meant(word, words)}")
    return word


def _day(text: str) -> date:
    try:
        return datetime.fromisoformat(text).date()  # a data frame writes a day as a time: 2026-11-24 00:00:00
    except ValueError:
        raise UnusableValueError(f"{text!r} is no day: write year, month and day, such as 2026-11-24") from None


def _list(text: str, kind: inspect.ListType) -> list[Any]:
    if text.casefold() in NONE:
        return []
    if isinstance(kind.item_type, inspect.LiteralType):
        return [_word(part.strip(), kind.item_type) for part in re.split("[;,]", text) if part.strip()]
    if isinstance(kind.item_type, inspect.StructType):
        count = text.removesuffix(".0")
        if count.isdigit() and count.isascii() and int(count) <= MOST_ITEMS:
            return [{} for _ in range(int(count))]
        raise UnusableValueError(f"{text!r} is no count: write none, or how many there are")
    raise UnusableValueError("it holds more than one value: give it as JSON lines")


def takes(pointer: str) -> str:
    """Return what a field takes, in words for a person."""
    kind = kind_of(pointer)
    if is_number(kind):
        return _number_wanted(pointer, kind)
    match kind:
        case inspect.BoolType():
            return "yes or no"
        case inspect.LiteralType():
            return ", ".join(map(str, kind.values))
        case inspect.DateType():
            return "a day such as 2026-11-24"
        case inspect.ListType() if is_section(kind):
            return "none, or how many"
    return "text"
