"""What a drawing takes for granted: what nobody measured, and with which figure it is drawn instead."""

from __future__ import annotations

from collections.abc import Iterator

from mendgauge.operations.drawings.crown import Channel, channels_of, crown_of
from mendgauge.operations.workup import Workup
from mendgauge.wording.quantities import quantity


def assumed_in(workup: Workup) -> Iterator[str]:
    """Yield what nobody measured of the tyre, then of each injury."""
    texts = workup.bound.words.drawings
    if tyre := list(_tyre(workup)):
        yield texts.not_measured.format(what="; ".join(tyre))
    for channel in channels_of(workup):
        if missing := list(_injury(workup, channel)):
            yield texts.not_known_of.format(number=channel.index + 1, what=", ".join(missing))
    if crown_of(workup).half_band is None:
        yield texts.no_band
    if workup.case.earlier_repairs is None:
        yield texts.earlier_not_known


def _tyre(workup: Workup) -> Iterator[str]:
    names, language, crown, given = (
        workup.bound.words.drawings.measures,
        workup.bound.words.language,
        crown_of(workup),
        workup.case.tyre,
    )
    for name, value, of, tread in (
        ("tread_width", given.tread_width_mm, crown.tread_width, False),
        ("crown_thickness", given.crown_thickness_mm, crown.thickness, False),
        ("tread_depth", given.tread_depth_mm, crown.tread, True),
    ):
        if value is None:
            yield names[name].format(value=quantity(of.low, of.high, "mm", language, tread=tread))


def _injury(workup: Workup, channel: Channel) -> Iterator[str]:
    names = workup.bound.words.drawings.missing
    given = (workup.case.injuries or (None,))[channel.index]
    asked: tuple[str, ...] = ("across_mm", "around_mm")
    if channel.may_go_through:
        asked += ("measured_from", "diameter_mm", "lean_deg", "lean_toward_deg", "emerges_in")
    if channel.lean.high == 0.0:
        asked = tuple(name for name in asked if name != "lean_toward_deg")
    for name in asked:
        if given is None or getattr(given, name) is None:
            yield names[name]
