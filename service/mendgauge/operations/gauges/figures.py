"""What a rulebook sets for one tyre that a gauge can show, each figure with its source; lengths in mm."""

from __future__ import annotations

from collections.abc import Iterator

import msgspec

from mendgauge.facts.tyre import TyreFacts
from mendgauge.operations.repair_units.requirements import requirements_of
from mendgauge.operations.repair_units.shelf import generic_shelf_of
from mendgauge.operations.workup import Workup
from mendgauge.rulebooks.provision import Provision
from mendgauge.rulebooks.resolver import applicable
from mendgauge.rulebooks.schema.repair import Band, Lean
from mendgauge.rules.repair.band import half_width


class BandFigure(msgspec.Struct, frozen=True):
    """The band: its half width, or how far in from each edge of the tread it ends where the tread was not measured."""

    provision: Band
    half: float | None
    inset: float | None


class GaugeFigures(msgspec.Struct, frozen=True):
    """All that a gauge shows."""

    band: BandFigure | None
    one_piece_deg: float
    one_piece: Provision
    lean_deg: float | None
    lean: Provision | None
    hole_to: float | None
    cut_to: float | None
    size: Provision | None
    cutters: tuple[float, ...]
    cutter_rule: Provision
    patches: tuple[float, ...]
    buffed: float
    unit: Provision
    least_tread: tuple[float, ...]
    tread: Provision | None


def figures_of(workup: Workup) -> GaugeFigures:
    """Return the figures for a tyre of which nothing is known but its marking and its vehicle."""
    needs, tyre = requirements_of(workup)[0], workup.facts[0]
    lean = _lean(workup)
    treads = [one for one, _ in applicable(workup.edition, "tread_depth", tyre)]
    largest = None if needs.size is None else max(needs.size.found_to_mm, needs.size.prepared_to_mm)
    return GaugeFigures(
        band=_band(workup),
        one_piece_deg=needs.one_piece_rule.max_deg,
        one_piece=needs.one_piece_rule,
        lean_deg=None if lean is None else lean.max_deg,
        lean=lean,
        hole_to=None if needs.size is None else needs.size.found_to_mm,
        cut_to=None if needs.size is None else needs.size.prepared_to_mm,
        size=needs.size,
        cutters=tuple(one for one in needs.figures.cutters.sizes_mm if largest is None or one <= largest),
        cutter_rule=needs.figures.cutters,
        patches=tuple(_patches(workup)),
        buffed=needs.figures.unit.buffed_margin_mm,
        unit=needs.figures.unit,
        least_tread=tuple(sorted({one.min_mm for one in treads if one.min_mm > 0.0})),
        tread=treads[0] if treads else None,
    )


def _lean(workup: Workup) -> Lean | None:
    """Return the limit on the lean of any channel; none where the book sets none."""
    found = applicable(workup.edition, "lean", workup.facts[0])
    return found[0][0] if found else None


def _band(workup: Workup) -> BandFigure | None:
    """Return the narrowest band that may apply: a gauge must never show one that is too wide."""
    found = [
        (half_width(one, tyre), one, _is_settled(one, tyre))
        for tyre in workup.facts
        for one, _ in applicable(workup.edition, "band", tyre)
    ]
    if not found:
        return None
    half, provision, settled = min(found, key=lambda band: band[0].low)
    return BandFigure(provision, half.low if settled else None, provision.inset_from_tread_edge_mm)


def _is_settled(band: Band, tyre: TyreFacts) -> bool:
    """Return whether the width that a band hangs on is known."""
    return (tyre.tread_width if band.share_of_section_width is None else tyre.section_width).known


def _patches(workup: Workup) -> Iterator[float]:
    """Yield the nominal diameters of patches, from the smallest."""
    sizes = {item.unit.patch_mm for item in generic_shelf_of(workup).items}
    yield from sorted(size for size in sizes if size is not None)
