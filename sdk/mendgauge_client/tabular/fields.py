"""The fields of a case by their pointers: what kind of value each takes, and a case put together from them."""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterable, Iterator
from functools import cache
from itertools import pairwise
from typing import Any, TypeAlias

import msgspec
from msgspec import inspect

from mendgauge_client._decoders import decoder_of
from mendgauge_client.models import TyreCase

Kind: TypeAlias = inspect.Type

SHORT = 5
"""A word shorter than this is like another already with two of three letters in place."""
MOST_ITEMS = 50
"""More injuries or repairs than this in one tyre are a slip of the pen."""


@cache
def kind_of(pointer: str) -> Kind:
    """Return the kind of value that a field of the case takes.

    Args:
        pointer: Its place, an RFC 6901 pointer such as `/injuries/0/diameter_mm`; empty is the case itself.

    Raises:
        LookupError: There is no such field; the text says what was probably meant.
    """
    if not pointer:
        return inspect.type_info(TyreCase)
    parent, _, name = pointer.rpartition("/")
    above = kind_of(parent)
    if isinstance(above, inspect.ListType) and re.fullmatch("0|[1-9][0-9]?", name) and int(name) < MOST_ITEMS:
        return present(above.item_type)
    if isinstance(above, inspect.StructType):
        kinds = {field.encode_name: field.type for field in above.fields}
        if name in kinds:
            return present(kinds[name])
        raise LookupError(f"the case has no {pointer}{meant(name, kinds)}")
    raise LookupError(f"the case has no {pointer}: nothing of that name stands below {parent}")


def exists(pointer: str) -> bool:
    """Return whether the case has such a field; a newer service may ask for one that this client cannot send."""
    try:
        kind_of(pointer)
    except LookupError:
        return False
    return True


def present(kind: Kind) -> Kind:
    """Return the kind of a value that is there: without the None of one that is not known."""
    if not isinstance(kind, inspect.UnionType):
        return kind
    kinds = [one for one in kind.types if not isinstance(one, inspect.NoneType)]
    return kinds[0] if len(kinds) == 1 else inspect.UnionType(tuple(kinds))


def meant(name: str, known: Iterable[str]) -> str:
    """Return what was probably meant, to end a sentence with."""
    near = difflib.get_close_matches(name, list(known), n=1, cutoff=0.6 if len(name) < SHORT else 0.75)
    return f"; did you mean {near[0]}?" if near else ""


def is_section(kind: Kind) -> bool:
    """Return whether a field has fields of its own, or numbered items that have."""
    items = isinstance(kind, inspect.ListType) and isinstance(kind.item_type, inspect.StructType)
    return items or isinstance(kind, inspect.StructType)


def yes_or_no_below(pointer: str) -> list[str]:
    """Return the names of the yes-or-no fields of a section, but for the one that says that it is complete."""
    kind = kind_of(pointer)
    assert isinstance(kind, inspect.StructType)
    fields = [field for field in kind.fields if isinstance(present(field.type), inspect.BoolType)]
    return [field.encode_name for field in fields if field.encode_name != "complete"]


def leaves(pointer: str, value: Any) -> Iterator[tuple[str, Any]]:
    """Yield the values inside a value by their pointers, down to fields that have none of their own.

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


def case_of(tree: dict[str, Any]) -> TyreCase:
    """Return the case of a tree.

    Raises:
        MisfitError: Something in it does not fit the case.
    """
    try:
        decoder_of(TyreCase)  # what it is made of is worked out once, by one thread
        return msgspec.convert(tree, TyreCase)
    except msgspec.ValidationError as error:
        text, _, path = str(error).partition(" - at `$")
        raise MisfitError(re.sub(r"\.|\[(\d+)\]", lambda found: f"/{found[1] or ''}", path.rstrip("`")), text) from None


class MisfitError(ValueError):
    """A tree that is no case: `pointer` says where, and the text what is wrong."""

    def __init__(self, pointer: str, text: str) -> None:
        super().__init__(text)
        self.pointer = pointer
