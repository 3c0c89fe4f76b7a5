"""Provisions by date, class and condition: what ended judges nothing, and what cannot be tested is refused."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from functools import cache
from typing import Any, get_args

import msgspec
import pytest
from tests.unit import provisions_in_a_book as made

from mendgauge.rulebooks import Edition, RulebookError, find_edition
from mendgauge.rulebooks.provision import CONDITIONS, Condition, Provision
from mendgauge.rulebooks.resolver import provisions_for
from mendgauge.rulebooks.schema.book import Book, Workshop
from mendgauge.rules.binding import BoundRules, bind_position_rules, bind_rules
from mendgauge.tyre.marking_facts import marking_facts_of
from mendgauge.tyre.tyre_class import TyreClass

ALL_CLASSES = list(get_args(TyreClass))
ENDED, LATER = date(2020, 1, 1), date(2099, 1, 1)
EACH_HEADING = pytest.mark.parametrize(("kind", "heading", "provision"), made.HEADINGS, ids=made.IDS)


@cache
def shipped_answers(edition: Edition) -> dict[str, Any]:
    return made.answers(edition)


def others(edition: Edition, kind: type[Book | Workshop], heading: str, **limits: object) -> list[dict[str, object]]:
    """For each topic of a heading, an entry for every class that says something else."""
    found: dict[str, dict[str, object]] = {}
    for entry in made.entries_of(edition, kind, heading):
        other = made.changed(entry, classes=ALL_CLASSES, **limits)
        found.setdefault(msgspec.convert(other, type(entry)).about, other)
    return list(found.values())


@EACH_HEADING
def test_a_provision_that_ended_judges_no_later_case(
    kind: type[Book | Workshop], heading: str, provision: type[Provision]
) -> None:
    shipped = made.a_book_with(kind, heading)
    ended = others(shipped, kind, heading, ends=ENDED)
    edition = made.with_entries(shipped, kind, heading, *ended, others_start=ENDED)
    of_last_day = made.entries_of(edition.in_force(date(2019, 12, 31)), kind, heading)
    assert {type(entry) for entry in of_last_day[: len(ended)]} == {provision}
    assert made.answers(edition) == shipped_answers(shipped)


@EACH_HEADING
def test_the_same_provision_would_have_changed_an_answer(
    kind: type[Book | Workshop], heading: str, provision: type[Provision]
) -> None:
    shipped = made.a_book_with(kind, heading)
    in_force = others(shipped, kind, heading, ends=LATER)
    edition = made.with_entries(shipped, kind, heading, *in_force, others_start=LATER)
    said = shipped_answers(shipped)
    assert any(made.answer(edition, name) != said[name] for name in made.CASES), provision


EACH_CONDITION = pytest.mark.parametrize(
    ("kind", "heading", "provision", "condition"),
    [
        pytest.param(kind, heading, provision, condition, id=f"{name}-{condition}")
        for (kind, heading, provision), name in zip(made.HEADINGS, made.IDS, strict=True)
        for condition in CONDITIONS
        if condition not in provision.honours
    ],
)
UNTRUE: dict[Condition, dict[str, object]] = {
    "kinds": {"kinds": ["trailer"]},
    "mass": {"mass_over_kg": 150_000.0},
    "speed": {"speed_over": "Y"},
    "section": {"section_over_mm": 700.0},
    "steered": {"steered": True},
    "fitment": {"fitment": "dual", "trait": "regrooved"},
    "trait": {"trait": "regrooved"},
}
"""Conditions that hold of none of a car's tyres."""


@EACH_CONDITION
def test_a_condition_that_no_lookup_tests_is_refused(
    kind: type[Book | Workshop], heading: str, provision: type[Provision], condition: Condition
) -> None:
    shipped = made.a_book_with(kind, heading)
    entries = others(shipped, kind, heading, **UNTRUE[condition])
    with pytest.raises(RulebookError) as refused:
        made.with_entries(shipped, kind, heading, *entries)
    about = msgspec.convert(entries[0], provision).about
    named = ", ".join(([about] if about else []) + ALL_CLASSES)
    place = f"{made.file_of(shipped, kind)}: [[{heading}]] entry 1 ({named})"
    field = next(iter(UNTRUE[condition]))
    assert str(refused.value).startswith(f"{place}: {field} cannot be tested under this heading; ")


EACH_HONOURED = pytest.mark.parametrize(
    ("kind", "heading", "condition"),
    [
        pytest.param(kind, heading, condition, id=f"{name}-{condition}")
        for (kind, heading, provision), name in zip(made.HEADINGS, made.IDS, strict=True)
        for condition in CONDITIONS
        if condition in provision.honours
    ],
)


