"""The Arrow schemas of cases and of answers. That of the cases follows from the contract's own types."""

from __future__ import annotations

from typing import Any, Final

import msgspec
import pyarrow as pa
from msgspec import inspect

from mendgauge.case.case import Case

_SCALARS: Final[dict[type[inspect.Type], pa.DataType]] = {
    inspect.BoolType: pa.bool_(),
    inspect.IntType: pa.int64(),
    inspect.FloatType: pa.float64(),
    inspect.StrType: pa.string(),
    inspect.DateType: pa.date32(),
    inspect.LiteralType: pa.string(),
}


def _arrow_type(kind: inspect.Type) -> pa.DataType:
    """Return the Arrow type of a field; of one that takes a number or a range, that of the number."""
    match kind:
        case inspect.Metadata():
            return _arrow_type(kind.type)
        case inspect.UnionType():
            return _arrow_type(next(one for one in kind.types if not isinstance(one, inspect.NoneType)))
        case inspect.StructType():
            return pa.struct([(field.encode_name, _arrow_type(field.type)) for field in kind.fields])
        case inspect.ListType() | inspect.VarTupleType():
            return pa.list_(_arrow_type(kind.item_type))
        case inspect.DictType():
            return pa.map_(_arrow_type(kind.key_type), _arrow_type(kind.value_type))
    return _SCALARS[type(kind)]


def _cases() -> pa.Schema:
    kind: Any = inspect.type_info(Case)
    needed = {field.encode_name for field in kind.fields if field.default is field.default_factory is msgspec.NODEFAULT}
    return pa.schema(
        pa.field(field.encode_name, _arrow_type(field.type), nullable=field.encode_name not in needed)
        for field in kind.fields
    )


CASES: Final = _cases()
"""A case, a column for each of its parts.

Null is *not known*, an empty list *none*, as in JSON. A column may be left out. Where a number stands that is measured,
a struct of `low` and `high` may stand. A part may come as columns of its own instead, each named by its place with
points: `tyre.marking`, `injuries.0.diameter_mm`. Or the case is one column, `case`, with its JSON.
"""

ANSWERS: Final = pa.schema(
    [
        pa.field("reference", pa.string()),
        pa.field("status", pa.string(), nullable=False),
        pa.field("verdict", pa.string()),
        pa.field("possible_verdicts", pa.list_(pa.string())),
        pa.field("next_step", pa.string()),
        pa.field("decided_by", pa.list_(pa.string())),
        pa.field("ask_first", pa.string()),
        pa.field("rulebook", pa.string()),
        pa.field("assessed_on", pa.date32()),
        pa.field("answer", pa.string()),
        pa.field("problem", pa.string()),
    ]
)
"""What becomes of a case.

`status` is `ok` or `failed`; `answer` is the body that `POST /v1/repairability` answers, `problem` what it would have
been refused with. The rest are parts of the answer: `decided_by` the rules that are broken, `ask_first` the pointer of
the first question, `rulebook` with its edition.
"""
