"""The typesetter, in this process: data into a template, out comes a PDF or a picture.

Data reach a template as JSON, and markup in them stays text. Only the fonts beside this module are used, so a page
looks the same on every machine; characters that these lack become boxes, as accessible PDF allows no missing glyphs.
"""

from __future__ import annotations

from functools import lru_cache
from importlib import resources
from typing import TYPE_CHECKING, Any, Final, Literal, TypeAlias

import msgspec

if TYPE_CHECKING:
    # The typesetter is an extra: whoever has it not may import this module all the same.
    import typst

Form: TypeAlias = Literal["pdf", "png"]

_STANDARDS: Final[list[typst.PDFStandard]] = ["ua-1", "a-2a"]
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


def typeset(template: str, data: Any, form: Form, ppi: float) -> bytes:
    """Return a template of this room filled with data: a PDF, or its first page as PNG at so many pixels an inch."""
    import typst

    made: Any = typst.compile(
        _template(template),
        format=form,
        ppi=ppi,
        font_paths=fonts(),
        ignore_system_fonts=True,
        sys_inputs={"data": msgspec.json.encode(_boxed(data)).decode()},
        pdf_standards=_STANDARDS if form == "pdf" else None,
    )
    first: bytes = made[0] if isinstance(made, list) else made
    return first


@lru_cache(maxsize=1)
def fonts() -> typst.Fonts:
    """Return the fonts of this room, and no other."""
    import typst

    with resources.as_file(resources.files(__package__) / "fonts") as folder:
        return typst.Fonts(include_system_fonts=False, include_embedded_fonts=False, font_paths=[str(folder)])


@lru_cache(maxsize=8)
def _template(name: str) -> bytes:
    return resources.files(__package__).joinpath("templates", f"{name}.typ").read_bytes()


def _boxed(value: Any) -> Any:
    """Return data with a box for every character that cannot be printed."""
    if isinstance(value, str):
        return value.translate(_BOXES)
    if isinstance(value, dict):
        return {name: _boxed(part) for name, part in value.items()}
    return [_boxed(part) for part in value] if isinstance(value, list) else value


class _Boxes(dict[int, str]):
    """What each character becomes on paper; those that are drawn often are kept."""

    def __missing__(self, code: int) -> str:
        found = chr(code) if code == _LINE_END or any(low <= code <= high for low, high in IN_THE_FONTS) else _MISSING
        if code < _KEPT_TO:
            self[code] = found
        return found


_KEPT_TO: Final = 0x2200
_BOXES: Final = _Boxes()
