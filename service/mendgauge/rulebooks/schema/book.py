"""What may stand in a rulebook. Every value carries its source, clause and basis.

Under one heading the provisions are read from the top: the first whose conditions hold is the one that applies, so the
general case stands last.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator
from datetime import date
from functools import lru_cache
from typing import Annotated, Literal

import msgspec
from msgspec import Meta, inspect

from mendgauge.core.vocabulary import SpecialTyre
from mendgauge.rulebooks.provision import EVERY_CONDITION, Closed, Source, Text
from mendgauge.rulebooks.provision import Basis as Basis
from mendgauge.rulebooks.provision import Effect as Effect
from mendgauge.rulebooks.provision import Language as Language
from mendgauge.rulebooks.provision import Provision as Provision
from mendgauge.rulebooks.provision import RulebookError as RulebookError
from mendgauge.rulebooks.schema.limits import (
    AxleLoad,
    AxleMatch,
    DiameterSpread,
    DualMatch,
    FollowUp,
    FrontAxle,
    LoadAfterRepair,
    MouldedLoad,
    PositionEffect,
    ServiceTread,
    SpeedAfterRepair,
    SpeedLimit,
    SpeedNeed,
    TreadDifference,
    UntilThen,
)
from mendgauge.rulebooks.schema.procedure import Procedure
from mendgauge.rulebooks.schema.units import (
    CleanedMargin,
    CutterPasses,
    GenericUnits,
    RepairMark,
    StemLength,
    StemTrimRule,
    ToolLimits,
    UnitMatch,
)
from mendgauge.rulebooks.schema.worth import WornOut


class Outside(Provision, frozen=True, kw_only=True):
    """A class of tyre the book does not speak of, and what follows from its silence."""

    honours = EVERY_CONDITION

    effect: Effect


class Beyond(Provision, frozen=True, kw_only=True):
    """What becomes of a tyre whose injury lies beyond a minor repair."""

    honours = EVERY_CONDITION

    what: Literal["minor", "sidewall", "bead"]
    effect: Effect

    @property
    def about(self) -> str:
        return self.what


class InjurySize(Provision, frozen=True, kw_only=True):
    """The largest injury: `found_to_mm` for the hole as measured, `prepared_to_mm` for the cutter's nominal size."""

    honours = EVERY_CONDITION

    found_to_mm: float
    prepared_to_mm: float
    inclusive: bool = True


class Band(Provision, frozen=True, kw_only=True):
    """The repairable width, centred: a share of section or tread width, or an inset from each tread edge."""

    honours = EVERY_CONDITION

    share_of_section_width: float | None = None
    share_of_tread_width: float | None = None
    inset_from_tread_edge_mm: float | None = None


class Lean(Provision, frozen=True, kw_only=True):
    """The largest lean of a channel that may be repaired at all."""

    honours = EVERY_CONDITION

    max_deg: float
    effect: Effect


class OnePieceLean(Provision, frozen=True, kw_only=True):
    """The largest lean at which stem and patch may be one piece."""

    must_say = ("",)

    max_deg: float


class CutLength(Provision, frozen=True, kw_only=True):
    """The longest cut that reaches the cord: the greater of a length and a share of the section width."""

    honours = EVERY_CONDITION

    max_mm: float
    max_share_of_section_width: float


class Spacing(Provision, frozen=True, kw_only=True):
    """The least distance between the centres of two repairs."""

    honours = EVERY_CONDITION

    min_mm: float


class RepairCount(Provision, frozen=True, kw_only=True):
    """How many repairs a tyre may carry, this one counted."""

    honours = EVERY_CONDITION

    max_repairs: int


class EarlierRepairRule(Provision, frozen=True, kw_only=True):
    """What becomes of a tyre with an improper earlier repair."""

    honours = EVERY_CONDITION

    effect: Effect


class PluggedHole(Provision, frozen=True, kw_only=True):
    """What becomes of a tyre with a string or plug in the hole that is to be repaired."""

    honours = EVERY_CONDITION

    effect: Effect


class SameHole(Provision, frozen=True, kw_only=True):
    """How far apart the centres of two channels may be that are one hole."""

    honours = EVERY_CONDITION

    within_mm: float


class TreadDepth(Provision, frozen=True, kw_only=True):
    """The least tread with which a tyre is repaired."""

    honours = EVERY_CONDITION

    min_mm: float
    inclusive: bool = True


