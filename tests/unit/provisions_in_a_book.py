"""Shipped rulebooks with one entry more, made in memory, and cases that look up every heading."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date
from functools import cache, lru_cache
from importlib import resources
from typing import Any, Final, Literal, get_args, get_origin, get_type_hints

import msgspec
import pytest

from mendgauge.case.case import Case
from mendgauge.operations.repair_plans import plan_repair
from mendgauge.rulebooks import Edition, list_editions, loader
from mendgauge.rulebooks.provision import CONDITIONS, Provision
from mendgauge.rulebooks.schema.book import Book, Workshop, headings

EDITION: Final = "2026.2"
TODAY: Final = "2026-11-24"
HEADINGS: Final = [(kind, heading, provision) for kind in (Book, Workshop) for heading, provision in headings(kind)]
IDS: Final = [f"{kind.__name__.lower()}-{heading}" for kind, heading, _ in HEADINGS]

_FILES: Final = {
    entry.name: entry.read_text("utf-8")
    for entry in resources.files("mendgauge.rulebooks").iterdir()
    if entry.name.endswith(f"-{EDITION}.toml")
}
_STARTS: Final = re.compile(r"\A(?P<entry>(?:(?!\[\[).*\n)*?)starts = .*\n")
_BODY: Final = re.compile(r"\A(?:(?!\[).*\n?)*")
_SAID_OF_ALL: Final = {"classes", "source", "basis", "clause", "note", "starts", "ends"}

_CHANNEL: Final[dict[str, Any]] = {
    "region": "tread",
    "depth": "through",
    "across_mm": 20,
    "around_mm": 640,
    "measured_from": "outside",
    "diameter_mm": 5.0,
    "stage": "found",
    "lean_deg": 5,
    "lean_toward_deg": 0,
    "emerges_in": "groove",
}
_RATE: Final = {"code": "R", "title": "Repair", "price": "24.00", "covers": ["unit", "consumable"]}
_CAR: Final[dict[str, Any]] = {
    "vehicle": {"kind": "car", "gross_mass_kg": 1900, "max_speed_kmh": 190},
    "position": {"axle": "rear", "steered": False, "fitment": "single", "axle_load_kg": 900},
    "tyre": {
        "marking": "205/55R16 91V",
        "date_code": "2323",
        "new_tread_depth_mm": 8.0,
        "traits": {"complete": True},
        "maker_policy": {"repair": "permitted"},
    },
    "injuries": [_CHANNEL],
    "earlier_repairs": [{"method": "one_piece", "proper": True, "across_mm": 20, "around_mm": 900, "patch_mm": 40}],
    "inspection": {"complete": True},
    "history": {"complete": True, "pressure_found_percent": 75},
    "in_service": {"axle_mates": [{"place": "other_end", "marking": "205/55R16 91V", "tread_depth_mm": 5.0}]},
    "replacement": {"price": "90.00"},
    "price_book": {"currency": "GBP", "prices_include_tax": True, "flat_rates": [_RATE]},
    "bench": {"wheel": "loose"},
    "detail": "full",
}
_MATE: Final = {"marking": "315/80R22.5 156/150L"}
CASES: Final[dict[str, dict[str, Any]]] = {
    "a car tyre": _CAR,
    "a van tyre of which little is known": {"tyre": {"marking": "205/65R16C 107/105T"}},
    "a truck tyre in a dual pair": {
        **_CAR,
        "vehicle": {"kind": "truck", "gross_mass_kg": 18000, "max_speed_kmh": 90},
        "position": {"axle": "drive", "steered": False, "fitment": "dual", "axle_load_kg": 10000},
        "tyre": {**_CAR["tyre"], "marking": "315/80R22.5 156/150L", "new_tread_depth_mm": 18.0, "tread_depth_mm": 9.0},
        "injuries": [_CHANNEL, {**_CHANNEL, "around_mm": 1800, "depth": "to_cord"}],
        "in_service": {
            "axle_mates": [{"place": "dual_mate", "marking": "315/80R22.5 156/150L", "tread_depth_mm": 12.0}]
        },
    },
    "a front tyre with all signs": {
        **_CAR,
        "vehicle": {"kind": "bus", "gross_mass_kg": 18000, "max_speed_kmh": 100},
        "position": {"axle": "steer", "steered": True, "fitment": "single", "axle_load_kg": 7000},
        "tyre": {**_CAR["tyre"], "marking": "275/70R22.5 148/145M", "date_code": "2314", "tread_depth_mm": 2.0},
        "inspection": {"bulge": True, "complete": True},
        "history": {"sealant_used": True, "complete": True},
    },
    "a temporary spare": {**_CAR, "tyre": {"marking": "T125/70R15 95M", "date_code": "2323"}},
    "a light truck tyre": {
        **_CAR,
        "vehicle": {"kind": "van"},
        "tyre": {"marking": "LT245/75R16 120/116S"},
        "in_service": {},
    },
    "a channel cut with an inch cutter": {
        **_CAR,
        "injuries": [{**_CHANNEL, "stage": "prepared", "diameter_mm": 6.35}],
        "earlier_repairs": [],
    },
    "a channel cut with the smallest inch cutter": {
        **_CAR,
        "injuries": [{**_CHANNEL, "stage": "prepared", "diameter_mm": 3.175}],
        "earlier_repairs": [],
    },
    "a tyre worn nearly to the limit": {**_CAR, "tyre": {**_CAR["tyre"], "tread_depth_mm": 1.7}, "earlier_repairs": []},
    "a run-flat tyre": {
        **_CAR,
        "tyre": {"marking": "205/55RF16 91V", "date_code": "2323", "traits": {"retread": True, "complete": True}},
    },
    "a car by the road": {
        "vehicle": {"kind": "car"},
        "tyre": {"marking": "205/55R16 91V"},
        "inspection": {"bulge": True},
        "history": {"driven_flat": True},
    },
    "a hole a centimetre from an earlier repair": {
        **_CAR,
        "injuries": [{**_CHANNEL, "lean_deg": 0}],
        "earlier_repairs": [
            {
                "method": "one_piece",
                "proper": True,
                "across_mm": 20,
                "around_mm": 650,
                "measured_from": "outside",
                "patch_mm": 40,
            }
        ],
    },
}
"""Between them they look up every heading there is."""


def a_book_with(kind: type[Book | Workshop], heading: str) -> Edition:
    """The first shipped edition in which something stands under a heading."""
    return next(
        edition
        for edition in list_editions()
        if edition.book.edition == EDITION and getattr(_file(edition, kind), heading)
    )


def _file(edition: Edition, kind: type[Book | Workshop]) -> Book | Workshop:
    return edition.book if kind is Book else edition.workshop


def changed(entry: Provision, **limits: Any) -> dict[str, Any]:
    """An entry that says something else on the same topic, limited by nothing but what is given."""
    conditions = {name for names in CONDITIONS.values() for name in names}
    hints = _hints_of(type(entry))
    fields = {name: getattr(entry, name) for name in entry.__struct_fields__}
    values = {
        name: value if value == entry.about or name in _SAID_OF_ALL else _other(value, hints[name])
        for name, value in fields.items()
        if name not in conditions and name not in ("starts", "ends")
    }
    return {name: value for name, value in {**values, **limits}.items() if value is not None}


@cache
def _hints_of(kind: type[Provision]) -> dict[str, Any]:
    return get_type_hints(kind)


def _other(value: Any, hint: Any) -> Any:
    if isinstance(value, bool):
        return not value
    if isinstance(value, float):
        return 3.0 * value + 1.0
    if isinstance(value, int):
        return 0
    if isinstance(value, tuple) and all(isinstance(one, float) for one in value):
        return tuple(3.0 * one + 1.0 for one in value)
    if isinstance(value, tuple):
        return value[:1]
    if get_origin(hint) is Literal:
        return next((one for one in get_args(hint) if one != value), value)
    return f"{value}, or another" if isinstance(value, str) else value


def with_entries(
    edition: Edition,
    kind: type[Book | Workshop],
    heading: str,
    *entries: dict[str, Any],
    others_start: date | None = None,
) -> Edition:
    """A shipped edition with entries before all others under a heading, which start later. Raises `RulebookError`."""
    name, first = file_of(edition, kind), f"[[{heading}]]\n"
    before, *shipped = _FILES[name].split(first)
    assert shipped, f"{name} has nothing under {heading}"
    if others_start is not None:
        shipped = [_line("starts", others_start) + _STARTS.sub(r"\g<entry>", one) for one in shipped]
    added = ["".join(_line(field, value) for field, value in entry.items()) for entry in entries]
    return _read(edition, name, first.join((before, *added, *shipped)))


def replacing(
    edition: Edition, kind: type[Book | Workshop], heading: str, topic: str, *entries: dict[str, Any]
) -> Edition:
    """A shipped edition with other entries in place of those on a topic. Raises `RulebookError`."""
    name, first = file_of(edition, kind), f"[[{heading}]]\n"
    before, *shipped = _FILES[name].split(first)
    kept = [
        _BODY.sub("", one, count=1) if entry.about == topic else first + one
        for one, entry in zip(shipped, entries_of(edition, kind, heading), strict=True)
    ]
    added = ["".join((first, *(_line(field, value) for field, value in entry.items()))) for entry in entries]
    return _read(edition, name, "\n".join((before, *added, *kept)))


def with_line(name: str, heading: str, line: str) -> Edition:
    """The shipped editions with a line more in the first entry under a heading. Raises `RulebookError`."""
    before, first, after = _FILES[name].partition(f"[[{heading}]]\n")
    return _read(list_editions()[0], name, f"{before}{first}{line}\n{after}")


def _read(edition: Edition, name: str, text: str) -> Edition:
    """An edition with another text of one of its files."""
    book = file_of(edition, Book)
    parts = {one: read for one, read in _FILES.items() if one.startswith(("workshop-", "procedure-")) or one == book}
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(loader, "_read", _read_file)
        patch.setattr(loader, "_read_procedure", _read_procedure)
        (made,) = loader.read_editions({**parts, name: text})
    return made


# What is left as it was shipped is read once, not with every entry that is tried.
_read_file = lru_cache(maxsize=16)(loader._read)
_read_procedure = lru_cache(maxsize=4)(loader._read_procedure)


def file_of(edition: Edition, kind: type[Book | Workshop]) -> str:
    """The name of an edition's file."""
    return f"{edition.book.id if kind is Book else 'workshop'}-{EDITION}.toml"


