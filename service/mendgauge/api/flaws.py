"""What a request body has wrong against its contract: the first flaws, with their places, in plain words.

msgspec stops at the first flaw and names it in Python's words. A refused body is therefore walked again here, with
msgspec as the judge of every part, so that a caller learns of several flaws at once. What the walk costs is bounded by
the contract and not by the sender: flaws are found one by one and only so many are asked for, a list is measured before
it is read, and of a long name only its beginning is repeated.
"""

from __future__ import annotations

import difflib
from collections.abc import Iterable, Iterator, Sequence
from functools import cache
from itertools import islice
from math import inf
from types import NoneType, UnionType
from typing import Annotated, Any, Final, TypeAlias, Union, get_args, get_origin

import msgspec
from msgspec import inspect

from mendgauge.core.errors import Flaw

FLAWS_MAX = 10
"""No further flaws are looked for: so many have one cause."""

SHOWN_MAX = 80
"""Characters of a caller's name that are repeated, and of a name that is compared with ours."""

END = r"\Z"
"""The end of a text in a Python pattern, and nothing before it."""

_UNKNOWN = "Object contains unknown field `"
"""How msgspec's words begin for a name that the contract does not have."""

Step: TypeAlias = str | int
"""One step into a JSON value: the name of a member or the index of an item."""


def contract_flaws(value: Any, model: Any) -> tuple[Flaw, ...]:
    """Return the first flaws of a decoded JSON value against a msgspec type; none when it passes."""
    found = _flaws(value, model, ())
    if isinstance(value, dict) and (struct := _struct_for(value, _options(model))):
        # A body comes here as it was refused: to judge the whole of a long one again takes as long as its parts.
        found = _object_flaws(value, struct, ())
    return tuple(Flaw(pointer(steps), detail) for steps, detail in islice(found, FLAWS_MAX))


def first_flaw(error: Exception, model: Any) -> Flaw:
    """Return the flaw at which msgspec stopped, for a body that is too long to be walked again."""
    words = str(error)
    name = words.removeprefix(_UNKNOWN).removesuffix("`")
    if words.startswith(_UNKNOWN):
        return Flaw(pointer((name,)), _unknown(name, list(_fields(model))))
    return Flaw("", f"expected {wanted(model)}")


def pointer(steps: Sequence[Step]) -> str:
    """Return a place in a JSON value as a JSON Pointer (RFC 6901), long names cut short.

    >>> pointer(("injuries", 0, "a/b"))
    '/injuries/0/a~1b'
    """
    return "".join(f"/{cut(str(step)).replace('~', '~0').replace('/', '~1')}" for step in steps)


def cut(text: str, most: int = SHOWN_MAX) -> str:
    """Return a text of at most `most` characters, and an ellipsis where it had more.

    >>> cut("a long name", most=6)
    'a long…'
    """
    return text if len(text) <= most else f"{text[:most]}…"


def refusal(value: Any, model: Any) -> str:
    """Return why a single value is refused: what its type takes, and what it got instead."""
    kinds = [_bare(kind) for kind in _kinds(model)]
    words = [str(word) for kind in kinds if isinstance(kind, inspect.LiteralType) for word in kind.values]
    hint = near(value, words) if isinstance(value, str) else ""
    return f"expected {wanted(model)}, got {_shown(value)}{hint or _quotes(value, model)}"


def _quotes(value: Any, model: Any) -> str:
    """Return a hint at quotes too many or too few, where the value would pass with the others, or nothing.

    >>> _quotes("4.5", float), _quotes("4,5", float), _quotes(2323, str), _quotes("four", float)
    ('; write it without quotes: 4.5', '; write it without quotes: 4.5', '; write it in quotes: "2323"', '')
    """
    if isinstance(value, str) and len(value) <= SHOWN_MAX:
        for bare in (value, value.replace(",", ".")):
            try:
                msgspec.json.decode(bare, type=model)
            except (msgspec.DecodeError, UnicodeError):
                continue
            return f"; write it without quotes: {bare}"
    if isinstance(value, int | float) and _passes(quoted := _json(value), model):
        return f"; write it in quotes: {_json(quoted)}"
    return ""


def wanted(model: Any) -> str:
    """Return what a type takes, in plain words.

    >>> wanted(Annotated[int, msgspec.Meta(ge=0, le=9)] | None)
    'a whole number from 0 to 9'
    """
    return " or ".join(dict.fromkeys(map(_wanted, _kinds(model))))


def public_pattern(pattern: str) -> str:
    r"""Return a pattern as JSON Schema writes it.

    Python's `$` matches before a line break at the end too, so the contract's patterns end in `\Z`; ECMA-262 has no
    such sign, and its `$` matches at the end alone.

    >>> public_pattern(r"^[A-Z]{3}\Z")
    '^[A-Z]{3}$'
    """
    return f"{pattern.removesuffix(END)}$" if pattern.endswith(END) else pattern


def near(name: str, names: Sequence[str]) -> str:
    """Return a hint at the name that was probably meant, or nothing."""
    close = difflib.get_close_matches(name, names, n=1) if len(name) <= SHOWN_MAX else []
    return f"; did you mean `{close[0]}`?" if close else ""


def near_or_all(name: str, names: Sequence[str]) -> str:
    """Return a hint at the name that was probably meant, or at every name there is."""
    return near(name, names) or (f"; there are {', '.join(names)}" if names else "; there are none")


