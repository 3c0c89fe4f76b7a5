"""What is reckoned with where nobody measured, and how well a bench measures when it does not say."""

from __future__ import annotations

from typing import Literal

from mendgauge.rulebooks.provision import Provision


class Estimate(Provision, frozen=True, kw_only=True):
    """The range a dimension lies in when nobody measured it; `share_of_section_width` scales with the tyre."""

    must_say = ("crown_thickness", "tread_width", "tread_depth", "patch")

    dimension: Literal["crown_thickness", "tread_width", "tread_depth", "patch"]
    low_mm: float | None = None
    high_mm: float | None = None
    low_share_of_section_width: float | None = None
    high_share_of_section_width: float | None = None

    @property
    def about(self) -> str:
        return self.dimension


class Tolerances(Provision, frozen=True, kw_only=True):
    """How well a bench measures when it does not say: either way of the number it gives."""

    must_say = ("",)

    ruler_mm: float
    calliper_mm: float
    depth_gauge_mm: float
    probe_deg: float
