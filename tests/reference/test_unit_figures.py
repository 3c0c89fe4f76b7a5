"""Figures for preparation, units and trim against their sources, and channels against solid geometry.

Sources stand beside each check. A summary's figure is `published_summary`; a habit of the trade without a document is
`common_practice`, and says so in the answer too.
"""

from __future__ import annotations

from math import cos, pi, radians, tan
from typing import Any, get_args

import msgspec
import pytest
from tests.given import given

from mendgauge.case.case import Case
from mendgauge.operations.repair_units import choose_repair_units
from mendgauge.operations.repair_units.answer import InjuryUnit
from mendgauge.rulebooks import Edition, find_edition, list_editions
from mendgauge.tyre.tyre_class import TyreClass

# Figure, its value or values, whose word: as the trade's documents give them.
FIGURES = [
    ("tool_limits", "drill_to_rpm", 1200, "published"),  # trade magazine: low speed, 1,200 rpm at most
    ("tool_limits", "buffer_to_rpm", 5000, "published"),  # trade magazine: 5,000 rpm at most
    ("tool_limits", "texture_low", 1, "published"),  # trade magazine: texture 1 or 2
    ("tool_limits", "texture_high", 2, "published"),
    ("cleaned_margin", "margin_low_mm", 10, "published_summary"),  # 10 to 20 mm published for cleaning
    ("cleaned_margin", "margin_high_mm", 20, "published_summary"),
    ("repair_unit", "reach_mm", 12, "common_practice"),
    ("repair_unit", "reach_reinforced_mm", 20, "common_practice"),
    ("repair_unit", "buffed_margin_mm", 10, "common_practice"),
    ("stem_length", "grip_mm", 30, "common_practice"),
]


@pytest.mark.parametrize(("heading", "name", "value", "basis"), FIGURES)
@pytest.mark.parametrize("of", get_args(TyreClass))
def test_every_class_of_tyre_has_the_figure_of_the_trade(
    heading: str, name: str, value: float, basis: str, of: TyreClass
) -> None:
    workshop = find_edition("gb").workshop
    (entry,) = [entry for entry in getattr(workshop, heading) if of in entry.classes]
    assert getattr(entry, name) == value
    assert entry.basis == basis


def test_a_car_channel_is_cut_as_bs_au_159_has_it() -> None:
    # BS AU 159 procedure, UK trade: one 6 mm carbide cutter whatever the hole up to 6 mm, inside first then outside,
    # each 3 to 4 times along the injury (published_summary).
    for hole in (1.5, 3, 4.5, 6):
        figures = unit(find_edition("gb"), diameter_mm=hole)
        assert figures.channel is not None
        assert (figures.channel.cutter_mm.low, figures.channel.cutter_mm.high) == (6, 6)
        assert figures.preparation is not None
        assert figures.preparation.cutter.basis == "published_summary"
        assert [
            (each.side, each.times.low, each.times.high, each.times.basis) for each in figures.preparation.passes
        ] == [
            ("inside", 3, 4, "published_summary"),
            ("outside", 3, 4, "published_summary"),
        ]


# Trade habit (common_practice): the smallest nominal cutter at or above the hole, of 3, 4.5, 6, 8, 10 and 13 mm.
LADDER = [(2.9, 3), (3, 3), (3.1, 4.5), (4.5, 4.5), (5, 6), (6, 6), (6.5, 8), (9, 10), (10, 10), (10.5, 13)]


@pytest.mark.parametrize(("hole", "cutter"), LADDER)
def test_elsewhere_the_smallest_nominal_cutter_is_taken(hole: float, cutter: float) -> None:
    figures = unit(find_edition("us"), diameter_mm=hole)
    assert figures.channel is not None
    assert figures.channel.cutter_mm.high == cutter


# Any handbook of solid geometry: theta 25 degrees, tan 0.4663, 1/cos 1.1034; 14 mm thick shifts 6.53 mm; a 6 mm cutter
# opens 6.62 mm.
def test_the_channel_is_that_of_solid_geometry() -> None:
    figures = unit(find_edition("gb"), diameter_mm=6, lean_deg=25, across_mm=10, measured_from="outside").channel
    assert figures is not None
    assert figures.mouth_length_mm.high == pytest.approx(6.62, abs=0.005)
    assert figures.length_mm.high == pytest.approx(14 * 1.1034, abs=0.001)
    assert given(figures.centre_across_mm).high - 10 == pytest.approx(6.53, abs=0.005)


