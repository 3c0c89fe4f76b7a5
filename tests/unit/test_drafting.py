"""Drafting: letters as wide as their fonts have them, hatching inside its shape, texts made fit to draw."""

from __future__ import annotations

import pytest

from mendgauge.drafting.hatching import hatched
from mendgauge.drafting.lettering import fitted, lines_of, printable, width_mm
from mendgauge.drafting.scales import largest_scale, scale_in_words
from mendgauge.drafting.shapes import drawing, text


def test_a_letter_is_as_wide_as_in_helvetica() -> None:
    # Adobe font metrics of Helvetica: H 722, e 556, l 222, v 500, t 278, i 222, c 500, a 556 of a thousand.
    assert width_mm("Helvetica", 10.0) == pytest.approx(41.12, abs=0.001)


def test_lines_keep_to_their_room_and_lose_nothing() -> None:
    words = "The channel reaches 78.5 to 79.9 mm from the centre line. " + "W" * 40
    lines = lines_of(words, 30.0, 2.8)
    assert all(width_mm(line, 2.8) <= 30.0 for line in lines)
    assert "".join(lines).replace(" ", "") == words.replace(" ", "")


def test_a_text_is_cut_to_its_room() -> None:
    assert fitted("short", 30.0, 2.8) == "short"
    cut = fitted("W" * 100, 30.0, 2.8)
    assert cut.endswith("…")
    assert width_mm(cut, 2.8) <= 30.0


@pytest.mark.parametrize(
    ("given", "drawn"),
    [
        ("a\tb\nc", "a b c"),
        ("\u202eabc", "abc"),
        ("x" * 300, "x" * 199 + "…"),
        ("e\u0301", "é"),
        ("a" + "\u0336" * 9, "a\u0336\u0336"),
        ("\ud7ff\x07", "\ufffd\ufffd"),
    ],
)
def test_a_callers_text_is_made_fit_to_draw(given: str, drawn: str) -> None:
    assert printable(given) == drawn


def test_hatching_stays_in_its_shape() -> None:
    (made,) = hatched(((0.0, 0.0), (20.0, 0.0), (20.0, 5.0), (0.0, 5.0)))
    numbers = [float(part) for part in made.get("d", "").replace("M", " ").replace("L", " ").split()]
    assert len(numbers) > 20
    assert all(0.0 <= x <= 20.0 for x in numbers[::2])
    assert all(0.0 <= y <= 5.0 for y in numbers[1::2])


def test_a_scale_is_the_largest_that_fits() -> None:
    assert largest_scale(((205.0, 180.0),)) == 0.5
    assert largest_scale(((30.0, 70.0), (10.0, 15.0))) == 1.0
    assert largest_scale(((1e9, 1.0),)) == 0.02
    assert scale_in_words(0.4) == "1 : 2.5"


def test_markup_in_a_text_is_escaped() -> None:
    svg = drawing([text("<a>&", (1.0, 1.0))], 10.0, 10.0, "<t>", '"&')
    assert "&lt;a&gt;&amp;" in svg
    assert "<a>" not in svg
