"""The press: data into a template, out comes a PDF or a picture; the same data give the same bytes.

Data reach a template as JSON, and markup in them stays text. Only the fonts beside this module are used, so a page
looks the same on every machine; characters that these lack become boxes, as accessible PDF allows no missing glyphs.
"""

from __future__ import annotations

from datetime import date
from functools import lru_cache
from importlib import resources
from math import sqrt
from types import ModuleType
from typing import Any, Final, Literal, TypeAlias

import msgspec

Form: TypeAlias = Literal["pdf", "png"]

PIXELS_PER_INCH: Final = 150.0
_PIXELS_MAX: Final = 8_000_000
"""Of a picture: at four bytes each, what a small replica has to spare. A longer sheet is drawn coarser."""
_MM_PER_INCH: Final = 25.4
_STANDARDS: Final[list[Literal["ua-1", "a-2a"]]] = ["ua-1", "a-2a"]
"""ISO 14289-1, tagged for whoever cannot see the page; ISO 19005-2, conformance level A, to be kept."""
_LINE_END: Final = 0x0A
_MISSING: Final = "\u25a1"
IN_THE_FONTS: Final = (
    (0x20, 0x7E),
    (0xA0, 0xAC),
    (0xAE, 0x2FF),
    (0x391, 0x3A1),
    (0x3A3, 0x3CE),
    (0x3D0, 0x513),
    (0x5D0, 0x5EA),
    (0x1E00, 0x1E9B),
    (0x1EA0, 0x1EF9),
    (0x2010, 0x2010),
    (0x2012, 0x2022),
    (0x2026, 0x2026),
    (0x2030, 0x2030),
    (0x2032, 0x2034),
    (0x2039, 0x203A),
    (0x20A0, 0x20B5),
    (0x2116, 0x2117),
    (0x2122, 0x2122),
    (0x215B, 0x215E),
    (0x2190, 0x2195),
    (0x2212, 0x2212),
    (0x2248, 0x2248),
    (0x2264, 0x2265),
    (0x25A1, 0x25A1),
)
"""Characters of both fonts, as ranges; that they have them is tested. No accents apart: a stack of them is no glyph."""


class PrintingNotInstalledError(RuntimeError):
    """Raised where the typesetter is not installed; says how to install it."""

    def __init__(self) -> None:
        super().__init__("this deployment cannot print; install the service as `mendgauge[print]`")


class Page(msgspec.Struct, frozen=True):
    """One page that is drawn: an SVG, and the same in words."""

    svg: str
    alt: str


class Pages(msgspec.Struct, frozen=True):
    """Drawings to print at their true size, one a page, all of one size; lengths in mm."""

    title: str
    on: date
    language: str
    width_mm: float
    height_mm: float
    pages: tuple[Page, ...]


def print_pages(sheets: Pages, form: Form = "pdf") -> bytes:
    """Return drawings as PDF at their true size, or the first of them as PNG.

    Raises:
        PrintingNotInstalledError: The typesetter is not installed.
    """
    square_inches = sheets.width_mm * sheets.height_mm / _MM_PER_INCH**2
    return print_template("pages", sheets, form, min(PIXELS_PER_INCH, sqrt(_PIXELS_MAX / square_inches)))


def print_template(template: str, data: object, form: Form = "pdf", ppi: float = PIXELS_PER_INCH) -> bytes:
    """Return a template of this room filled with data: a PDF, or its first page as PNG.

    Raises:
        PrintingNotInstalledError: The typesetter is not installed.
    """
    typst = _typesetter()
    made = typst.compile(
        _template(template),
        format=form,
        ppi=ppi,
        font_paths=_fonts(),
        ignore_system_fonts=True,
        sys_inputs={"data": msgspec.json.encode(_boxed(msgspec.to_builtins(data))).decode()},
        pdf_standards=_STANDARDS if form == "pdf" else [],
    )
    pages: list[bytes] = made if isinstance(made, list) else [made]
    return pages[0]


def _boxed(value: Any) -> Any:
    """Return data with a box for every character that cannot be printed."""
    if isinstance(value, str):
        return value.translate(_Boxes())
    if isinstance(value, dict):
        return {name: _boxed(part) for name, part in value.items()}
    return [_boxed(part) for part in value] if isinstance(value, (list, tuple)) else value


class _Boxes(dict[int, str]):
    """What each character becomes on paper, learnt as they come."""

    def __missing__(self, code: int) -> str:
        found = chr(code) if code == _LINE_END or any(low <= code <= high for low, high in IN_THE_FONTS) else _MISSING
        self[code] = found
        return found


def _typesetter() -> ModuleType:
    try:
        import typst
    except ModuleNotFoundError as error:
        raise PrintingNotInstalledError from error
    return typst


@lru_cache(maxsize=1)
def _fonts() -> object:
    with resources.as_file(resources.files(__package__) / "fonts") as folder:
        return _typesetter().Fonts(include_system_fonts=False, include_embedded_fonts=False, font_paths=[str(folder)])


@lru_cache(maxsize=8)
def _template(name: str) -> bytes:
    return resources.files(__package__).joinpath("templates", f"{name}.typ").read_bytes()
