"""What a request body has wrong against its contract: every flaw, with its place, in plain words.

msgspec stops at the first flaw and names it in Python's words. A refused body is therefore walked again here, slowly,
with msgspec as the judge of every part, so that a caller learns of all its flaws at once.
"""

from __future__ import annotations

import difflib
from collections.abc import Iterator, Sequence
from functools import cache
from itertools import islice
from types import NoneType, UnionType
from typing import Annotated, Any, TypeAlias, Union, get_args, get_origin

import msgspec
from msgspec import inspect

from mendgauge.core.errors import Flaw

MOST_FLAWS = 10
"""Further flaws are not told: so many have one cause."""

Step: TypeAlias = str | int
"""One step into a JSON value: the name of a member or the index of an item."""


def contract_flaws(value: Any, model: Any) -> tuple[Flaw, ...]:
    """The flaws of a decoded JSON value against a msgspec type; none when it passes."""
    return tuple(Flaw(pointer(steps), detail) for steps, detail in islice(_flaws(value, model, ()), MOST_FLAWS))


def pointer(steps: Sequence[Step]) -> str:
    """A place in a JSON value as a JSON Pointer (RFC 6901).

    >>> pointer(("injuries", 0, "a/b"))
    '/injuries/0/a~1b'
    """
    return "".join(f"/{str(step).replace('~', '~0').replace('/', '~1')}" for step in steps)


def refusal(value: Any, model: Any) -> str:
    """Why a single value is refused: what its type wants, and what it got instead."""
    kinds = [_bare(kind) for kind in _kinds(model)]
    words = [str(word) for kind in kinds if isinstance(kind, inspect.LiteralType) for word in kind.values]
    hint = near(value, words) if isinstance(value, str) else ""
    return f"expected {wanted(model)}, got {_shown(value)}{hint}"


def wanted(model: Any) -> str:
    """What a type takes, in plain words.

    >>> wanted(Annotated[int, msgspec.Meta(ge=0, le=9)] | None)
    'a whole number from 0 to 9'
    """
    return " or ".join(dict.fromkeys(map(_wanted, _kinds(model))))


def near(name: str, names: Sequence[str]) -> str:
    """A hint at the name that was probably meant, or nothing."""
    close = difflib.get_close_matches(name, names, n=1)
    return f"; did you mean `{close[0]}`?" if close else ""


def _flaws(value: Any, model: Any, steps: tuple[Step, ...]) -> Iterator[tuple[tuple[Step, ...], str]]:
    """Place and words of every flaw in a value, outermost first."""
    if _passes(value, model):
        return
    options = _options(model)
    if isinstance(value, dict) and (struct := _struct_for(value, options)):
        yield from _object_flaws(value, struct, steps)
    elif isinstance(value, dict) and (named := _named(options)):
        inner = [flaw for name, part in value.items() for flaw in _flaws(part, named, (*steps, name))]
        yield from inner or [(steps, refusal(value, model))]
    elif isinstance(value, list) and (item := _item(options)):
        inner = [flaw for index, part in enumerate(value) for flaw in _flaws(part, item, (*steps, index))]
        yield from inner or [(steps, refusal(value, model))]
    else:
        yield steps, refusal(value, model)


def _object_flaws(
    value: dict[str, Any], struct: type[msgspec.Struct], steps: tuple[Step, ...]
) -> Iterator[tuple[tuple[Step, ...], str]]:
    config, fields = struct.__struct_config__, _fields(struct)
    names = [*fields, *([config.tag_field] if config.tag_field else [])]
    for name in value:
        if name not in names:
            yield (*steps, name), f"there is no field `{name[:80]}` here{near(name, names)}"
    for name, field in fields.items():
        if name in value:
            yield from _flaws(value[name], field.type, (*steps, name))
        elif field.required:
            yield (*steps, name), f"`{name}` is required and missing"


@cache
def _fields(struct: type[msgspec.Struct]) -> dict[str, msgspec.structs.FieldInfo]:
    return {field.encode_name: field for field in msgspec.structs.fields(struct)}


def _passes(value: Any, model: Any) -> bool:
    try:
        msgspec.json.decode(msgspec.json.encode(value), type=model)
    except msgspec.ValidationError:
        return False
    return True


