"""Rows of a table as cases, and what is wrong with them by row and column."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import msgspec

from mendgauge_client.models import Problem, TyreCase
from mendgauge_client.tabular import fields, values
from mendgauge_client.tabular.columns import MARKING, RULEBOOK, Columns
from mendgauge_client.tabular.faults import CellFault, UnusableValueError
from mendgauge_client.tabular.plausible import doubt

NEEDED = {
    MARKING: "the marking is missing: without it nothing can be said; 205/55R16 91V and the like",
    RULEBOOK: "the rulebook is missing: name it in a column called rulebook, or for all rows with --rulebook gb",
}


class Row(msgspec.Struct, frozen=True):
    """A row of a table.

    Attributes:
        number: Its number as an editor or a spreadsheet shows it, counted from 1, the header of a CSV table included.
        cells: What it has, by column.
        fault: Why it cannot be read; empty where it can.
    """

    number: int
    cells: Mapping[str, Any]
    fault: str = ""


class ReadRow(msgspec.Struct, frozen=True):
    """A row as read.

    Attributes:
        number: The row's number.
        depot: Where the tyre is, as the row has it; empty where it does not say.
        kept: The cells to carry over, by column.
        reference: The reference, as far as it could be read.
        marking: The marking, as far as it could be read.
        case: The case; None where there are faults.
        faults: What is wrong with it.
        doubts: What is odd about it, though it can be judged.
        column_of: The column that fills each field, by its pointer.
    """

    number: int
    depot: str
    kept: Mapping[str, Any]
    reference: str | None
    marking: str | None
    case: TyreCase | None
    faults: list[CellFault]
    doubts: list[CellFault]
    column_of: Mapping[str, str]


def read_row(row: Row, columns: Columns, defaults: Mapping[str, Any], *, decimal_comma: bool = False) -> ReadRow:
    """Read a row as a case.

    Args:
        row: The row.
        columns: What its columns mean.
        defaults: Values for fields that a row leaves open, by their pointers.
        decimal_comma: Whether a comma parts the decimals of a number.
    """
    depot, kept = "", {}
    known: dict[str, Any] = {}
    doubts: list[CellFault] = []
    column_of: dict[str, str] = {}
    faults = [CellFault("", row.fault)] if row.fault else []
    for name, cell in row.cells.items():
        try:
            column = columns.named(name, nested=isinstance(cell, (dict, list)))
            if column.depot:
                depot = "" if cell is None else str(cell).strip()
            elif column.pointer is None:
                kept[name] = cell
            else:
                for pointer, inner in fields.leaves(column.pointer, cell):
                    column_of[pointer] = name
                    value = values.read(pointer, inner, decimal_comma=decimal_comma, unit=column.unit)
                    if value is not None:
                        known[pointer] = value
                    if odd := doubt(pointer, inner, value, decimal_comma=decimal_comma):
                        doubts.append(CellFault(name, odd))
        except (UnusableValueError, LookupError) as error:
            faults.append(CellFault(name, str(error)))
    known = {**defaults, **known}
    at_fault = {fault.column for fault in faults}
    if not row.fault:
        faults += [
            CellFault("", says)
            for pointer, says in NEEDED.items()
            if pointer not in known and column_of.get(pointer) not in at_fault
        ]
    case, misfit = (None, None) if faults else _case(known, column_of)
    return ReadRow(
        number=row.number,
        depot=depot,
        kept=kept,
        reference=_text(known.get("/reference")),
        marking=_text(known.get(MARKING)),
        case=case,
        faults=[*faults, misfit] if misfit else faults,
        doubts=doubts,
        column_of=column_of,
    )


def _case(known: Mapping[str, Any], column_of: Mapping[str, str]) -> tuple[TyreCase | None, CellFault | None]:
    tree: dict[str, Any] = {}
    for pointer in sorted(known):  # a section comes before what stands in it
        fields.put(tree, pointer, known[pointer])
    try:
        return fields.case_of(tree), None
    except fields.MisfitError as error:
        return None, _placed(error.pointer, str(error), column_of)


def faults_of(problem: Problem, row: ReadRow) -> list[CellFault]:
    """Return what the service finds wrong with a row, by its columns."""
    placed = [_placed(fault.pointer or "", fault.detail, row.column_of) for fault in problem.errors]
    return placed or [CellFault("", problem.detail)]


def _placed(pointer: str, detail: str, column_of: Mapping[str, str]) -> CellFault:
    within = pointer
    while within and within not in column_of:
        within = within.rpartition("/")[0]
    if within:
        return CellFault(column_of[within], detail)
    return CellFault("", f"{pointer}: {detail}" if pointer else detail)


def _text(value: Any) -> str | None:
    return value if isinstance(value, str) else None
