"""The workshop's word counts wherever the book has an entry on the topic that does not apply to the case.

For every class of tyre, topic that both may speak of, and condition: the book is given a laxer entry with that
condition, and a case in which it is known to hold, known not to hold, or not known.
"""

from __future__ import annotations

from datetime import date
from functools import cache
from typing import Any, Final, Literal, TypeAlias, get_args

import msgspec
import pytest
from tests.unit import provisions_in_a_book as made

from mendgauge.case.case import Case
from mendgauge.operations.repairability import check_repairability
from mendgauge.operations.service_limits import find_service_limits
from mendgauge.rulebooks import Edition, find_edition
from mendgauge.rulebooks.provision import CONDITIONS, Condition, Provision
from mendgauge.rulebooks.schema.book import Book, Workshop, headings
from mendgauge.tyre.tyre_class import TyreClass

Holds: TypeAlias = Literal["holds", "does not hold"]

TODAY: Final = date(2026, 11, 24)
EDITIONS: Final = {name: find_edition(name).in_force(TODAY) for name in ("gb", "us")}
"""One book that says much of its own, and one that says little."""
SHARED: Final = [
    (heading, condition)
    for heading, provision in headings(Book)
    if heading in dict(headings(Workshop))
    for condition in CONDITIONS
    if condition in provision.honours
]
"""The headings of both files whose entries may have conditions, with each."""

UNCONDITIONAL: Final = {name: None for fields in CONDITIONS.values() for name in fields}
KNOWN: Final[dict[TyreClass, dict[str, Any]]] = {
    "car": {
        "vehicle": {"kind": "car", "gross_mass_kg": 1900, "max_speed_kmh": 190},
        "position": {"axle": "rear", "steered": False, "fitment": "single", "axle_load_kg": 900},
        "tyre": {"marking": "205/55R16 91V"},
    },
    "van": {
        "vehicle": {"kind": "van", "gross_mass_kg": 3400, "max_speed_kmh": 160},
        "position": {"axle": "rear", "steered": False, "fitment": "single", "axle_load_kg": 1800},
        "tyre": {"marking": "205/65R16C 107/105T"},
    },
    "truck": {
        "vehicle": {"kind": "truck", "gross_mass_kg": 18000, "max_speed_kmh": 90},
        "position": {"axle": "drive", "steered": False, "fitment": "single", "axle_load_kg": 7000},
        "tyre": {"marking": "315/80R22.5 156/150L"},
    },
    "bus": {
        "vehicle": {"kind": "bus", "gross_mass_kg": 18000, "max_speed_kmh": 100},
        "position": {"axle": "drive", "steered": False, "fitment": "single", "axle_load_kg": 7000},
        "tyre": {"marking": "315/80R22.5 156/150L"},
    },
    "motorcycle": {
        "vehicle": {"kind": "motorcycle", "gross_mass_kg": 400, "max_speed_kmh": 180},
        "position": {"axle": "rear", "steered": False, "fitment": "single", "axle_load_kg": 200},
        "tyre": {"marking": "140/70-17 M/C 66H"},
    },
}
CONDITION: Final[dict[tuple[Condition, Holds], dict[str, Any]]] = {
    ("mass", "holds"): {"mass_over_kg": 100.0},
    ("mass", "does not hold"): {"mass_over_kg": 100_000.0},
    ("speed", "holds"): {"speed_to": "Y"},
    ("speed", "does not hold"): {"speed_over": "Y"},
    ("section", "holds"): {"section_over_mm": 50.0},
    ("section", "does not hold"): {"section_over_mm": 700.0},
    ("steered", "holds"): {"steered": False},
    ("steered", "does not hold"): {"steered": True},
    ("fitment", "holds"): {"fitment": "single"},
    ("fitment", "does not hold"): {"fitment": "dual"},
    ("trait", "holds"): {"trait": "self_sealing"},
    ("trait", "does not hold"): {"trait": "foam_lined"},
}


def case_of(edition: Edition, of: TyreClass, heading: str, about: str, **fields: Any) -> Case:
    """A sound tyre, self-sealing, of which everything is known, but for the fault that a provision speaks of."""
    known = KNOWN[of]
    body: dict[str, Any] = {
        **known,
        "detail": "full",
        "rulebook": edition.reference,
        "assessed_on": TODAY.isoformat(),
        "tyre": {
            **known["tyre"],
            "date_code": "0114" if heading == "age" else "0125",
            "tread_depth_mm": 0.0 if heading == "tread_depth" else 6.0,
            "new_tread_depth_mm": 8.0,
            "traits": {"self_sealing": True, "complete": True},
            "maker_policy": {"repair": "permitted"},
        },
        "injuries": [
            {
                "region": "tread",
                "depth": "through",
                "across_mm": 0,
                "diameter_mm": 3.0,
                "lean_deg": 0,
                "plugged_from_outside": heading == "plugged_hole",
            }
        ],
        "earlier_repairs": [],
        "inspection": {**({about: True} if heading == "conditions" else {}), "complete": True},
        "history": {"complete": True, "pressure_found_percent": 100},
    }
    return msgspec.convert({**body, **fields}, Case)


