"""Cases of the trade with the verdict that the rulebook's own source leads to, reasoned by hand, in `tests/cases/`.

Each file is one rulebook. `[base]` is a sound case of which everything is known; `[like.NAME]` lies over it for another
kind of vehicle. A case lies over these: its tables merge, a list's tables lie over those at the same place (the last
stands for all that follow), anything else replaces. `without` takes facts away, by their pointers: not known.

What is expected: the verdict, `possible` while it is not firm, every rule `broken`, and where given the rules `open`
that may still change the verdict, the next step, and the field asked for first.
"""

from __future__ import annotations

import re
import tomllib
from pathlib import Path
from typing import Any, get_args

import msgspec
import pytest

from mendgauge.case.case import Case
from mendgauge.operations.repairability import check_repairability
from mendgauge.operations.repairability.answer import Repairability
from mendgauge.rulebooks import list_editions
from mendgauge.rulebooks.provision import Basis, Language
from mendgauge.wording import wording

FILES = sorted((Path(__file__).parents[1] / "cases").glob("*.toml"))
LANGUAGES: tuple[Language, ...] = get_args(Language)
FULL = ("gb", "us", "de", "au", "nz", "jp")


class Scenario(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """One case as it stands in its file, with what is expected of it."""

    name: str
    why: str
    source: str
    basis: Basis
    verdict: str
    like: str | None = None
    case: dict[str, Any] = {}
    without: tuple[str, ...] = ()
    possible: tuple[str, ...] = ()
    broken: tuple[str, ...] = ()
    open: tuple[str, ...] | None = None
    next_step: str | None = None
    asks_first: str | None = None
    says_not_covered: tuple[str, ...] = ()


class CaseFile(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """One rulebook's cases."""

    base: dict[str, Any]
    like: dict[str, dict[str, Any]] = {}
    cases: tuple[Scenario, ...]


def read(path: Path) -> CaseFile:
    return msgspec.convert(tomllib.loads(path.read_text("utf-8")), CaseFile)


BOOKS = {path.stem: read(path) for path in FILES}
EVERY = [(book, scenario) for book, file in BOOKS.items() for scenario in file.cases]


def slug(name: str) -> str:
    return re.sub(r"[^\w.]+", "-", name)


def laid_over(base: Any, over: Any) -> Any:
    if isinstance(base, dict) and isinstance(over, dict):
        return base | {key: laid_over(base.get(key), value) for key, value in over.items()}
    if isinstance(base, list) and isinstance(over, list):
        return [laid_over(base[min(i, len(base) - 1)] if base else None, value) for i, value in enumerate(over)]
    return over


def taken_out(case: dict[str, Any], pointer: str) -> None:
    *way, name = pointer.strip("/").split("/")
    within: Any = case
    for part in way:
        within = within[int(part)] if isinstance(within, list) else within[part]
    del within[name]


def judged(book: str, scenario: Scenario) -> Repairability:
    file = BOOKS[book]
    case = laid_over(file.base, file.like[scenario.like]) if scenario.like else file.base
    case = msgspec.json.decode(msgspec.json.encode(laid_over(case, scenario.case)))
    for pointer in scenario.without:
        taken_out(case, pointer)
    return check_repairability(msgspec.convert({**case, "detail": "full"}, Case))


def listed_in(text: str) -> list[str]:
    """The topics that a caution lists in its first sentence."""
    first = text.removeprefix("This rulebook gives no figure for ").partition(".")[0]
    return first.replace(" or ", ", ").split(", ")


@pytest.mark.parametrize(("book", "scenario"), EVERY, ids=[f"{book}-{slug(scenario.name)}" for book, scenario in EVERY])
def test_the_verdict_is_the_one_its_source_leads_to(book: str, scenario: Scenario) -> None:
    answer = judged(book, scenario)
    at_stake = [one for one in answer.findings if (one.outcome, one.effect) != ("open", "caution")]
    found = {
        outcome: tuple(sorted({one.rule for one in at_stake if one.outcome == outcome}))
        for outcome in ("broken", "open")
    }
    assert answer.verdict == scenario.verdict, found
    assert answer.possible_verdicts == (scenario.possible or (scenario.verdict,))
    assert found["broken"] == tuple(sorted(scenario.broken))
    if scenario.open is not None:
        assert found["open"] == tuple(sorted(scenario.open))
    if scenario.next_step is not None:
        assert answer.next_step == scenario.next_step
    if scenario.asks_first is not None:
        assert answer.to_establish[0].field == scenario.asks_first
    said = [caution.says for caution in answer.cautions if caution.code == "not_covered"]
    for question in scenario.says_not_covered:
        topics = {wording(language).not_covered.topics[question] for language in LANGUAGES}
        assert any(topic in listed_in(text) for text in said for topic in topics), said


def test_a_case_is_told_by_its_name_and_an_open_verdict_by_its_possibilities() -> None:
    for book, file in BOOKS.items():
        assert file.base["rulebook"] == book
        names = [scenario.name for scenario in file.cases]
        assert len(set(names)) == len(names)
        for scenario in file.cases:
            assert (scenario.verdict == "inspect") == bool(scenario.possible), scenario.name


def test_every_rulebook_has_its_cases() -> None:
    assert set(BOOKS) == {edition.book.id for edition in list_editions()}
    assert all(len(BOOKS[book].cases) >= (15 if book in FULL else 8) for book in BOOKS)
    assert len(EVERY) >= 150


@pytest.mark.parametrize(
    ("section_width", "printed"),
    [(125, 75), (135, 81), (145, 87), (155, 93), (165, 107), (175, 114), (185, 120), (195, 127)],
)
def test_the_british_band_is_as_wide_as_its_printed_table(section_width: int, printed: int) -> None:
    """BS AU 159g:2013, minor repair area in whole mm, as the British tyre manufacturers' association prints it."""
    case = {
        "rulebook": "gb",
        "vehicle": {"kind": "car"},
        "tyre": {"marking": f"{section_width}/70R13"},
        "detail": "full",
    }
    band = next(found for found in check_repairability(msgspec.convert(case, Case)).findings if found.rule == "band")
    assert band.limit is not None
    assert band.limit.value_high is None
    assert round(2.0 * band.limit.value) == printed
