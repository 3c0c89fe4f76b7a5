"""The paper gauge: the PDF's own geometry, measured, against the rulebook's figures and the printed ones."""

from __future__ import annotations

import io
from datetime import date
from math import atan2, degrees
from typing import Any

import pdfplumber
import pikepdf
import pypdfium2
import pytest
from tests.drawn import Drawn

from mendgauge.core.errors import CaseError
from mendgauge.core.vocabulary import VehicleKind
from mendgauge.operations.gauges import draw_gauge, print_gauge
from mendgauge.operations.gauges.paper import SHEETS, Paper

ON = date(2026, 11, 24)
MM = 25.4 / 72.0
WIDE_DASHED = ([6, 1.5, 0.25, 1.5], 0)
WIDE_PT = 0.5 / MM

# BS AU 159g:2013, band widths that the standard prints, whole mm, by nominal section width (second-hand).
PRINTED = {
    "125/80R13 65S": 75,
    "135/80R13 70T": 81,
    "145/80R13 75T": 87,
    "155/80R13 79T": 93,
    "165/70R14 81T": 107,
    "175/65R14 82T": 114,
    "185/60R14 82H": 120,
    "195/65R15 91H": 127,
}
# The same standard: 60 % of the section width to 155 mm, 65 % over 155 to 200, 70 % over 200; the unrounded product.
PRODUCTS = {"125/80R13 65S": 75.0, "165/70R14 81T": 107.25, "195/65R15 91H": 126.75, "205/55R16 91V": 143.5}


def pdf(
    marking: str,
    rulebook: str = "gb@2026.1",
    kind: VehicleKind = "car",
    paper: Paper = "a4",
    tread_width_mm: float | None = None,
) -> bytes:
    return print_gauge(draw_gauge(marking, rulebook, kind, paper, tread_width_mm=tread_width_mm, today=ON))


def pages(content: bytes) -> list[Any]:
    return list(pdfplumber.open(io.BytesIO(content)).pages)


def band_lines(page: Any) -> list[float]:
    """Where across the page the upright lines are that bound the band, mm."""
    return sorted(
        line["x0"] * MM
        for line in page.lines
        if line["dash"] == WIDE_DASHED and abs(line["x1"] - line["x0"]) < 0.01 and line["height"] * MM > 40
    )


@pytest.mark.parametrize(("marking", "printed"), PRINTED.items())
def test_the_band_rounds_to_what_the_british_standard_prints(marking: str, printed: int) -> None:
    left, right = band_lines(pages(pdf(marking))[0])
    assert round(right - left) == printed


@pytest.mark.parametrize(("marking", "width"), PRODUCTS.items())
def test_the_band_is_as_wide_as_the_rulebook_says_to_a_tenth(marking: str, width: float) -> None:
    left, right = band_lines(pages(pdf(marking))[0])
    assert right - left == pytest.approx(width, abs=0.1)


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_the_sheet_is_as_large_as_the_paper_and_the_check_lines_as_long_as_they_say(paper: Paper) -> None:
    (page,) = pages(pdf("205/55R16 91V", paper=paper))
    sheet = SHEETS[paper]
    assert page.width * MM == pytest.approx(sheet.width, abs=0.1)
    assert page.height * MM == pytest.approx(sheet.height, abs=0.1)
    level = [line for line in page.lines if abs(line["top"] - line["bottom"]) < 0.01 and line["dash"] is None]
    lengths = [line["width"] * MM for line in level if abs(line["linewidth"] - WIDE_PT) < 0.01]
    assert any(abs(length - 100.0) < 0.05 for length in lengths)
    assert any(abs(length - 101.6) < 0.05 for length in lengths)
    assert "If one is not as long as it says, do not use this sheet" in " ".join(page.extract_text().split())


def test_the_fan_shows_the_largest_lean_for_one_piece() -> None:
    # gb: 25 degrees from the perpendicular, common practice.
    (page,) = pages(pdf("205/55R16 91V"))
    slanted = [line for line in page.lines if line["dash"] == WIDE_DASHED and line["width"] > 5]
    angles = {round(degrees(atan2(line["width"], line["height"])), 1) for line in slanted}
    assert len(slanted) == 2
    assert angles == {25.0}