class TreadWarning(Provision, frozen=True, kw_only=True):
    """The tread under which a tyre is worn out, where a book sets no least: a caution."""

    min_mm: float


class Condition(Provision, frozen=True, kw_only=True):
    """A condition of the tyre, by its name in the case, that ends the repair.

    `looked_for` says where it stays open while nobody looked; where only `steel_plies` could show it, it counts once it
    was seen, and is asked for where the body plies are known to be steel.
    """

    honours = EVERY_CONDITION

    condition: Literal[
        "belt_separation",
        "bulge",
        "cord_exposed",
        "bead_damage",
        "liner_damage",
        "run_flat_signs",
        "secondary_damage",
        "perished",
        "contaminated",
        "zipper_signs",
    ]
    effect: Effect
    looked_for: Literal["everywhere", "steel_plies"] = "everywhere"

    @property
    def about(self) -> str:
        return self.condition


class RunLow(Provision, frozen=True, kw_only=True):
    """The pressure, in percent of the recommended, at or under which a tyre counts as run low."""

    at_or_under_percent: float


class Sealant(Provision, frozen=True, kw_only=True):
    """What becomes of a tyre that sealant was put into."""

    honours = EVERY_CONDITION

    effect: Effect


class Special(Provision, frozen=True, kw_only=True):
    """How a special kind of tyre is treated."""

    honours = EVERY_CONDITION

    tyre: SpecialTyre
    treatment: Literal["ends_the_tyre", "maker_decides", "caution"]

    @property
    def about(self) -> str:
        return self.tyre


class Age(Provision, frozen=True, kw_only=True):
    """The age a tyre must be under."""

    honours = EVERY_CONDITION

    under_years: float
    effect: Effect | PositionEffect

    @property
    def about(self) -> str:
        return self.effect


class MakerPolicyRule(Provision, frozen=True, kw_only=True):
    """Whether the tyre maker's consent is a condition, or only his refusal counts."""

    honours = EVERY_CONDITION

    consent_required: bool


class NotCovered(Provision, frozen=True, kw_only=True):
    """A question on which no figure was found: the book says so, and borrows none."""

    question: Text

    @property
    def about(self) -> str:
        return self.question


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


class Workshop(Closed, frozen=True, kw_only=True):
    """Workshop practice and conditions that hold whatever the book."""

    edition: Text
    released: date
    procedure: Text
    sources: dict[str, Source]
    conditions: tuple[Condition, ...]
    repair_unit: tuple[RepairUnitRule, ...]
    cutters: tuple[CutterSizes, ...]
    inch_cutters: tuple[InchCutter, ...] = ()
    estimates: tuple[Estimate, ...]
    one_piece_lean: tuple[OnePieceLean, ...]
    age: tuple[Age, ...]
    run_low: tuple[RunLow, ...] = ()
    plugged_hole: tuple[PluggedHole, ...] = ()
    same_hole: tuple[SameHole, ...] = ()
    tread_depth: tuple[TreadDepth, ...] = ()
    tread_warning: tuple[TreadWarning, ...] = ()
    tolerances: tuple[Tolerances, ...]
    cutter_passes: tuple[CutterPasses, ...] = ()
    tool_limits: tuple[ToolLimits, ...] = ()
    cleaned_margin: tuple[CleanedMargin, ...] = ()
    stem_length: tuple[StemLength, ...] = ()
    stem_trim: tuple[StemTrimRule, ...] = ()
    unit_match: tuple[UnitMatch, ...] = ()
    generic_units: tuple[GenericUnits, ...] = ()
    speed_limits: tuple[SpeedLimit, ...]
    speed_need: tuple[SpeedNeed, ...]
    axle_load: tuple[AxleLoad, ...]
    moulded_load: tuple[MouldedLoad, ...]
    axle_match: tuple[AxleMatch, ...]
    dual_match: tuple[DualMatch, ...]
    diameter_spread: tuple[DiameterSpread, ...]
    tread_difference: tuple[TreadDifference, ...]
    follow_ups: tuple[FollowUp, ...]
    until_then: tuple[UntilThen, ...] = ()
    worn_out: tuple[WornOut, ...]