@EACH_HONOURED
def test_a_provision_whose_condition_does_not_hold_changes_no_answer(
    kind: type[Book | Workshop], heading: str, condition: Condition
) -> None:
    shipped = made.a_book_with(kind, heading)
    edition = made.with_entries(shipped, kind, heading, *others(shipped, kind, heading, **UNTRUE[condition]))
    found, before = made.answer(edition, "a car tyre"), shipped_answers(shipped)["a car tyre"]
    assert made.without(found, "rules_checked") == made.without(before, "rules_checked")


@pytest.mark.parametrize("fitment", ["dual_inner", "dual_outer"])
def test_a_fitment_is_distinguished_no_finer_than_it_is_tested(fitment: str) -> None:
    shipped = made.a_book_with(Book, "age")
    with pytest.raises(RulebookError, match=f"Invalid enum value '{fitment}'"):
        made.with_entries(shipped, Book, "age", {**others(shipped, Book, "age")[0], "fitment": fitment})


def test_a_speed_condition_names_a_speed_symbol() -> None:
    shipped = made.a_book_with(Book, "band")
    with pytest.raises(RulebookError, match=r"\[\[band\]\] entry 1 \(.*\): speed_to: 'O'"):
        made.with_entries(shipped, Book, "band", *others(shipped, Book, "band", speed_to="O"))


@pytest.mark.parametrize(
    ("heading", "topic"),
    [(heading, topic) for _, heading, kind in made.HEADINGS for topic in kind.must_say if _ is Workshop],
)
def test_the_workshop_says_at_any_time_what_a_lookup_takes_for_granted(heading: str, topic: str) -> None:
    shipped = made.a_book_with(Workshop, heading)
    entries = [
        made.changed(entry, ends=LATER) for entry in made.entries_of(shipped, Workshop, heading) if entry.about == topic
    ]
    about = f" on {topic}" if topic else ""
    says = rf"^workshop-{made.EDITION}\.toml: \[\[{heading}\]\] says nothing{about} for .*car.* from {LATER} on\.$"
    with pytest.raises(RulebookError, match=says):
        made.replacing(shipped, Workshop, heading, topic, *entries)


def test_the_first_provision_that_certainly_applies_is_the_one() -> None:
    shipped = made.a_book_with(Workshop, "estimates")
    edition = made.with_entries(
        shipped, Workshop, "estimates", *others(shipped, Workshop, "estimates", ends=LATER), others_start=LATER
    )
    for of in get_args(TyreClass):
        entries = provisions_for(edition, "estimates", of)
        assert [entry.ends for entry in entries[:4]] == [LATER] * 4
        assert {entry.starts for entry in entries[4:]} == {LATER}


@pytest.mark.parametrize("field", ['kinds = ["car"]', 'when = ["run_low"]', "ends = 2030-01-01"])
@pytest.mark.parametrize("heading", ["coats", "heat_cure", "drying", "run_low", "spread", "times"])
def test_a_procedure_limits_by_class_alone_what_is_looked_up_by_class_alone(heading: str, field: str) -> None:
    with pytest.raises(
        RulebookError, match=rf"^procedure-{made.EDITION}\.toml: .*`{field.split()[0]}` - at `\$\.{heading}\[0\]`"
    ):
        made.with_line(f"procedure-{made.EDITION}.toml", heading, field)


@pytest.mark.parametrize("bind", [bind_rules, bind_position_rules])
@pytest.mark.parametrize("text", ["205/55R16 91V", "225/45R17 94Y", "315/80R22.5 156/150L"])
def test_a_day_adds_nothing_to_what_is_kept(bind: Callable[..., BoundRules], text: str) -> None:
    days = (date(2026, 11, 24), date(2026, 11, 25), date(2027, 2, 28))
    marking = marking_facts_of(text)
    for use in marking.uses_on[None]:
        bound = [bind(find_edition("gb").in_force(on), use, marking.size_and_speed) for on in days]
        assert bound[0] is bound[1] is bound[2]


def test_markings_that_no_condition_tells_apart_share_their_rules() -> None:
    """In the British book what a car tyre may have changes above H, and not between S and H, nor from 205 to 225 mm."""
    edition = find_edition("gb")
    slow, slower, fast = (marking_facts_of(text) for text in ("205/55R16 91H", "225/60R16 98S", "205/55R16 91V"))
    (use,) = slow.uses_on["car"]
    rules = bind_rules(edition, use, slow.size_and_speed)
    assert bind_rules(edition, use, slower.size_and_speed) is rules
    assert bind_rules(edition, use, fast.size_and_speed) is not rules
