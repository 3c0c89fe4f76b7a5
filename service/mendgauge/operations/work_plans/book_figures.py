"""The figures of a step that stand in the book, in workshop practice or in the procedure: one for a class of tyre."""

from __future__ import annotations

from functools import lru_cache
from typing import Literal

import msgspec
from msgspec.structs import replace

from mendgauge.core.vocabulary import HeatCuredFill
from mendgauge.operations.repair_units.requirements import figures
from mendgauge.rulebooks import Edition
from mendgauge.rulebooks.provision import Basis, Provision, Sourced
from mendgauge.rulebooks.resolver import provision_for, provisions_by_topic
from mendgauge.rulebooks.schema.procedure import BookFigure, Coats, HeatCure, ParameterRule, Procedure, RunLowShare
from mendgauge.rulebooks.schema.repair import RunLow
from mendgauge.tyre.tyre_class import TyreClass


class Value(msgspec.Struct, frozen=True):
    """A figure: `low` alone is a least value, `high` alone a largest; or words; with its source where it is known."""

    basis: Basis | None
    source: str | None
    low: float | None = None
    high: float | None = None
    unit: str = ""
    words: str | None = None
    also: str = ""
    note: str = ""
    injury: int | None = None

    @property
    def says(self) -> str:
        """The value as a job card prints it."""
        if self.words is not None:
            return self.words
        if self.unit == "times" and self.low == self.high == 1.0:
            return "once"
        text = f"{self._number} {self.unit}".strip().replace(" %", " %")
        return f"{text} ({self.also})" if self.also else text

    @property
    def _number(self) -> str:
        if self.low is None:
            return f"at most {self.high:.4g}"
        if self.high is None:
            return f"at least {self.low:.4g}"
        return f"{self.low:.4g}" if self.low == self.high else f"{self.low:.4g} to {self.high:.4g}"


def fixed(procedure: Procedure, rule: ParameterRule) -> Value:
    """Return a figure that the procedure itself gives."""
    return Value(
        rule.basis,
        procedure.source(rule),
        rule.low,
        rule.high,
        rule.unit,
        rule.words,
        rule.also,
        rule.note,
    )


@lru_cache(maxsize=256)
def book_figures(edition: Edition, of: TyreClass, fill: HeatCuredFill | None) -> dict[BookFigure, Value | None]:
    """Return the figures for a class of tyre; none where the book has none. `fill` is what cures in the channel."""
    workshop, procedure = figures(edition, of), edition.procedure

    def said(entry: Provision, low: float | None, high: float | None, unit: str) -> Value:
        return Value(entry.basis, edition.source(entry), low, high, unit, note=entry.note)

    def worked(entry: Sourced, low: float | None, high: float | None, unit: str) -> Value:
        return Value(entry.basis, procedure.source(entry), low, high, unit, note=entry.note)

    lean = provision_for(edition, "one_piece_lean", of)
    unit, passes, tools = workshop.unit, workshop.passes, workshop.tools
    drying = procedure.drying[0]
    channel, liner = coats(edition, of, "channel"), coats(edition, of, "liner")
    return {
        "run_low_share": _run_low_share(edition, of),
        "lean_limit": said(lean, None, lean.max_deg, "degrees"),
        "passes": said(passes, passes.passes_low, passes.passes_high, "times"),
        "drill_speed": replace(said(tools, None, tools.drill_to_rpm, "rpm"), note=""),
        "buffer_speed": replace(said(tools, None, tools.buffer_to_rpm, "rpm"), note=""),
        "texture": said(tools, tools.texture_low, tools.texture_high, ""),
        "cleaned_margin": said(workshop.cleaned, workshop.cleaned.margin_low_mm, workshop.cleaned.margin_high_mm, "mm"),
        "buffed_margin": said(unit, unit.buffed_margin_mm, unit.buffed_margin_mm, "mm"),
        "patch_reach": said(unit, unit.reach_mm, None, "mm"),
        "patch_reach_reinforced": said(unit, unit.reach_reinforced_mm, None, "mm"),
        "reinforced_over": None
        if unit.reinforced_over_mm is None
        else said(unit, unit.reinforced_over_mm, unit.reinforced_over_mm, "mm"),
        "pull_length": said(workshop.stem_length, workshop.stem_length.grip_mm, workshop.stem_length.grip_mm, "mm"),
        "stop_under": worked(drying, drying.stop_under_c, None, "°C"),
        "slow_under": worked(drying, drying.slow_under_c, drying.slow_under_c, "°C"),
        "slow_over": worked(drying, drying.slow_over_percent, drying.slow_over_percent, "%"),
        "channel_coats": worked(channel, channel.low_times, channel.high_times, "times"),
        "liner_coats": worked(liner, liner.low_times, liner.high_times, "times"),
        "cure_rate": None if fill is None else _cure_rate(edition, of, fill),
        "repair_mark": _repair_mark(edition, of),
    }


def coats(edition: Edition, of: TyreClass, surface: Literal["channel", "liner"]) -> Coats:
    """Return how often a surface is coated with cement."""
    return next(entry for entry in edition.procedure.coats if entry.surface == surface and of in entry.classes)


def heat_cure(edition: Edition, of: TyreClass, fill: HeatCuredFill) -> HeatCure:
    """Return how a fill of a channel cures."""
    return next(entry for entry in edition.procedure.heat_cure if entry.fill == fill and of in entry.classes)


def run_low_percent(edition: Edition, of: TyreClass) -> float:
    """Return the share of its pressure at or under which a tyre counts as run low, %: the book's, else the trade's."""
    return _run_low(edition, of).at_or_under_percent


def _run_low(edition: Edition, of: TyreClass) -> RunLow | RunLowShare:
    of_book: RunLow | None = provisions_by_topic(edition, "run_low", of).get("")
    return of_book or edition.procedure.run_low[0]


def _run_low_share(edition: Edition, of: TyreClass) -> Value:
    said = _run_low(edition, of)
    source = edition.source(said) if isinstance(said, RunLow) else edition.procedure.source(said)
    return Value(said.basis, source, said.at_or_under_percent, said.at_or_under_percent, "%", note=said.note)


def _repair_mark(edition: Edition, of: TyreClass) -> Value | None:
    mark = provisions_by_topic(edition, "repair_mark", of).get("")
    return None if mark is None else Value(mark.basis, edition.source(mark), words=mark.words, note=mark.note)


def _cure_rate(edition: Edition, of: TyreClass, fill: HeatCuredFill) -> Value:
    cure = heat_cure(edition, of, fill)
    words = f"{cure.minutes:g} min for every {cure.per_depth_mm:g} mm of depth"
    return Value(cure.basis, edition.procedure.source(cure), words=words, note=cure.note)
