"""Text on a drawing: made fit to be drawn, measured, and broken into lines.

Letters are drawn in Arial, Helvetica or Liberation Sans, whichever is there: all three have the widths below, so a text
takes the same room everywhere. Widths: Adobe font metrics of Helvetica, in thousandths of the size.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator
from functools import lru_cache
from typing import Final

FAMILY: Final = "Liberation Sans, Arial, Helvetica, sans-serif"
BODY_MM: Final = 3.2
"""Size of letters, of which ISO 3098 counts the height of a capital: 2.3 mm here."""
SMALL_MM: Final = 2.8
TITLE_MM: Final = 4.6
LEADING: Final = 1.3
"""Distance of two lines in multiples of the size."""
CAPITAL: Final = 0.716
"""Height of a capital in multiples of the size."""

_WIDTHS: Final = {
    character: width
    for width, characters in (
        (191, "'"),
        (222, "ijl"),
        (260, "|"),
        (278, " !,./:;I[\\]ft"),
        (333, "()-`r"),
        (334, "{}"),
        (355, '"'),
        (389, "*"),
        (400, "°"),
        (469, "^"),
        (500, "Jckvsxyz"),
        (556, "#$0123456789?L_abdeghnopqu–"),
        (584, "+<=>~×±"),
        (611, "FTZ"),
        (667, "&ABEKPSVXY"),
        (722, "CDHNRUw"),
        (778, "GOQØ"),
        (833, "Mm"),
        (889, "%"),
        (944, "W"),
        (1000, "…—"),
        (1015, "@"),
    )
    for character in characters
}
_WIDEST: Final = 1000
"""What a letter of another script may take."""
_REPLACEMENT: Final = "\ufffd"
_MARKS_TOGETHER: Final = 2
"""Accents that may stand on one letter; more are no word of any language."""


def printable(text: str, most: int = 200) -> str:
    r"""Return a caller's text as one line that draws nothing but itself.

    Control characters become a replacement sign; what only turns, joins or hides its neighbours goes, as direction
    marks do; blanks become one space; a text of more characters than `most` is cut.

    >>> printable("DEPOT\u202e-3\n<b>\x00")
    'DEPOT-3 <b>�'
    """
    found: list[str] = []
    marks = 0
    for character in unicodedata.normalize("NFC", text[: 4 * most]):
        kind = unicodedata.category(character)
        marks = marks + 1 if kind == "Mn" else 0
        if character.isspace():
            if found and found[-1] != " ":
                found.append(" ")
        elif kind in ("Cc", "Cs", "Co", "Cn"):
            found.append(_REPLACEMENT)
        elif kind != "Cf" and marks <= _MARKS_TOGETHER:
            found.append(character)
    cut = "".join(found).strip()
    return cut if len(cut) <= most else cut[: most - 1].rstrip() + "…"


def width_mm(text: str, size_mm: float) -> float:
    """Return the room that a text takes."""
    return sum(map(_width, text)) * size_mm / 1000.0


def _width(character: str) -> int:
    return _WIDTHS.get(character, _WIDEST)


@lru_cache(maxsize=512)
def lines_of(text: str, room_mm: float, size_mm: float) -> tuple[str, ...]:
    """Return a text in lines that keep to a width; a word that is longer than a line is broken."""
    return tuple(_lines(text, room_mm, size_mm))


def _lines(text: str, room_mm: float, size_mm: float) -> Iterator[str]:
    line = ""
    for word in text.split():
        tried = f"{line} {word}" if line else word
        if width_mm(tried, size_mm) <= room_mm:
            line = tried
            continue
        if line:
            yield line
        line = word
        while width_mm(line, size_mm) > room_mm and len(line) > 1:
            fits = next(n for n in range(len(line) - 1, 0, -1) if n == 1 or width_mm(line[:n], size_mm) <= room_mm)
            yield line[:fits]
            line = line[fits:]
    if line:
        yield line


def fitted(text: str, room_mm: float, size_mm: float) -> str:
    """Return a text cut to a width, with an ellipsis where something is left out."""
    if width_mm(text, size_mm) <= room_mm:
        return text
    kept = text
    while kept and width_mm(kept + "…", size_mm) > room_mm:
        kept = kept[:-1]
    return kept.rstrip() + "…"
