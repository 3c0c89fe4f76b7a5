"""What may stand in a rulebook. Every value carries its source, clause and basis.

Under one heading the provisions are read from the top: the first whose conditions hold is the one that applies, so the
general case stands last.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator
from datetime import date
from functools import lru_cache
from typing import Annotated

import msgspec
from msgspec import Meta, inspect

from mendgauge.rulebooks.provision import Closed, Language, Provision, Source, Text
from mendgauge.rulebooks.schema.assumed import Estimate, Tolerances
from mendgauge.rulebooks.schema.limits import (
    AxleLoad,
    AxleMatch,
    DiameterSpread,
    DualMatch,
    FollowUp,
    FrontAxle,
    LoadAfterRepair,
    MouldedLoad,
    ServiceTread,
    SpeedAfterRepair,
    SpeedLimit,
    SpeedNeed,
    TreadDifference,
    UntilThen,
)
from mendgauge.rulebooks.schema.procedure import Procedure
from mendgauge.rulebooks.schema.repair import (
    Age,
    Band,
    Beyond,
    Condition,
    CutLength,
    EarlierRepairRule,
    InjurySize,
    Lean,
    MakerPolicyRule,
    NotCovered,
    OnePieceLean,
    Outside,
    PluggedHole,
    RepairCount,
    RunLow,
    SameHole,
    Sealant,
    Spacing,
    Special,
    TreadDepth,
    TreadWarning,
)
from mendgauge.rulebooks.schema.units import (
    CleanedMargin,
    CutterPasses,
    CutterSizes,
    GenericUnits,
    InchCutter,
    RepairMark,
    RepairUnitRule,
    StemLength,
    StemTrimRule,
    ToolLimits,
    UnitMatch,
)
from mendgauge.rulebooks.schema.worth import WornOut


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
