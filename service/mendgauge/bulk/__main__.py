"""`python -m mendgauge.bulk` prints the Arrow schemas of cases and answers, as `openapi/arrow.md` has them."""

from __future__ import annotations

from collections.abc import Iterator

import pyarrow as pa

from mendgauge.bulk.schemas import ANSWERS, CASES

HEAD = """# Cases and answers as Arrow columns

Written by `make openapi`; in Python they are `CASES` and `ANSWERS` in `mendgauge.bulk`. `[]` stands for each item of a
list. A column that is not needed may be null or left out. Where a `double` of the case is measured, a struct of `low`
and `high` may stand.
"""


def tables() -> str:
    """Return both schemas as tables in Markdown."""
    return "\n".join((HEAD, "## A case\n", *_table(CASES), "\n## Its answer\n", *_table(ANSWERS))) + "\n"


def _table(schema: pa.Schema) -> Iterator[str]:
    yield from ("| column | type | needed |", "|---|---|---|")
    for field in schema:
        yield from _rows(field.name, field.type, "" if field.nullable else "yes")


def _rows(place: str, kind: pa.DataType, needed: str) -> Iterator[str]:
    if pa.types.is_struct(kind):
        yield f"| `{place}` | struct | {needed} |"
        for part in kind:
            yield from _rows(f"{place}.{part.name}", part.type, "")
    elif pa.types.is_list(kind) and pa.types.is_struct(kind.value_type):
        yield f"| `{place}` | list | {needed} |"
        for part in kind.value_type:
            yield from _rows(f"{place}[].{part.name}", part.type, "")
    else:
        yield f"| `{place}` | {str(kind).replace('<item: ', '<')} | {needed} |"


if __name__ == "__main__":
    print(tables(), end="")
