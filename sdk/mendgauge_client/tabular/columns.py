"""What the columns of a table are: fields of the case, the depot, or something to carry over."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Collection, Iterable, Mapping
from functools import cache
from importlib.resources import files
from typing import Any

import msgspec

from mendgauge_client.models import TyreCase
from mendgauge_client.tabular import fields
from mendgauge_client.tabular.faults import HeaderError
from mendgauge_client.tabular.quantities import known_unit, unit_of

DEPOT = frozenset({"depot", "site", "branch"})
WHOLE_CASE = "case"
"""What a column may be called that holds a case as the service takes it; in JSON lines only."""
MARKING = "/tyre/marking"
RULEBOOK = "/rulebook"

NEEDED = {
    MARKING: "No column has the marking: call it marking or size, and put 205/55R16 91V and the like in it.",
    RULEBOOK: "No column has the rulebook: call it rulebook, or name one for all rows with --rulebook, such as gb.",
}


UNIT = re.compile(r"(?P<name>.*\S)\s*[(\[](?P<unit>[^()\[\]]+)[)\]]\s*")
"""A name with a unit behind it: `tread (mm)`, `hole [in]`."""


class Column(msgspec.Struct, frozen=True):
    """A column of a table.

    Attributes:
        name: What it is called in the table.
        pointer: The field of the case it fills, empty for the case itself; None where it fills none.
        depot: Whether it says where the tyre is.
        unit: The unit of its numbers, where the name says one: `tread (32nds)`. Empty is the field's own.
    """

    name: str
    pointer: str | None = None
    depot: bool = False
    unit: str = ""


class Columns:
    """The columns of a table by their names, each looked up once."""

    def __init__(self, keep: Collection[str] = (), names: Mapping[str, str] | None = None) -> None:
        """
        Args:
            keep: Names of columns to carry over to the results as they are.
            names: What columns are called in this table, by what they mean: `{"tread": "Profiltiefe"}`.

        Raises:
            HeaderError: A meaning is none, or two columns have the same name.
        """
        self._keep = frozenset(keep)
        self._names = dict(names or {})
        self._own: dict[str, str] = {}
        for meaning, name in self._names.items():
            if _plain(name) in self._own:
                raise HeaderError(f"{name!r} is to mean both {self._own[_plain(name)]} and {meaning}: leave one out.")
            self._own[_plain(name)] = meaning
        self._known: dict[tuple[str, bool], Column] = {}

    def named(self, name: str, nested: bool = False) -> Column:
        """Return the column of that name.

        Args:
            name: What it is called.
            nested: Whether what it holds has parts of its own: `vehicle` is then all of the vehicle, not its kind.

        Raises:
            LookupError: It means nothing; the text says what may have been meant.
        """
        if (name, nested) not in self._known:
            self._known[name, nested] = self._column(name, nested)
        return self._known[name, nested]

    def _column(self, name: str, nested: bool) -> Column:
        if name in self._keep:
            return Column(name)
        bare = UNIT.fullmatch(name)
        own = self._own.get(_plain(name)) or (bare and self._own.get(_plain(bare["name"])))
        if own:
            column = msgspec.structs.replace(self._meaning(own, nested), name=name)
            return self._in_unit(column, bare["unit"]) if bare else column
        return self._meaning(name, nested)

    def _meaning(self, name: str, nested: bool) -> Column:
        """Return the column of a name that is not of this table alone."""
        if (bare := UNIT.fullmatch(name)) and _plain(name) not in aliases():
            return self._in_unit(msgspec.structs.replace(self._meaning(bare["name"], nested), name=name), bare["unit"])
        plain = _plain(name)
        if plain == WHOLE_CASE:
            return Column(name, "")
        if plain in DEPOT:
            return Column(name, depot=True)
        if plain in aliases() and not (nested and plain in TyreCase.__struct_fields__):
            return Column(name, aliases()[plain])
        pointer = "/" + re.sub(r"[./]+", "/", name.strip().strip("/."))
        if pointer.split("/")[1] not in TyreCase.__struct_fields__:
            likely = [*aliases(), *DEPOT]
            raise LookupError(
                f"{name!r} is no column of a tyre{fields.meant(plain, likely) or '.'} "
                f"Name it in --keep to carry it over to the results, or leave it out of the table."
            )
        fields.kind_of(pointer)
        return Column(name, pointer)

    @staticmethod
    def _in_unit(column: Column, unit: str) -> Column:
        if not known_unit(column.pointer or "", unit):
            own, _ = unit_of(column.pointer or "")
            wanted = f"it is in {own}" if own else "it has no unit"
            raise LookupError(f"{column.name!r} names a unit that is not known here: {wanted}.")
        return msgspec.structs.replace(column, unit=unit)

    def header(self, names: Collection[str], defaults: Collection[str]) -> list[Column]:
        """Return the columns of a table that has them all named at its head.

        Args:
            names: Their names.
            defaults: The pointers of fields that need no column.

        Raises:
            HeaderError: One means nothing, two mean the same, or one that is needed is missing.
        """
        columns, faults = [], []
        for name in names:
            try:
                columns.append(self.named(name))
            except LookupError as error:
                faults.append(str(error))
        faults += _doubled(columns)
        faults += [f"{name!r} is to be kept, and there is no such column." for name in sorted(self._keep - {*names})]
        plain = {_plain(UNIT.sub(r"\g<name>", name)) for name in names} | {_plain(name) for name in names}
        faults += [
            f"No column is called {name!r}, which is to mean {meaning}."
            for meaning, name in self._names.items()
            if _plain(name) not in plain
        ]
        filled = [*defaults, *(column.pointer for column in columns if column.pointer is not None)]
        faults += [
            says for pointer, says in NEEDED.items() if not any(f"{pointer}/".startswith(f"{one}/") for one in filled)
        ]
        if faults:
            raise HeaderError("\n".join(faults))
        return columns


def _covers(section: str, pointer: str) -> bool:
    return f"{pointer}/".startswith(f"{section}/")


def _doubled(columns: Iterable[Column]) -> list[str]:
    taken: dict[Any, str] = {}
    faults = []
    for column in columns:
        means = column.pointer or ("depot" if column.depot else column.name)
        if means in taken:
            faults.append(f"{taken[means]!r} and {column.name!r} are both the {means}: leave one out.")
        taken[means] = column.name
    return faults


@cache
def aliases() -> Mapping[str, str]:
    """Return the pointers of fields by what their columns may be called, in plain form."""
    listed = tomllib.loads(files(__package__).joinpath("columns.toml").read_text("utf-8"))
    return {_plain(name): pointer for pointer, names in listed.items() for name in names}


def _plain(name: str) -> str:
    return re.sub(r"[\s_-]+", "_", name.strip().casefold())
