"""The figures of an injury in words, as they stand beside its drawing, and what of its repair is drawn."""

from __future__ import annotations

from collections.abc import Iterator

from mendgauge.core.interval import Interval
from mendgauge.drafting.lettering import printable
from mendgauge.operations.drawings.crown import Channel
from mendgauge.operations.repair_units.answer import Chosen, InjuryUnit
from mendgauge.operations.repair_units.units import units_of
from mendgauge.operations.stem_trim.answer import StemTrim
from mendgauge.operations.stem_trim.trims import trims_of
from mendgauge.operations.workup import Workup
from mendgauge.wording.quantities import quantity

_CODE_MAX = 40


def unit_at(workup: Workup, channel: Channel) -> InjuryUnit:
    """Return what was found of the unit for an injury."""
    return next(one for one in units_of(workup).injuries if one.injury == channel.index)


def chosen_at(workup: Workup, channel: Channel) -> Chosen | None:
    """Return the unit to draw: the first that was chosen, or the generic one in its place."""
    for choice in unit_at(workup, channel).choices:
        if found := choice.chosen or choice.generic_instead:
            return found
    return None


def trim_at(workup: Workup, channel: Channel) -> StemTrim | None:
    """Return where the stem of an injury's repair is cut."""
    return next((one for one in trims_of(workup).injuries if one.injury == channel.index), None)


def patch_across(workup: Workup, channel: Channel) -> Interval | None:
    """Return the extent of the patch from bead to bead, mm; none where no unit is drawn."""
    found = chosen_at(workup, channel)
    return None if found is None else Interval(found.patch.width_mm, found.patch.width_mm)


def proud_of(workup: Workup, channel: Channel) -> Interval | None:
    """Return how far the stem stays proud outside, mm; none where no stem is drawn."""
    trim = trim_at(workup, channel)
    if trim is None or not trim.outside:
        return None
    cuts = [cut.proud_mm for cut in trim.outside]
    return Interval(min(cut.low for cut in cuts), max(cut.high for cut in cuts))


def figures_of(workup: Workup, channel: Channel) -> Iterator[tuple[str, str]]:
    """Yield the figures of an injury, each with its name."""
    texts, language = workup.bound.words.drawings, workup.bound.words.language
    names = texts.figures

    def length(of: Interval) -> str:
        return quantity(of.low, of.high, "mm", language)

    unit = unit_at(workup, channel)
    yield names["where"], _place(workup, channel)
    found = unit.channel
    if found is not None and found.hole_mm is not None:
        yield names["hole"], quantity(found.hole_mm.low, found.hole_mm.high, "mm", language)
    if found is not None and channel.may_go_through and channel.sized:
        if unit.choices:
            yield names["cutter"], quantity(found.cutter_mm.low, found.cutter_mm.high, "mm", language)
            if channel.aimed:
                yield (
                    names["mouth"],
                    texts.by.format(
                        long=quantity(found.mouth_length_mm.low, found.mouth_length_mm.high, "mm", language),
                        wide=quantity(found.cutter_mm.low, found.cutter_mm.high, "mm", language),
                    ),
                )
        if channel.aimed:
            yield names["lean"], quantity(channel.lean.low, channel.lean.high, "deg", language)
            yield names["length"], quantity(found.length_mm.low, found.length_mm.high, "mm", language)
    if (chosen := chosen_at(workup, channel)) is not None:
        codes = " + ".join(printable(piece.code, _CODE_MAX) for piece in chosen.pieces)
        yield names["unit"], codes
        patch = chosen.patch
        size = length(Interval(patch.width_mm, patch.width_mm))
        if patch.shape != "round":
            size = texts.by.format(long=size, wide=length(Interval(patch.length_mm, patch.length_mm)))
        reach = quantity(chosen.reach_mm, chosen.reach_mm, "mm", language)
        yield names["patch"], texts.patch.format(size=size, reach=reach)
    if (trim := trim_at(workup, channel)) is not None:
        yield names["trim"], " ".join(cut.says for cut in trim.outside)


def _place(workup: Workup, channel: Channel) -> str:
    """Say where an injury is: across and along where it is in the tread, else its part of the tyre."""
    texts, language = workup.bound.words.drawings, workup.bound.words.language
    if not channel.on_tread:
        return texts.regions[channel.regions[0]]
    given = (workup.case.injuries or (None,))[channel.index]
    across, along = texts.across_not_known, texts.from_valve_not_known
    if channel.placed:
        from_centre = channel.outer.magnitude()
        across = texts.across.format(distance=quantity(from_centre.low, from_centre.high, "mm", language))
    if channel.placed_around and given is not None:
        along = texts.along.format(distance=quantity(channel.around.low, channel.around.high, "mm", language))
    return f"{across}; {along}"
