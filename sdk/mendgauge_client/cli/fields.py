"""The fields of a case by their pointers, and their values read from what people write."""

from __future__ import annotations

import difflib
import math
import re
from collections.abc import Iterable, Iterator
from datetime import date
from decimal import Decimal
from functools import cache
from itertools import pairwise
from typing import Any, TypeAlias

import msgspec
from msgspec import inspect

from mendgauge_client.cli.fault import UnusableValueError
from mendgauge_client.models import Case

Kind: TypeAlias = inspect.Type

YES = frozenset({"yes", "y", "true", "t", "1"})
NO = frozenset({"no", "n", "false", "f", "0"})
NONE = frozenset({"none", "no", "0", "[]"})
NUMBER = r"[+-]?[0-9]+(?:\.[0-9]+)?"
RANGE = re.compile(rf"({NUMBER})\s*(?:\.\.|–|-|to)\s*({NUMBER})")
UNITS = {
    "mm": ("mm", "millimetres"),
    "deg": ("°", "degrees"),
    "kg": ("kg", "kilograms"),
    "kmh": ("km/h", "kilometres an hour"),
    "km": ("km", "kilometres"),
    "percent": ("%", "per cent"),
    "c": ("°C", "degrees Celsius"),
    "minutes": ("min", "minutes"),
}
"""By the ending of a field's name: its sign, which may follow a number, and its name."""
SHORT = 5
"""A word shorter than this is like another already with two of three letters in place."""
MOST_ITEMS = 50
"""More injuries or repairs than this in one tyre are a slip of the pen."""


@cache
def kind_of(pointer: str) -> Kind:
    """The kind of value that a field of the case takes.

    Args:
        pointer: Its place, an RFC 6901 pointer such as `/injuries/0/diameter_mm`; empty is the case itself.

    Raises:
        LookupError: There is no such field; the text says what was probably meant.
    """
    if not pointer:
        return inspect.type_info(Case)
    parent, _, name = pointer.rpartition("/")
    above = kind_of(parent)
    if isinstance(above, inspect.ListType) and re.fullmatch("0|[1-9][0-9]?", name) and int(name) < MOST_ITEMS:
        return _present(above.item_type)
    if isinstance(above, inspect.StructType):
        kinds = {field.encode_name: field.type for field in above.fields}
        if name in kinds:
            return _present(kinds[name])
        raise LookupError(f"the case has no {pointer}{meant(name, kinds)}")
    raise LookupError(f"the case has no {pointer}: nothing of that name stands below {parent}")


def exists(pointer: str) -> bool:
    """Whether the case has such a field; a newer service may ask for one that this client cannot send."""
    try:
        kind_of(pointer)
    except LookupError:
        return False
    return True


def _present(kind: Kind) -> Kind:
    """The kind of a value that is there: without the None of one that is not known."""
    if not isinstance(kind, inspect.UnionType):
        return kind
    kinds = [one for one in kind.types if not isinstance(one, inspect.NoneType)]
    return kinds[0] if len(kinds) == 1 else inspect.UnionType(tuple(kinds))


def meant(name: str, known: Iterable[str]) -> str:
    """What was probably meant, to end a sentence with."""
    near = difflib.get_close_matches(name, list(known), n=1, cutoff=0.6 if len(name) < SHORT else 0.75)
    return f"; did you mean {near[0]}?" if near else ""


def is_section(kind: Kind) -> bool:
    """Whether a field has fields of its own, or numbered items that have."""
    items = isinstance(kind, inspect.ListType) and isinstance(kind.item_type, inspect.StructType)
    return items or isinstance(kind, inspect.StructType)


def yes_or_no_below(pointer: str) -> list[str]:
    """The names of the yes-or-no fields of a section, but for the one that says that it is complete."""
    kind = kind_of(pointer)
    assert isinstance(kind, inspect.StructType)
    fields = [field for field in kind.fields if isinstance(_present(field.type), inspect.BoolType)]
    return [field.encode_name for field in fields if field.encode_name != "complete"]


def leaves(pointer: str, value: Any) -> Iterator[tuple[str, Any]]:
    """The values inside a value by their pointers, down to fields that have none of their own.

    Raises:
        LookupError: A name in it is none of the case's.
    """
    kind = kind_of(pointer)
    if isinstance(value, dict) and isinstance(kind, inspect.StructType):
        for name, inner in value.items():
            yield from leaves(f"{pointer}/{name}", inner)
        if not value:
            yield pointer, value
    elif isinstance(value, list) and value and is_section(kind):
        for place, inner in enumerate(value):
            yield from leaves(f"{pointer}/{place}", inner)
    else:
        yield pointer, value


def put(case: dict[str, Any], pointer: str, value: Any) -> None:
    """Put a value at its place in a case, a tree of dicts and lists; what it stands in is made as needed."""
    way = pointer.split("/")[1:]
    node: Any = case
    for name, following in pairwise(way):
        node = _step(node, name, [] if following.isdigit() else {})
    if isinstance(node, list):
        _step(node, way[-1], value)
        node[int(way[-1])] = value
    else:
        node[way[-1]] = value


