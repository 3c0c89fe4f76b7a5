"""The pages of a gauge: what stands where on the paper, and the same in words."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final
from xml.etree.ElementTree import Element

from mendgauge.core.interval import point
from mendgauge.drafting.lettering import SMALL_MM, TITLE_MM, printable
from mendgauge.drafting.pens import OUTLINE
from mendgauge.drafting.shapes import drawing, line, text
from mendgauge.operations.drawings.signs import dimension
from mendgauge.operations.gauges.figures import BandFigure, GaugeFigures, figures_of
from mendgauge.operations.gauges.paper import MARGIN_MM, SHEETS, Paper, Sheet
from mendgauge.operations.gauges.parts import (
    BEYOND_MM,
    FAN_MM,
    FAN_WIDTH_MM,
    STRIP_MM,
    check_lines,
    edge_strip,
    fan,
    half_strip,
    holes,
    paragraph,
    patches,
    tread_steps,
    whole_strip,
)
from mendgauge.operations.workup import Workup
from mendgauge.printing.press import Page, Pages
from mendgauge.rulebooks.provision import Provision
from mendgauge.wording import day_in_words
from mendgauge.wording.quantities import quantity

_BAND_AT: Final = 50.0
_SECOND_HALF: Final = STRIP_MM + 8.0
_GAP: Final = 6.0
_PATCHES_BELOW: Final = FAN_MM + 12.0
_COLUMN: Final = 114.0
"""Where the right column begins, mm from the left edge of the paper."""


def pages_of(workup: Workup, paper: Paper) -> Pages:
    """Return the pages of the gauge for a tyre."""
    sheet, figures, words = SHEETS[paper], figures_of(workup), workup.bound.words.gauges
    strip = list(_strip(workup, sheet, figures.band))
    deep = _strip_depth(sheet, figures.band)
    rest = _BAND_AT + deep + _GAP
    needed = _PATCHES_BELOW + 5.0 + max(figures.patches, default=0.0) + 4.0
    together = rest + needed <= sheet.height - MARGIN_MM
    drawn = (
        [[*strip, *_rest(workup, sheet, figures, rest)]]
        if together
        else [strip, list(_rest(workup, sheet, figures, 44.0))]
    )
    title = words.title.format(marking=printable(workup.case.tyre.marking, 80))
    alt = " ".join(_in_words(workup, figures))
    return Pages(
        title=title,
        on=workup.on,
        language=workup.bound.words.language,
        width_mm=sheet.width,
        height_mm=sheet.height,
        pages=tuple(
            Page(
                drawing([*_head(workup, sheet, place, len(drawn)), *parts], sheet.width, sheet.height, title, alt), alt
            )
            for place, parts in enumerate(drawn)
        ),
    )


def _head(workup: Workup, sheet: Sheet, place: int, count: int) -> Iterator[Element]:
    words, book, right = workup.bound.words.gauges, workup.edition.book, sheet.width - MARGIN_MM
    title = words.title.format(marking=printable(workup.case.tyre.marking, 80))
    yield text(title, (MARGIN_MM, MARGIN_MM + TITLE_MM), TITLE_MM, bold=True)
    if count > 1:
        yield text(words.page.format(page=place + 1, pages=count), (right, MARGIN_MM + TITLE_MM), SMALL_MM, "end")
    yield line((MARGIN_MM, MARGIN_MM + 7.0), (right, MARGIN_MM + 7.0), OUTLINE)
    day = day_in_words(workup.on, workup.bound.words.language)
    valid = words.valid_for.format(rulebook=book.id, edition=book.edition, kind=workup.facts[0].kind, day=day)
    yield text(valid, (MARGIN_MM, MARGIN_MM + 11.0), SMALL_MM)
    yield from check_lines(MARGIN_MM, MARGIN_MM + 14.0, sheet.room, words)


def _is_split(sheet: Sheet, band: BandFigure) -> bool:
    return band.half is not None and 2.0 * (band.half + BEYOND_MM) > sheet.room


def _strip_depth(sheet: Sheet, band: BandFigure | None) -> float:
    if band is None:
        return 10.0
    return STRIP_MM + (_SECOND_HALF if _is_split(sheet, band) else 0.0) + 4.0


def _strip(workup: Workup, sheet: Sheet, band: BandFigure | None) -> Iterator[Element]:
    words, language, centre = workup.bound.words.gauges, workup.bound.words.language, sheet.width / 2.0
    if band is None:
        yield from paragraph(words.no_band, MARGIN_MM, _BAND_AT, sheet.room)[0]
    elif band.half is None and band.inset is not None:
        yield from edge_strip(MARGIN_MM, _BAND_AT, band.inset, words, language)
    elif band.half is None:
        yield from paragraph(words.band_needs_tread, MARGIN_MM, _BAND_AT, sheet.room)[0]
    elif not _is_split(sheet, band):
        yield from whole_strip(centre, _BAND_AT, band.half, words, language)
    else:
        for row, side in enumerate((-1.0, 1.0)):
            yield from half_strip(
                centre - side * band.half / 2.0, _BAND_AT + row * _SECOND_HALF, band.half, side, words, language
            )


def _rest(workup: Workup, sheet: Sheet, figures: GaugeFigures, top: float) -> Iterator[Element]:
    """Yield everything but the band: the fan and the patches left, the holes, steps and sources right."""
    words, language = workup.bound.words.gauges, workup.bound.words.language
    room = sheet.width - MARGIN_MM - _COLUMN
    fan_centre = MARGIN_MM + FAN_WIDTH_MM / 2.0
    yield text(words.fan, (MARGIN_MM, top + 3.0), SMALL_MM, bold=True)
    yield from fan(fan_centre, top + 5.0, figures.one_piece_deg, figures.lean_deg, words)
    below = top + _PATCHES_BELOW
    yield text(words.patches, (MARGIN_MM, below), SMALL_MM, bold=True)
    if figures.patches:
        yield from patches((fan_centre, below + 5.0 + max(figures.patches) / 2.0), figures.patches, language)
    y = top
    yield text(words.holes, (_COLUMN, y + 3.0), SMALL_MM, bold=True)
    limits = tuple(limit for limit in (figures.hole_to, figures.cut_to) if limit is not None)
    yield from holes(_COLUMN, y + 4.0, figures.cutters, limits, language)
    y += 24.0
    said, height = paragraph(_limit_in_words(workup, figures), _COLUMN, y, room)
    yield from said
    y += height + 4.0
    yield text(words.steps, (_COLUMN, y + 3.0), SMALL_MM, bold=True)
    yield from tread_steps(_COLUMN + 4.0, y + 3.0, figures.least_tread, words, language)
    y += 28.0
    yield text(words.sources, (_COLUMN, y + 3.0), SMALL_MM, bold=True)
    y += 4.5
    for entry in _sources(workup, figures):
        said, height = paragraph(entry, _COLUMN, y, room)
        yield from said
        y += height


def _limit_in_words(workup: Workup, figures: GaugeFigures) -> str:
    words, language = workup.bound.words.gauges, workup.bound.words.language
    if figures.hole_to is None or figures.cut_to is None:
        return words.no_size
    return words.size.format(
        hole=quantity(figures.hole_to, figures.hole_to, "mm", language),
        cut=quantity(figures.cut_to, figures.cut_to, "mm", language),
    )


def _sources(workup: Workup, figures: GaugeFigures) -> Iterator[str]:
    """Yield where each figure comes from, and how it is known."""
    names, edition = workup.bound.words.gauges.figures, workup.edition
    found: tuple[tuple[str, Provision | None], ...] = (
        ("band", None if figures.band is None else figures.band.provision),
        ("size", figures.size),
        ("one_piece", figures.one_piece),
        ("lean", figures.lean),
        ("tread", figures.tread if figures.least_tread else None),
        ("cutters", figures.cutter_rule),
        ("patches", figures.unit),
    )
    for name, provision in found:
        if provision is not None:
            yield f"{names[name]}: {edition.source(provision)} ({workup.bound.words.gauges.bases[provision.basis]})."
    yield workup.bound.words.gauges.aid


def _in_words(workup: Workup, figures: GaugeFigures) -> Iterator[str]:
    """Yield what the sheet shows, for whoever cannot see it."""
    words, language, band = workup.bound.words.gauges, workup.bound.words.language, figures.band
    yield words.check
    if band is None:
        yield words.no_band
    elif band.half is not None:
        yield f"{words.band} {dimension(point(2.0 * band.half), language)}."
    elif band.inset is not None:
        yield f"{words.inset} {dimension(point(band.inset), language)}."
    yield _limit_in_words(workup, figures)
    yield f"{words.one_piece.format(limit=f'{figures.one_piece_deg:g}°')}."
    yield from _sources(workup, figures)