@pytest.mark.parametrize("toward", [0, 30, 90, 135, 200, 301])
@pytest.mark.parametrize("lean", [0, 12.5, 25])
def test_the_mouth_is_an_ellipse_as_wide_as_the_cutter(lean: float, toward: float) -> None:
    # The bounding box of an ellipse of axes d and d / cos theta turned by phi, by its parametric form.
    figures = unit(find_edition("gb"), diameter_mm=6, lean_deg=lean, lean_toward_deg=toward).channel
    assert figures is not None
    along, across = radians(toward), 6 / cos(radians(lean))
    points = [turned(across / 2 * cos(step), 3 * cos(step - pi / 2), along) for step in steps()]
    assert given(figures.mouth_across_mm).high == pytest.approx(2 * max(x for x, _ in points), abs=1e-3)
    assert given(figures.mouth_around_mm).high == pytest.approx(2 * max(y for _, y in points), abs=1e-3)
    assert figures.mouth_length_mm.high == pytest.approx(6 * (1 + tan(radians(lean)) ** 2) ** 0.5, abs=1e-3)


def steps() -> list[float]:
    return [2 * pi * step / 20_000 for step in range(20_000)]


def turned(x: float, y: float, by: float) -> tuple[float, float]:
    return x * cos(by) - y * cos(by - pi / 2), x * cos(by - pi / 2) + y * cos(by)


@pytest.mark.parametrize("edition", list_editions(), ids=lambda edition: edition.reference)
@pytest.mark.parametrize("of", get_args(TyreClass))
def test_the_generic_sizes_cover_what_the_figures_ask_for(edition: Edition, of: TyreClass) -> None:
    # Derived: for every cutter up to the largest that a code repairs there is a stem as thick, and a patch that covers
    # its mouth at 25 degrees with the reach asked for.
    workshop = edition.workshop
    generic = [entry for entry in workshop.generic_units if of in entry.classes]
    assert {entry.basis for entry in generic} == {"common_practice"}
    assert {entry.kind for entry in generic} == {"one_piece", "stem", "patch"}
    light = of in ("car", "van", "motorcycle")
    (rule,) = [entry for entry in workshop.repair_unit if of in entry.classes]
    for cutter in (3.0, 4.5, 6.0, 8.0) if light else (3.0, 4.5, 6.0, 8.0, 10.0):
        reinforced = rule.reinforced_over_mm is not None and cutter > rule.reinforced_over_mm
        reach = rule.reach_reinforced_mm if reinforced else rule.reach_mm
        needed = cutter / cos(radians(25)) + 2 * reach
        whole = [
            one
            for one in generic
            if one.kind == "one_piece" and cutter in one.stems_mm and one.reinforced >= reinforced
        ]
        assert whole, cutter
        assert max(max(one.patches_mm) for one in whole) >= needed


def unit(edition: Edition, **hole: Any) -> InjuryUnit:
    """A sound car tyre, 14 mm thick where its one hole is."""
    case = {
        "detail": "full",
        "rulebook": edition.reference,
        "assessed_on": "2026-11-24",
        "vehicle": {"kind": "car", "gross_mass_kg": 1900},
        "tyre": {
            "marking": "205/55R16 91H",
            "date_code": "2323",
            "tread_depth_mm": 6,
            "crown_thickness_mm": 8,
            "traits": {"complete": True},
            "maker_policy": {"repair": "permitted"},
        },
        "injuries": [
            {
                "region": "tread",
                "depth": "through",
                "across_mm": 0,
                "around_mm": 640,
                "measured_from": "inside",
                "stage": "found",
                "lean_deg": 0,
                "lean_toward_deg": 0,
                "emerges_in": "lug",
                **hole,
            }
        ],
        "earlier_repairs": [],
        "inspection": {"complete": True},
        "history": {"complete": True, "pressure_found_percent": 100},
    }
    return choose_repair_units(msgspec.convert(case, Case)).injuries[0]