def entries_of(edition: Edition, kind: type[Book | Workshop], heading: str) -> tuple[Provision, ...]:
    """What stands under a heading of an edition."""
    found: tuple[Provision, ...] = getattr(_file(edition, kind), heading)
    return found


def _line(field: str, value: Any) -> str:
    return f"{field} = {value.isoformat() if isinstance(value, date) else json.dumps(value)}\n"


@contextmanager
def in_use(edition: Edition) -> Iterator[None]:
    """Answer from an edition made in memory instead of the shipped ones."""
    shipped = loader.list_editions
    loader.list_editions = lambda: (edition,)  # type: ignore[assignment]
    loader.find_edition.cache_clear()
    try:
        yield
    finally:
        loader.list_editions = shipped
        loader.find_edition.cache_clear()


def answers(edition: Edition) -> dict[str, Any]:
    """The whole plan of every case under an edition."""
    return {name: answer(edition, name) for name in CASES}


def answer(edition: Edition, name: str) -> Any:
    """The whole plan of one case under an edition."""
    case = msgspec.convert({**CASES[name], "rulebook": edition.book.id, "assessed_on": TODAY, "detail": "full"}, Case)
    with in_use(edition):
        text = msgspec.json.encode(plan_repair(case)).replace(edition.digest.encode(), b"")
    return json.loads(text)


def without(answered: Any, field: str) -> Any:
    """An answer without a field, wherever it stands."""
    if isinstance(answered, dict):
        return {name: without(value, field) for name, value in answered.items() if name != field}
    return [without(one, field) for one in answered] if isinstance(answered, list) else answered
