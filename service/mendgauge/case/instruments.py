"""How well a shop measures: said once, it makes a range of every bare number."""

from __future__ import annotations

from typing import Annotated

from msgspec import Meta

from mendgauge.core.vocabulary import RequestModel


class Measuring(RequestModel, frozen=True, kw_only=True):
    """The tolerance of a shop's instruments. A bare number is then taken for a range of that much either way."""

    ruler_mm: Annotated[
        Annotated[float, Meta(ge=0, le=50)] | None,
        Meta(description="Places, widths and patches: rule or tape, mm either way.", examples=[1]),
    ] = None
    calliper_mm: Annotated[
        Annotated[float, Meta(ge=0, le=10)] | None,
        Meta(description="Diameter of the injury as found: calliper or gauge pins, mm either way.", examples=[0.2]),
    ] = None
    depth_gauge_mm: Annotated[
        Annotated[float, Meta(ge=0, le=10)] | None,
        Meta(description="Tread depth and crown thickness, mm either way.", examples=[0.2]),
    ] = None
    probe_deg: Annotated[
        Annotated[float, Meta(ge=0, le=45)] | None,
        Meta(description="Lean of the channel and its direction, degrees either way.", examples=[3]),
    ] = None