def _struct_for(value: dict[str, Any], options: Sequence[Any]) -> type[msgspec.Struct] | None:
    """The object type that a JSON object is meant to be: the only one there is, or the one its tag names."""
    structs = [part for part in map(_unmarked, options) if isinstance(part, type) and issubclass(part, msgspec.Struct)]
    if len(structs) < 2:
        return structs[0] if structs else None
    return next((struct for struct in structs if value.get(_tag(struct)[0]) == _tag(struct)[1]), None)


def _item(options: Sequence[Any]) -> Any:
    """The type of a list's items, where a place admits a list."""
    return next((get_args(part)[0] for part in map(_unmarked, options) if get_origin(part) in (list, tuple)), None)


def _named(options: Sequence[Any]) -> Any:
    """The type of what stands under names of the caller's own, where a place admits that."""
    return next((get_args(part)[1] for part in map(_unmarked, options) if get_origin(part) is dict), None)


def _tag(struct: type[msgspec.Struct]) -> tuple[str, str | int]:
    config = struct.__struct_config__
    return config.tag_field or "", config.tag or ""


def _kinds(model: Any) -> list[inspect.Type]:
    return [_described(option) if isinstance(option, type) else inspect.type_info(option) for option in _options(model)]


@cache
def _described(kind: type) -> inspect.Type:
    """What msgspec knows of an object type and all in it: much, and asked for with every object that is refused."""
    return inspect.type_info(kind)


def _options(model: Any) -> list[Any]:
    """The types that a place admits, a union spread out. That null is as good as left out goes without saying."""
    bare = _unmarked(model)
    if get_origin(bare) in (Union, UnionType):
        return [option for part in get_args(bare) for option in _options(part)]
    return [] if bare is NoneType else [model]


def _unmarked(model: Any) -> Any:
    return get_args(model)[0] if get_origin(model) is Annotated else model


def _bare(kind: inspect.Type) -> inspect.Type:
    return kind.type if isinstance(kind, inspect.Metadata) else kind


def _wanted(kind: inspect.Type) -> str:
    examples = (kind.extra_json_schema or {}).get("examples") if isinstance(kind, inspect.Metadata) else None
    match _bare(kind):
        case inspect.FloatType() | inspect.IntType() as number:
            whole = isinstance(number, inspect.IntType) or number.multiple_of == 1
            return f"a {'whole ' if whole else ''}number{_bounds(number)}"
        case inspect.StrType(pattern=str(pattern)):
            return f"text of the form {pattern}" + (f" (such as {_json(examples[0])})" if examples else "")
        case inspect.StrType(min_length=least, max_length=most):
            return f"text{_size(least, most, 'characters')}"
        case inspect.VarTupleType(min_length=least, max_length=most):
            return f"a list{_size(least, most, 'items')}"
        case inspect.DictType(max_length=most):
            return f"an object{_size(None, most, 'entries')}"
        case inspect.LiteralType(values=values):
            return f"one of {', '.join(map(str, values))}"
        case inspect.BoolType():
            return "true or false"
        case inspect.DateType():
            return "a date as YYYY-MM-DD"
        case inspect.StructType(fields=fields):
            needed = ", ".join(f'"{field.encode_name}": …' for field in fields if field.required)
            return f"an object {{{needed}}}" if needed else "an object"
        case other:
            return f"a value of type {type(other).__name__.removesuffix('Type').lower()}"


def _bounds(number: inspect.FloatType | inspect.IntType) -> str:
    if number.ge is not None and number.le is not None:
        return f" from {number.ge:g} to {number.le:g}"
    bounds = {"of at least": number.ge, "above": number.gt, "up to": number.le, "below": number.lt}
    words = [f"{word} {bound:g}" for word, bound in bounds.items() if bound is not None]
    return f" {' and '.join(words)}" if words else ""


def _size(least: int | None, most: int | None, what: str) -> str:
    parts = [f"at least {least}"] * bool(least) + [f"at most {most}"] * (most is not None)
    return f" of {' and '.join(parts)} {what}" if parts else ""


def _shown(value: Any) -> str:
    """A refused value as its sender would recognise it, kept short."""
    match value:
        case str():
            return f"the text {_json(value)}" if len(value) <= 40 else f"text of {len(value)} characters"
        case list():
            return f"a list of {len(value)} items" if value else "an empty list"
        case dict():
            return "an object"
        case _:
            return _json(value)[:40]


def _json(value: Any) -> str:
    return msgspec.json.encode(value).decode()