def with_book(edition: Edition, heading: str, entries: tuple[Provision, ...]) -> Edition:
    return msgspec.structs.replace(edition, book=msgspec.structs.replace(edition.book, **{heading: entries}))


def of_workshop(edition: Edition, heading: str, of: TyreClass) -> list[Provision]:
    return [entry for entry in getattr(edition.workshop, heading) if of in entry.classes]


def laxer(entry: Provision, edition: Edition, **conditions: Any) -> Provision:
    """An entry of a book on the topic of a workshop's that asks for less, or else."""
    fields = made.changed(entry, source=next(iter(edition.book.sources)), **conditions)
    if "effect" in fields and entry.about != fields["effect"]:
        fields["effect"] = "caution"
    return msgspec.convert(fields, type(entry))


def without(edition: Edition, heading: str, about: str) -> tuple[Provision, ...]:
    return tuple(entry for entry in getattr(edition.book, heading) if entry.about != about)


def answers(edition: Edition, case: Case) -> dict[str, Any]:
    """What is said of a case, but for how many rules said it.

    The caution on worn tread is left out: it stands wherever the book's least tread is not for every case, and so comes
    beside an entry that holds.
    """
    with made.in_use(edition):
        found = check_repairability(case), find_service_limits(case)
    verdict, limits = (msgspec.to_builtins(one) for one in found)
    verdict["findings"] = [finding for finding in verdict["findings"] if finding["rule"] != "tread_warning"]
    return {
        f"{name}/{key}": value
        for name, said in (("verdict", verdict), ("limits", limits))
        for key, value in said.items()
        if key != "rules_checked"
    }


def differing(one: dict[str, Any], other: dict[str, Any]) -> list[str]:
    return [key for key in one if one[key] != other[key]]


@cache
def unconditional_answers(reference: str, of: TyreClass, heading: str, place: int) -> tuple[Any, Any]:
    """What is said where the book has an entry without conditions on the topic of a workshop's, and where it has none:
    the same whatever condition another entry has.
    """
    edition = EDITIONS[reference]
    entry = of_workshop(edition, heading, of)[place]
    silent, case = without(edition, heading, entry.about), case_of(edition, of, heading, entry.about)
    speaking = with_book(edition, heading, (laxer(entry, edition), *silent))
    return answers(speaking, case), answers(with_book(edition, heading, silent), case)


@cache
def conditions_of(condition: Condition, holds: Holds, of: TyreClass) -> dict[str, Any]:
    if condition == "kinds":
        return {"kinds": (of,) if holds == "holds" else ("trailer",)}
    return CONDITION[condition, holds]


@pytest.mark.parametrize("reference", EDITIONS)
@pytest.mark.parametrize("of", get_args(TyreClass))
@pytest.mark.parametrize(("heading", "condition"), SHARED)
def test_an_entry_of_the_book_counts_where_its_condition_holds_and_the_workshops_elsewhere(
    reference: str, of: TyreClass, heading: str, condition: Condition
) -> None:
    edition = EDITIONS[reference]
    for place, entry in enumerate(of_workshop(edition, heading, of)):
        silent = without(edition, heading, entry.about)
        case = case_of(edition, of, heading, entry.about)
        for holds, expected in zip(get_args(Holds), unconditional_answers(reference, of, heading, place), strict=True):
            conditional = laxer(entry, edition, **conditions_of(condition, holds, of))
            answer = answers(with_book(edition, heading, (conditional, *silent)), case)
            assert differing(answer, expected) == [], (entry, holds)


@pytest.mark.parametrize("reference", EDITIONS)
@pytest.mark.parametrize("of", ["van", "truck"])
@pytest.mark.parametrize("heading", sorted({heading for heading, _ in SHARED}))
def test_either_may_count_where_the_condition_is_not_known(reference: str, of: TyreClass, heading: str) -> None:
    edition = EDITIONS[reference]
    for entry in of_workshop(edition, heading, of):
        silent = without(edition, heading, entry.about)
        unknown = case_of(edition, of, heading, entry.about, position={"axle": "rear"})

        def possible(*entries: Provision, of_others: tuple[Provision, ...] = silent, asked: Case = unknown) -> set[str]:
            answer = answers(with_book(edition, heading, (*entries, *of_others)), asked)
            return set(answer["verdict/possible_verdicts"])

        either = possible(laxer(entry, edition)) | possible()
        assert possible(laxer(entry, edition, fitment="dual")) >= either, entry