def _flaws(value: Any, model: Any, steps: tuple[Step, ...]) -> Iterator[tuple[tuple[Step, ...], str]]:
    """Yield place and words of every flaw in a value, outermost first."""
    options = _options(model)
    if isinstance(value, list | dict) and len(value) > _most(value, options):
        yield steps, refusal(value, model)
    elif _passes(value, model):
        return
    elif isinstance(value, dict) and (struct := _struct_for(value, options)):
        yield from _object_flaws(value, struct, steps)
    elif isinstance(value, dict) and (named := _named(options)):
        yield from _flaws_within(value.items(), named, steps) or [(steps, refusal(value, model))]
    elif isinstance(value, list) and (item := _item(options)):
        yield from _flaws_within(enumerate(value), item, steps) or [(steps, refusal(value, model))]
    else:
        yield steps, refusal(value, model)


def _flaws_within(
    parts: Iterable[tuple[Step, Any]], model: Any, steps: tuple[Step, ...]
) -> list[tuple[tuple[Step, ...], str]]:
    """Return the first flaws in the parts of a list or of an object with names of the caller's own."""
    return [*islice((flaw for step, part in parts for flaw in _flaws(part, model, (*steps, step))), FLAWS_MAX)]


def _object_flaws(
    value: dict[str, Any], struct: type[msgspec.Struct], steps: tuple[Step, ...]
) -> Iterator[tuple[tuple[Step, ...], str]]:
    config, fields = struct.__struct_config__, _fields(struct)
    names = [*fields, *([config.tag_field] if config.tag_field else [])]
    for name in value:
        if name not in names:
            yield (*steps, name), _unknown(name, names)
    for name, field in fields.items():
        if name not in value:
            if field.required:
                yield (*steps, name), f"`{name}` is required and missing"
        elif value[name] is None and not field.required and not _passes(None, field.type):
            yield (*steps, name), f"{refusal(None, field.type)}; leave it out"
        else:
            yield from _flaws(value[name], field.type, (*steps, name))


def _unknown(name: str, names: Sequence[str]) -> str:
    return f"there is no field `{cut(name)}` here{near_or_all(name, names)}"


@cache
def _fields(struct: type[msgspec.Struct]) -> dict[str, msgspec.structs.FieldInfo]:
    return {field.encode_name: field for field in msgspec.structs.fields(struct)}


def _most(value: list[Any] | dict[str, Any], options: Sequence[Any]) -> float:
    """Return the most parts that a list, or an object with names of the caller's own, may have at a place."""
    kinds = (list, tuple) if isinstance(value, list) else (dict,)
    marks = [
        mark
        for option in options
        if get_origin(option) is Annotated and get_origin(_unmarked(option)) in kinds
        for mark in option.__metadata__
    ]
    return min((mark.max_length for mark in marks if getattr(mark, "max_length", None) is not None), default=inf)


def _passes(value: Any, model: Any) -> bool:
    try:
        msgspec.json.decode(msgspec.json.encode(value), type=model)
    except msgspec.ValidationError:
        return False
    return True


def _struct_for(value: dict[str, Any], options: Sequence[Any]) -> type[msgspec.Struct] | None:
    """Return the object type that a JSON object is meant to be: the only one there is, or the one its tag names."""
    structs = [part for part in map(_unmarked, options) if isinstance(part, type) and issubclass(part, msgspec.Struct)]
    if len(structs) < 2:
        return structs[0] if structs else None
    return next((struct for struct in structs if value.get(_tag(struct)[0]) == _tag(struct)[1]), None)


def _item(options: Sequence[Any]) -> Any:
    """Return the type of a list's items, where a place admits a list."""
    return next((get_args(part)[0] for part in map(_unmarked, options) if get_origin(part) in (list, tuple)), None)


def _named(options: Sequence[Any]) -> Any:
    """Return the type of what stands under names of the caller's own, where a place admits that."""
    return next((get_args(part)[1] for part in map(_unmarked, options) if get_origin(part) is dict), None)


def _tag(struct: type[msgspec.Struct]) -> tuple[str, str | int]:
    config = struct.__struct_config__
    return config.tag_field or "", config.tag or ""


def _kinds(model: Any) -> list[inspect.Type]:
    return [_described(option) if isinstance(option, type) else inspect.type_info(option) for option in _options(model)]


@cache
def _described(kind: type) -> inspect.Type:
    """Return what msgspec knows of an object type and all in it; kept, because it is much and often asked for."""
    return inspect.type_info(kind)


def _options(model: Any) -> list[Any]:
    """Return the types that a place admits, a union spread out. Null, which is as good as left out, is none of them."""
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
            return f"text of the form {public_pattern(pattern)}" + (
                f" (such as {_json(examples[0])})" if examples else ""
            )
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
        return f" from {_figure(number.ge)} to {_figure(number.le)}"
    bounds = {"of at least": number.ge, "above": number.gt, "up to": number.le, "below": number.lt}
    words = [f"{word} {_figure(bound)}" for word, bound in bounds.items() if bound is not None]
    return f" {' and '.join(words)}" if words else ""


def _figure(number: float) -> str:
    """Return a number as a caller would write it.

    >>> _figure(1e6), _figure(0.5)
    ('1000000', '0.5')
    """
    return f"{number:.0f}" if number == int(number) else f"{number}"


def _size(least: int | None, most: int | None, what: str) -> str:
    parts = [f"at least {least}"] * bool(least) + [f"at most {most}"] * (most is not None)
    one = most == 1 or (least == 1 and most is None)
    return f" of {' and '.join(parts)} {_SINGULAR[what] if one else what}" if parts else ""


_SINGULAR: Final = {"characters": "character", "items": "item", "entries": "entry"}


def _shown(value: Any) -> str:
    """Return a refused value as its sender would recognise it, kept short."""
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
