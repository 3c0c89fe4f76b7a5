"""House rules no looser than the book, and when the maker's word is a condition of a repair."""

from __future__ import annotations

from typing import Any, TypeVar, get_args

from hypothesis import strategies as st
from tests.property.cases import COIN, Drawn, between, classes_of
from tests.property.judging import Json

from mendgauge.core.vocabulary import Region
from mendgauge.facts.yes_no import TRAITS
from mendgauge.rulebooks import Edition
from mendgauge.rulebooks.provision import Provision
from mendgauge.tyre.marking_facts import MarkingFacts
from mendgauge.tyre.tyre_class import TyreClass

P = TypeVar("P", bound=Provision)


def _strictest(draw: st.DrawFn, least: float, limits: list[float]) -> float:
    """A largest value that no limit of the book is stricter than."""
    return min(limits) if draw(COIN) else between(draw, least, min(limits))


def _laxest(draw: st.DrawFn, limits: list[float], most: float) -> float:
    """A least value that no limit of the book is stricter than."""
    return max(limits) if draw(COIN) else between(draw, max(limits), most)


@st.composite
def house_rules(draw: st.DrawFn, edition: Edition, marking_facts: MarkingFacts) -> Json:
    """House rules no looser than the book is for any vehicle the marking allows."""
    book = edition.book

    def of_any(entries: tuple[P, ...]) -> list[P]:
        return [entry for entry in entries if set(entry.classes) & set(classes_of(marking_facts))]

    sizes = [min(entry.found_to_mm, entry.prepared_to_mm) for entry in of_any(book.injury_size)]
    counts = [entry.max_repairs for entry in of_any(book.repair_count)]
    leans = [entry.max_deg for entry in of_any(book.lean)]
    house: dict[str, Any] = {
        "max_injury_mm": lambda: _strictest(draw, 1, [*sizes, 40]),
        "max_repairs": lambda: draw(st.integers(0, min([*counts, 3]))),
        "min_spacing_mm": lambda: _laxest(draw, [0, *(entry.min_mm for entry in of_any(book.spacing))], 900),
        "min_tread_mm": lambda: _laxest(draw, [0, *(entry.min_mm for entry in of_any(book.tread_depth))], 8),
        "max_age_years": lambda: _strictest(draw, 1, [*(entry.under_years for entry in of_any(book.age)), 16]),
        "max_lean_deg": lambda: _strictest(draw, 0, [*leans, 60]),
        "refuse_steer_axle": lambda: True,
        "refuse_regions": lambda: draw(st.lists(st.sampled_from(get_args(Region)), unique=True, min_size=1)),
        "refuse_special_tyres": lambda: draw(st.lists(st.sampled_from(TRAITS), unique=True, min_size=1, max_size=3)),
        "refuse_speed_v_and_above": lambda: True,
        "refuse_without_maker_approval": lambda: True,
    }
    return {name: house[name]() for name in draw(st.lists(st.sampled_from(tuple(house)), unique=True, max_size=3))}


@st.composite
def with_house_rules(draw: st.DrawFn, drawn: Drawn) -> Drawn:
    """The same full case from a house that has rules of its own, or from one that has none."""
    if not draw(COIN):
        return drawn
    return drawn._replace(case={**drawn.case, "house_rules": draw(house_rules(drawn.edition, drawn.marking_facts))})


def maker_must_consent(drawn: Drawn) -> bool:
    """Whether the book, the kind of tyre under it or the house makes the maker's word a condition of the repair."""
    if drawn.case.get("house_rules", {}).get("refuse_without_maker_approval"):
        return True
    book = drawn.edition.book
    policies = _of_class(book.maker_policy, drawn.of)
    special = [
        entry
        for entry in _of_class(book.special_tyres, drawn.of)
        if entry.tyre in drawn.marking_facts.implied or drawn.case["tyre"]["traits"].get(entry.tyre)
    ]
    return (bool(policies) and all(entry.consent_required for entry in policies)) or any(
        entry.treatment == "maker_decides" and entry.unconditional for entry in special
    )


def _of_class(entries: tuple[P, ...], of: TyreClass) -> list[P]:
    return [entry for entry in entries if of in entry.classes]
