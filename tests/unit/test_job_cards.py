"""Printed sheets: the right one for each verdict, everything on it that the bench needs, the same bytes each time."""

from __future__ import annotations

import io
from datetime import date
from typing import Any

import msgspec
import pdfplumber
import pikepdf
import pytest
from tests.unit.test_drawings import BEYOND, CASES, DRIVER, HOSTILE, MARKING_ALONE, SIDEWALL, SOUND, TRUCK

from mendgauge.case.case import Case
from mendgauge.core.errors import CaseError
from mendgauge.operations.gauges.paper import SHEETS, Paper
from mendgauge.operations.job_cards import print_card, write_card

ON = date(2026, 11, 24)
MM = 25.4 / 72.0


def printed(case: dict[str, Any], paper: Paper = "a4") -> bytes:
    return print_card(write_card(msgspec.convert(case, Case), paper, ON))


def pages(case: dict[str, Any], paper: Paper = "a4") -> list[Any]:
    return list(pdfplumber.open(io.BytesIO(printed(case, paper))).pages)


def text(page: Any) -> str:
    return " ".join(page.extract_text().split())


@pytest.mark.parametrize(
    ("case", "titles"),
    [
        (SOUND, ["Job card", "For the driver"]),
        (BEYOND, ["Why this tyre is not repaired"]),
        (SIDEWALL, ["Why this tyre is not repaired"]),
        (MARKING_ALONE, ["Intake sheet"]),
        (DRIVER, ["Intake sheet"]),
    ],
)
def test_each_verdict_has_its_sheets(case: dict[str, Any], titles: list[str]) -> None:
    assert [sheet.title for sheet in write_card(msgspec.convert(case, Case), "a4", ON).sheets] == titles


def test_a_job_card_is_one_sheet_of_paper_with_a_back_and_the_drivers_slip_apart() -> None:
    front, back, driver = pages(SOUND)
    assert text(front).startswith("Job card May be repaired")
    for said in ("DEPOT-3/OFFSIDE-REAR", "Hole as found", "Technician", "Cement, batch and expiry", "Drying clock"):
        assert said in text(front)
    assert "Stop and check:" in text(back)
    assert "Largest hole as found: at most 6 mm" in text(back)
    assert text(driver).startswith("For the driver")
    assert "Driver's signature" in text(driver)


def test_every_step_of_the_plan_has_a_box() -> None:
    from mendgauge.operations.work_plans import plan_work

    back = text(pages(SOUND)[1])
    for place, step in enumerate(plan_work(msgspec.convert(SOUND, Case), ON).steps):
        assert f"{place + 1}. {step.title}" in back


def test_follow_ups_have_their_day() -> None:
    assert "Due on 25 November 2026." in text(pages(SOUND)[0])


def test_a_refusal_names_the_rule_its_source_and_what_to_do() -> None:
    said = " ".join(text(page) for page in pages(BEYOND))
    assert "The repairable band ends at 71.8 mm. Source: BS AU 159g:2013" in said
    assert "What to do now" in said
    assert "Customer's signature" in said
    assert "The work" not in said


def test_an_intake_sheet_asks_in_the_order_in_which_a_tyre_comes_in() -> None:
    said = " ".join(text(page) for page in pages(MARKING_ALONE))
    asked_at = ("Look it up", "Ask the driver", "Look at the tyre on its rim", "Look at the tyre off its rim")
    places = [said.index(heading) for heading in asked_at]
    assert places == sorted(places)
    assert "Is there a bulge? Look at the sidewalls" in said
    assert "The work" not in said


def test_the_foot_names_the_rulebook_and_its_digest() -> None:
    for page in pages(SOUND):
        assert "Rulebook gb 2026.1, sha256:" in text(page)


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("case", CASES.values(), ids=CASES)
def test_any_case_prints_on_its_paper_and_within_it(case: dict[str, Any], paper: Paper) -> None:
    for page in pages(case, paper):
        assert page.width * MM == pytest.approx(SHEETS[paper].width, abs=0.1)
        assert page.height * MM == pytest.approx(SHEETS[paper].height, abs=0.1)
        for character in page.chars:
            assert 0.0 <= character["x0"] <= character["x1"] <= page.width
            assert 0.0 <= character["top"] <= character["bottom"] <= page.height


def test_the_drawings_on_it_are_to_scale() -> None:
    # gb: a band of 143.5 mm on a section of 205; the section of the card is drawn 1 : 2.
    front = pages(SOUND)[0]
    upright = [
        line["x0"] * MM
        for line in front.lines
        if line["dash"] == ([6, 1.5, 0.25, 1.5], 0) and abs(line["x1"] - line["x0"]) < 0.01
    ]
    assert max(upright) - min(upright) == pytest.approx(143.5 / 2.0, abs=0.1)


def test_it_is_accessible_and_to_be_kept_and_the_same_each_time() -> None:
    content = printed(TRUCK)
    assert content == printed(TRUCK)
    with pikepdf.open(io.BytesIO(content)) as opened:
        metadata = opened.open_metadata()
        assert metadata["pdfuaid:part"] == "1"
        assert (metadata["pdfaid:part"], metadata["pdfaid:conformance"]) == ("2", "A")
        assert opened.Root.MarkInfo.Marked
        assert str(opened.Root.Lang) == "en-US"


@pytest.mark.parametrize("hostile", HOSTILE.values(), ids=HOSTILE)
def test_a_callers_text_stays_text(hostile: str) -> None:
    for case in (SOUND, BEYOND, MARKING_ALONE):
        unit = {"code": hostile[:40], "kind": "one_piece", "stem_mm": 6, "stem_length_mm": 70, "patch_mm": 40}
        injuries = [{**injury, "object": hostile[:80]} for injury in case.get("injuries", [])]
        changed = case | {"reference": hostile, "stock": [unit]} | ({"injuries": injuries} if injuries else {})
        assert printed(changed).startswith(b"%PDF-1.7")


def test_the_markup_of_the_typesetter_stays_text() -> None:
    said = text(pages(SOUND | {"reference": "#panic() *x* $y$ \\ `z` <w> @v"})[0])
    assert "#panic() *x* $y$ \\ `z` <w> @v" in said


def test_an_impossible_case_is_refused() -> None:
    with pytest.raises(CaseError):
        printed(SOUND | {"tyre": {"marking": "none"}})
