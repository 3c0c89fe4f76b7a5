"""The press: whatever a caller wrote stays text, and the fonts have what the press takes them to have."""

from __future__ import annotations

import io
import sys
from datetime import date
from importlib import resources
from typing import Any

import msgspec
import pdfplumber
import pytest
from fontTools.ttLib import TTFont
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.unit.test_drawings import CASES, HOSTILE, SOUND

from mendgauge.case.case import Case
from mendgauge.drafting import lettering
from mendgauge.drafting.shapes import drawing
from mendgauge.drafting.shapes import text as shape
from mendgauge.operations.drawings import draw_tyre
from mendgauge.operations.drawings.picture import print_picture
from mendgauge.printing import press, typesetter

ON = date(2026, 11, 24)
MM = 25.4 / 72.0
FONTS = ("LiberationSans-Regular.ttf", "LiberationSans-Bold.ttf")


def font(name: str) -> Any:
    return TTFont(io.BytesIO(resources.files("mendgauge.printing").joinpath("fonts", name).read_bytes()))


@pytest.mark.parametrize("name", FONTS)
def test_the_fonts_have_every_character_that_is_printed(name: str) -> None:
    has = font(name).getBestCmap()
    assert [hex(c) for low, high in typesetter.IN_THE_FONTS for c in range(low, high + 1) if c not in has] == []


def test_letters_are_measured_as_the_font_has_them() -> None:
    regular = font(FONTS[0])
    names, widths, units = regular.getBestCmap(), regular["hmtx"], regular["head"].unitsPerEm
    for character in map(chr, range(0x20, 0x7F)):
        width = widths[names[ord(character)]][0] * 1000.0 / units
        assert lettering.width_mm(character, 1000.0) == pytest.approx(width, abs=1.0), character


@pytest.mark.parametrize("case", CASES.values(), ids=CASES)
def test_a_drawing_prints_at_its_true_size(case: dict[str, Any]) -> None:
    picture = draw_tyre(msgspec.convert(case, Case), "sheet", ON)
    content = print_picture(picture, "pdf")
    (page,) = pdfplumber.open(io.BytesIO(content)).pages
    assert page.width * MM == pytest.approx(picture.width_mm, abs=0.1)
    assert page.height * MM == pytest.approx(picture.height_mm, abs=0.1)
    assert print_picture(picture, "pdf") == content


@pytest.mark.parametrize("text", HOSTILE.values(), ids=HOSTILE)
def test_hostile_text_prints_as_text(text: str) -> None:
    picture = draw_tyre(msgspec.convert(SOUND | {"reference": text}, Case), "sheet", ON)
    assert print_picture(picture, "pdf").startswith(b"%PDF-1.7")
    assert print_picture(picture, "png").startswith(b"\x89PNG")


@settings(max_examples=60)
@given(st.text(st.characters(exclude_categories=["Cs"]), min_size=1, max_size=100))
def test_any_text_prints(text: str) -> None:
    page = press.Page(drawing([shape(lettering.printable(text), (5.0, 20.0))], 90.0, 40.0, "a", "b"), "c")
    content = press.print_pages(press.Pages("d", ON, "en-GB", 90.0, 40.0, (page,)))
    assert content.startswith(b"%PDF")


def test_without_the_typesetter_it_says_what_to_install(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "typst", None)
    picture = draw_tyre(msgspec.convert(SOUND, Case), "sheet", ON)
    with pytest.raises(press.PrintingNotInstalledError, match=r"mendgauge\[print\]"):
        print_picture(picture, "pdf")


def test_a_press_that_was_killed_is_begun_anew(monkeypatch: pytest.MonkeyPatch) -> None:
    picture = draw_tyre(msgspec.convert(SOUND, Case), "sheet", ON)
    first = print_picture(picture, "pdf")
    running = press._press._process
    assert running is not None
    running.kill()
    running.wait()
    assert print_picture(picture, "pdf") == first
    monkeypatch.setattr(sys, "executable", "/bin/false")
    press._press.end()
    with pytest.raises(press.PrintingFailedError):
        print_picture(picture, "pdf")


def test_a_press_that_took_much_memory_is_replaced() -> None:
    picture = draw_tyre(msgspec.convert(CASES["many"], Case), "sheet", ON)
    pids = set()
    for place in range(6):
        assert print_picture(msgspec.structs.replace(picture, title=f"{place}"), "png").startswith(b"\x89PNG")
        assert press._press._process is not None
        pids.add(press._press._process.pid)
    assert len(pids) >= 2
