"""What a rulebook says of preparing a channel, of the unit that repairs it, and of trimming its stem."""

from __future__ import annotations

from typing import Annotated, Literal

from msgspec import Meta

from mendgauge.rulebooks.provision import Provision, Text


class RepairUnitRule(Provision, frozen=True, kw_only=True):
    """How far a patch reaches past the mouth, the buffed margin round it, and when it is reinforced."""

    must_say = ("",)

    reach_mm: float
    reach_reinforced_mm: float
    reinforced_over_mm: float | None = None
    buffed_margin_mm: float


class CutterSizes(Provision, frozen=True, kw_only=True):
    """Nominal cutter sizes, smallest first."""

    must_say = ("",)

    sizes_mm: Annotated[tuple[float, ...], Meta(min_length=1)]


class InchCutter(Provision, frozen=True, kw_only=True):
    """A cutter by its size in inches: the millimetres it is sent as, and the nominal size in mm it counts as."""

    name: Text
    sent_as_mm: Annotated[tuple[float, ...], Meta(min_length=1)]
    counts_as_mm: float

    @property
    def about(self) -> str:
        return self.name


class CutterPasses(Provision, frozen=True, kw_only=True):
    """From which side the channel is cut first, and how often from each side, along the injury."""

    must_say = ("",)

    first: Literal["inside", "outside"]
    passes_low: int
    passes_high: int


class ToolLimits(Provision, frozen=True, kw_only=True):
    """How fast drill and buffer may turn, and the buffed texture asked for."""

    must_say = ("",)

    drill_to_rpm: float
    buffer_to_rpm: float
    texture_low: float
    texture_high: float


class CleanedMargin(Provision, frozen=True, kw_only=True):
    """How far past the patch the liner is cleaned."""

    must_say = ("",)

    margin_low_mm: float
    margin_high_mm: float


class RepairMark(Provision, frozen=True, kw_only=True):
    """With what the code has a repair marked; where nothing is said, none is asked for."""

    words: Text


class StemLength(Provision, frozen=True, kw_only=True):
    """What a stem needs beyond the channel and what stands proud of it: a length to pull it by."""

    must_say = ("",)

    grip_mm: float


class StemTrimRule(Provision, frozen=True, kw_only=True):
    """How far a stem is left proud where it comes out: of the groove base, of the tread surface, or of the liner."""

    must_say = ("groove", "lug", "inside")

    where: Literal["groove", "lug", "inside"]
    proud_mm: float
    at_most_tread_left: bool = False

    @property
    def about(self) -> str:
        return self.where


class UnitMatch(Provision, frozen=True, kw_only=True):
    """Which patches go into a carcass, and which way their arrows point."""

    must_say = ("radial", "bias")

    carcass: Literal["radial", "bias"]
    patches: Annotated[tuple[Literal["radial", "bias", "either"], ...], Meta(min_length=1)]
    arrows: Literal["to_beads"]

    @property
    def about(self) -> str:
        return self.carcass


class GenericUnits(Provision, frozen=True, kw_only=True):
    """Plain nominal sizes that stand in for a shop's stock: every stem, length and patch named, with every other."""

    kind: Literal["one_piece", "stem", "patch"]
    stems_mm: tuple[float, ...] = ()
    stem_lengths_mm: tuple[float, ...] = ()
    patches_mm: tuple[float, ...] = ()
    reinforced: bool = False

    @property
    def about(self) -> str:
        return f"{self.kind} {'reinforced' if self.reinforced else 'plain'}"