def test_holes_and_patches_are_drawn_at_full_size() -> None:
    # gb truck: 10 mm; the workshop's nominal cutters 3 to 10 and its generic patches 35 to 75.
    (page,) = pages(pdf("315/80R22.5 156/150L", kind="truck", tread_width_mm=240.0))
    round_ones = sorted(
        round(curve["width"] * MM, 1) for curve in page.curves if abs(curve["width"] - curve["height"]) < 0.05
    )
    assert {3.0, 4.5, 6.0, 8.0, 10.0, 35.0, 45.0, 55.0, 65.0, 75.0} <= set(round_ones)


def test_a_band_wider_than_the_paper_comes_in_halves_with_register_marks() -> None:
    # gb truck: the American crown edge, 38.1 mm in from each edge of the tread: 280 - 76.2 = 203.8.
    first, second = pages(pdf("315/80R22.5 156/150L", kind="truck", tread_width_mm=280.0))
    edges = band_lines(first)
    assert len(edges) == 2
    rings = {round((c["x0"] + c["x1"]) / 2 * MM, 2) for c in first.curves if abs(c["width"] * MM - 4.0) < 0.05}
    assert len(rings) == 2
    left, right = sorted(rings)
    assert edges[1] - left == pytest.approx(101.9, abs=0.1)
    assert right - edges[0] == pytest.approx(101.9, abs=0.1)
    assert "100 millimetres" in second.extract_text()


def test_without_the_width_of_the_tread_an_inset_is_a_strip_for_its_edge() -> None:
    # us: 25.4 mm in from the edge of the tread, common practice; nothing here says how wide the tread is.
    (page,) = pages(pdf("P205/55R16 89H", rulebook="us@2026.1", paper="letter"))
    (line,) = band_lines(page)
    assert line - 10.0 == pytest.approx(25.4, abs=0.1)


def test_a_picture_of_it_at_300_dpi_has_the_band_where_it_should_be() -> None:
    page = pypdfium2.PdfDocument(pdf("205/55R16 91V"))[0]
    picture = page.render(scale=300.0 / 72.0).to_pil().convert("L")
    per_mm = 300.0 / 25.4
    row = round(52.0 * per_mm)
    dark = [x / per_mm for x in range(picture.width) if picture.getpixel((x, row)) < 100]
    # The middle of the page is 105 mm from its left; the band is 143.5 mm wide; its line is 0.5 mm wide.
    for edge in (105.0 - 71.75, 105.0 + 71.75):
        assert min(abs(x - edge) for x in dark) < 0.1


def test_it_names_what_it_is_valid_for_and_where_each_figure_comes_from() -> None:
    text = " ".join(pages(pdf("205/55R16 91V"))[0].extract_text().split())
    assert "Valid for this size on a car, by rulebook gb 2026.1, on 24 November 2026." in text
    assert "Band: BS AU 159g:2013" in text
    assert "(read in a summary)" in text


@pytest.mark.parametrize(
    ("marking", "rulebook", "kind"),
    [
        ("205/55R16 91V", "de@2026.1", "car"),
        ("205/55R16 91V", "nz@2026.1", "car"),
        ("180/55ZR17 (73W)", "gb@2026.1", "motorcycle"),
        ("LT265/70R17 121/118S E", "us@2026.1", "van"),
        ("11R22.5", "us@2026.1", "bus"),
    ],
)
@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_every_gauge_stays_on_its_paper(marking: str, rulebook: str, kind: VehicleKind, paper: Paper) -> None:
    for page in draw_gauge(marking, rulebook, kind, paper, today=ON).pages:
        drawn = Drawn(page.svg)
        assert not drawn.off_the_sheet()
        assert not drawn.on_each_other()


def test_it_is_accessible_and_to_be_kept_and_the_same_each_time() -> None:
    content = pdf("205/55R16 91V")
    assert content == pdf("205/55R16 91V")
    with pikepdf.open(io.BytesIO(content)) as opened:
        metadata = opened.open_metadata()
        assert metadata["pdfuaid:part"] == "1"
        assert (metadata["pdfaid:part"], metadata["pdfaid:conformance"]) == ("2", "A")
        assert opened.Root.MarkInfo.Marked


def test_a_marking_that_does_not_suit_the_vehicle_is_refused() -> None:
    with pytest.raises(CaseError):
        draw_gauge("205/55R16 91V", "gb@2026.1", "motorcycle", today=ON)
    with pytest.raises(CaseError):
        draw_gauge("no tyre", "gb@2026.1", "car", today=ON)