class Book(Closed, frozen=True, kw_only=True):
    """One edition of one country's rulebook, as it stands in its file."""

    id: Annotated[str, Meta(pattern="^[a-z]{2}$")]
    edition: Annotated[str, Meta(pattern=r"^[0-9]{4}\.[0-9]+$")]
    released: date
    title: Text
    jurisdiction: Text
    language: Language
    workshop: Text
    sources: dict[str, Source]
    note: str = ""
    outside: tuple[Outside, ...] = ()
    beyond: tuple[Beyond, ...]
    injury_size: tuple[InjurySize, ...]
    band: tuple[Band, ...] = ()
    lean: tuple[Lean, ...] = ()
    one_piece_lean: tuple[OnePieceLean, ...] = ()
    cutters: tuple[CutterSizes, ...] = ()
    inch_cutters: tuple[InchCutter, ...] = ()
    cut_length: tuple[CutLength, ...] = ()
    spacing: tuple[Spacing, ...] = ()
    repair_count: tuple[RepairCount, ...] = ()
    earlier_repair: tuple[EarlierRepairRule, ...]
    plugged_hole: tuple[PluggedHole, ...] = ()
    tread_depth: tuple[TreadDepth, ...] = ()
    conditions: tuple[Condition, ...] = ()
    run_low: tuple[RunLow, ...] = ()
    sealant: tuple[Sealant, ...]
    special_tyres: tuple[Special, ...]
    age: tuple[Age, ...] = ()
    maker_policy: tuple[MakerPolicyRule, ...]
    repair_mark: tuple[RepairMark, ...] = ()
    not_covered: tuple[NotCovered, ...] = ()
    speed_after_repair: tuple[SpeedAfterRepair, ...] = ()
    load_after_repair: tuple[LoadAfterRepair, ...] = ()
    speed_limits: tuple[SpeedLimit, ...] = ()
    speed_need: tuple[SpeedNeed, ...] = ()
    front_axle: tuple[FrontAxle, ...] = ()
    until_then: tuple[UntilThen, ...] = ()
    service_tread: tuple[ServiceTread, ...] = ()


def provisions(file: Book | Workshop) -> Iterator[tuple[str, tuple[Provision, ...]]]:
    """Yield every heading of a file with what stands under it."""
    for name in file.__struct_fields__:
        value = getattr(file, name)
        if isinstance(value, tuple):
            yield name, value


def headings(file: type[Book | Workshop]) -> Iterator[tuple[str, type[Provision]]]:
    """Yield every heading that may stand in a kind of file with the kind of provision under it."""
    for field in inspect.type_info(file).fields:  # type: ignore[attr-defined]
        if isinstance(field.type, inspect.VarTupleType):
            yield field.name, field.type.item_type.cls  # type: ignore[attr-defined]


def changes(*files: Book | Workshop) -> tuple[date, ...]:
    """Return the days on which a provision of some files starts or ends, in order."""
    days = {
        day
        for file in files
        for _, entries in provisions(file)
        for entry in entries
        for day in (entry.starts, entry.ends)
        if day is not None
    }
    return tuple(sorted(days))


class Edition(msgspec.Struct, frozen=True, eq=False):
    """A book, the workshop practice it stands on and the procedure of that, checked, with the digest of all three.

    `changes` are the days on which a provision starts or ends, `periods` the edition with what is in force before,
    between and after them: one more than changes, or none where nothing changes.
    """

    book: Book
    workshop: Workshop
    procedure: Procedure
    digest: str
    changes: tuple[date, ...] = ()
    periods: tuple[Edition, ...] = ()

    @property
    def reference(self) -> str:
        """How a case pins this edition: `gb@2026.1`."""
        return f"{self.book.id}@{self.book.edition}"

    def in_force(self, on: date) -> Edition:
        """Return the edition without what has ended or not begun on a day: the same for every day of a period."""
        return self.periods[bisect_right(self.changes, on)] if self.periods else self

    def source(self, provision: Provision) -> str:
        """Return the document a provision comes from, in words; a house rule names itself."""
        # Book and workshop may use one key for two documents: `trade` is the British trade in one and every trade in
        # the other.
        file = self.workshop if id(provision) in _workshop_provisions(self) else self.book
        found = file.sources.get(provision.source)
        return provision.source if found is None else str(found)


@lru_cache(maxsize=64)
def _workshop_provisions(edition: Edition) -> frozenset[int]:
    return frozenset(id(entry) for _, entries in provisions(edition.workshop) for entry in entries)
