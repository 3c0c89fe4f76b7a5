"""The sheet: a head, the views that were asked for, and what the reader must know of them; and the same in words."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from mendgauge.case.case import REFERENCE_MAX
from mendgauge.drafting.lettering import LEADING, SMALL_MM, TITLE_MM, fitted, lines_of, printable, width_mm
from mendgauge.drafting.pens import FINE, OUTLINE
from mendgauge.drafting.shapes import drawing, line, lines, moved, text
from mendgauge.operations.drawings.assumed import assumed_in
from mendgauge.operations.drawings.crown import channels_of
from mendgauge.operations.drawings.detail import detail_of
from mendgauge.operations.drawings.figures import figures_of
from mendgauge.operations.drawings.layout import GAP, MARGIN, WIDTH, Block
from mendgauge.operations.drawings.marks import left_open, marks_of
from mendgauge.operations.drawings.picture import Picture, View
from mendgauge.operations.drawings.plan import plan_of
from mendgauge.operations.drawings.section import section_of
from mendgauge.operations.drawings.signs import FLAG_MM, flag
from mendgauge.operations.repair_units.units import units_of
from mendgauge.operations.repairability.verdict import verdict_of
from mendgauge.operations.workup import Workup
from mendgauge.wording import day_in_words

_ON_CARD: Final = 0.25
"""Largest scale of the liner on a card."""


def sheet_of(workup: Workup, view: View) -> Picture:
    """Return the picture of a case: the sheet with both views and their notes, or one view alone."""
    blocks = list(_blocks(workup, view))
    height = 2.0 * MARGIN + sum(block.height for block in blocks) + GAP * (len(blocks) - 1)
    placed, y = [], MARGIN
    for block in blocks:
        placed.append(moved(block.parts, (MARGIN, y)))
        y += block.height + GAP
    width = WIDTH + 2.0 * MARGIN
    title, description = _title(workup, view), _description(workup)
    svg = drawing(placed, width, height, title, description)
    return Picture(svg, width, height, title, description, workup.bound.words.language, workup.on)


def card_pictures(workup: Workup) -> tuple[Picture, Picture]:
    """Return the section and the liner for a card: without details, heads and notes, which the card has beside them."""
    return _alone(workup, "crown_section", section_of(workup)), _alone(workup, "liner_plan", plan_of(workup, _ON_CARD))


def _alone(workup: Workup, view: View, block: Block) -> Picture:
    width, height = block.width + 2.0 * MARGIN, block.height + 2.0 * MARGIN
    title, description = _title(workup, view), _description(workup)
    svg = drawing([moved(block.parts, (MARGIN, MARGIN))], width, height, title, description)
    return Picture(svg, width, height, title, description, workup.bound.words.language, workup.on)


def _blocks(workup: Workup, view: View) -> Iterator[Block]:
    if view == "sheet":
        yield _head(workup)
    if view != "liner_plan":
        yield section_of(workup)
        for channel in channels_of(workup):
            yield detail_of(workup, channel)
    if view != "crown_section":
        yield plan_of(workup)
    if view == "sheet":
        yield _notes(workup)


def _head(workup: Workup) -> Block:
    """Return the head: the tyre, whose case it is, the verdict, and what it rests on."""
    texts, verdict = workup.bound.words.drawings, verdict_of(workup)
    marking = printable(workup.case.tyre.marking, 80)
    said = texts.verdicts[verdict.verdict]
    parts = [
        text(marking, (0.0, TITLE_MM), TITLE_MM, bold=True),
        text(said, (WIDTH, TITLE_MM), TITLE_MM, "end", bold=True),
        line((0.0, TITLE_MM + 2.5), (WIDTH, TITLE_MM + 2.5), OUTLINE),
        text(_rests_on(workup), (WIDTH, TITLE_MM + 6.5), SMALL_MM, "end"),
    ]
    if workup.case.reference:
        room = WIDTH - width_mm(_rests_on(workup), SMALL_MM) - GAP
        reference = fitted(printable(workup.case.reference, REFERENCE_MAX), room, SMALL_MM)
        parts.append(text(reference, (0.0, TITLE_MM + 6.5), SMALL_MM))
    return Block(parts, TITLE_MM + 8.0)


def _rests_on(workup: Workup) -> str:
    book = workup.edition.book
    day = day_in_words(workup.on, workup.bound.words.language)
    return f"{book.id} {book.edition}, {day}"


def _notes(workup: Workup) -> Block:
    """Return the key of the flags, what is not measured or supposed, and how the sheet is drawn."""
    parts, y = [line((0.0, 0.0), (WIDTH, 0.0), FINE)], 5.0
    for mark in marks_of(workup):
        written = lines_of(mark.says, WIDTH - FLAG_MM - 2.0, SMALL_MM)
        parts += flag(mark, (0.0, y - 1.0))
        parts += lines(written, (FLAG_MM + 1.5, y), SMALL_MM)
        y += max(len(written) * SMALL_MM * LEADING, 5.0) + 0.6
    y += 1.0
    for note in _plain_notes(workup):
        written = lines_of(note, WIDTH, SMALL_MM)
        parts += lines(written, (0.0, y), SMALL_MM)
        y += len(written) * SMALL_MM * LEADING + 1.0
    return Block(parts, y)


def _plain_notes(workup: Workup) -> Iterator[str]:
    texts = workup.bound.words.drawings
    if marks_of(workup):
        yield texts.key_flags
    if more := left_open(workup):
        yield texts.more_open.format(count=more) if more > 1 else texts.one_more_open
    yield from assumed_in(workup)
    yield from (one.says for one in units_of(workup).cautions if one.code in ("if_it_passes", "supposes"))
    yield texts.key_hatching
    yield f"{texts.lengths[workup.bound.words.language]} {texts.standards}"
    yield from (one.says for one in verdict_of(workup).cautions if one.code == "inspection_decides")


def _title(workup: Workup, view: View) -> str:
    texts = workup.bound.words.drawings
    return f"{texts.titles[view]}: {printable(workup.case.tyre.marking, 80)}"


def _description(workup: Workup) -> str:
    """Return what the picture shows in words, for whoever cannot see it."""
    texts = workup.bound.words.drawings
    said = [f"{texts.verdicts[verdict_of(workup).verdict]} ({_rests_on(workup)})."]
    for channel in channels_of(workup):
        figures = "; ".join(f"{name}: {value}" for name, value in figures_of(workup, channel))
        said.append(f"{texts.injury} {channel.index + 1}. {figures}")
    said += [f"{texts.broken if mark.broken else texts.open} {mark.number}: {mark.says}" for mark in marks_of(workup)]
    said += _plain_notes(workup)
    return " ".join(one if one.endswith(".") else f"{one}." for one in said)