def _step(node: Any, name: str, made: Any) -> Any:
    if isinstance(node, dict):
        if node.get(name) is None:
            node[name] = made
        return node[name]
    while len(node) <= int(name):
        node.append({})
    return node[int(name)]


def read(pointer: str, value: Any) -> Any:
    """A value as its field takes it; None where nothing is known.

    Text is read as people write it: a number with or without its unit, a range, yes or no, a word in any case.

    Raises:
        UnusableValueError: The field does not take it.
    """
    kind = kind_of(pointer)
    if value is None or (isinstance(value, float) and math.isnan(value)):
        return None  # where a table has no other way to leave a number out, it says that it is not one
    if isinstance(value, str):
        return _from_text(pointer, value.strip(), kind) if value.strip() else None
    if isinstance(value, Decimal):
        value = float(value)
    if isinstance(kind, inspect.StrType) and isinstance(value, (int, float)):
        if pointer == "/reference" and isinstance(value, int):
            return str(value)
        raise UnusableValueError(
            f"{value!r} is a number where text is wanted: a zero in front would be lost; write it as text"
        )
    if _is_number(kind) and isinstance(value, bool):
        raise UnusableValueError(f"{value} is no number: {_number_wanted(pointer, kind)}")
    return value


def _from_text(pointer: str, text: str, kind: Kind) -> Any:
    if _is_number(kind):
        return _number(pointer, text, kind)
    match kind:
        case inspect.StrType():
            return text
        case inspect.BoolType():
            return _yes_or_no(text)
        case inspect.LiteralType():
            return _word(text, kind)
        case inspect.DateType():
            return _day(text)
        case inspect.ListType():
            return _list(text, kind)
    raise UnusableValueError(f"{pointer} holds more than one value: give it as JSON lines")


def _is_number(kind: Kind) -> bool:
    kinds = kind.types if isinstance(kind, inspect.UnionType) else (kind,)
    return any(isinstance(one, inspect.FloatType) for one in kinds)


def _number(pointer: str, text: str, kind: Kind) -> Any:
    sign, _ = unit_of(pointer)
    bare = text.removesuffix(sign).rstrip() if sign else text
    if re.fullmatch(NUMBER, bare):
        return float(bare)
    found = RANGE.fullmatch(bare)
    if found is None or not isinstance(kind, inspect.UnionType):
        comma = " (with a point, not a comma)" if re.fullmatch(NUMBER, bare.replace(",", ".", 1)) else ""
        raise UnusableValueError(f"{text!r} is no number: {_number_wanted(pointer, kind)}{comma}")
    low, high = float(found[1]), float(found[2])
    if low > high:
        raise UnusableValueError(f"{text!r} is a range from more to less: write it as {found[2]}..{found[1]}")
    return {"low": low, "high": high}


def unit_of(name: str) -> tuple[str, str]:
    """The sign and the name of the unit that a field's name ends in; both empty where it ends in none."""
    return UNITS.get(name.rpartition("_")[2], ("", ""))


def _number_wanted(pointer: str, kind: Kind) -> str:
    _, name = unit_of(pointer)
    range_too = ", or a range such as 3.5..4.5" if isinstance(kind, inspect.UnionType) else ""
    return f"write {name} such as 4.5{range_too}".replace("write  ", "write a number ")


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
        return date.fromisoformat(text)
    except ValueError:
        raise UnusableValueError(f"{text!r} is no day: write year, month and day, such as 2026-11-24") from None


def _list(text: str, kind: inspect.ListType) -> list[Any]:
    if text.casefold() in NONE:
        return []
    if isinstance(kind.item_type, inspect.LiteralType):
        return [_word(part.strip(), kind.item_type) for part in re.split("[;,]", text) if part.strip()]
    if isinstance(kind.item_type, inspect.StructType):
        if text.isdigit() and text.isascii() and int(text) <= MOST_ITEMS:
            return [{} for _ in range(int(text))]
        raise UnusableValueError(f"{text!r} is no count: write none, or how many there are")
    raise UnusableValueError("it holds more than one value: give it as JSON lines")


def case_of(tree: dict[str, Any]) -> Case:
    """The case of a tree.

    Raises:
        MisfitError: Something in it does not fit the case.
    """
    try:
        return msgspec.convert(tree, Case)
    except msgspec.ValidationError as error:
        text, _, path = str(error).partition(" - at `$")
        raise MisfitError(re.sub(r"\.|\[(\d+)\]", lambda found: f"/{found[1] or ''}", path.rstrip("`")), text) from None


class MisfitError(ValueError):
    """A tree that is no case: `pointer` says where, and the text what is wrong."""

    def __init__(self, pointer: str, text: str) -> None:
        super().__init__(text)
        self.pointer = pointer


def takes(pointer: str) -> str:
    """What a field takes, in words for a person."""
    kind = kind_of(pointer)
    if _is_number(kind):
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
