"""What may stand in a procedure: the steps of a repair and every figure a technician works to, with its source.

A file of its own beside the workshop practice (`procedure-2026.1.toml`). Steps stand in the order of the work. What is
said of a step names it by its code, and holds for some classes of tyre, some vehicles, or in some circumstances.
"""

from __future__ import annotations

from datetime import date
from typing import Annotated, Final, Literal, TypeAlias, get_args

from msgspec import Meta

from mendgauge.core.vocabulary import HeatCuredFill, VehicleKind
from mendgauge.rulebooks.provision import Basis, Closed, Source, Sourced, Text
from mendgauge.tyre.tyre_class import TyreClass

OfTyre: TypeAlias = Literal[
    "on_vehicle",
    "loose",
    "dual_inner",
    "dual",
    "run_low",
    "pressure_kept",
    "sealant",
    "foam_lined",
    "self_sealing",
    "tube_type",
    "sensor",
    "several",
    "slow_drying",
    "stem",
    "heat_cured",
    "marked",
]
OfInjury: TypeAlias = Literal[
    "object_in", "uncut", "one_piece", "two_piece", "plain", "reinforced", "in_groove", "on_lug"
]
Circumstance: TypeAlias = OfTyre | OfInjury
"""What a step may hang on: a fact of the case, by name; of the tyre, or of one injury."""

Part: TypeAlias = Literal["inspection", "leak_search", "decision", "repair"]

BookFigure: TypeAlias = Literal[
    "run_low_share",
    "lean_limit",
    "passes",
    "drill_speed",
    "buffer_speed",
    "texture",
    "cleaned_margin",
    "buffed_margin",
    "patch_reach",
    "patch_reach_reinforced",
    "reinforced_over",
    "pull_length",
    "stop_under",
    "slow_under",
    "slow_over",
    "channel_coats",
    "liner_coats",
    "cure_rate",
    "repair_mark",
]
"""A figure of the book or of workshop practice: the same for every tyre of a class."""

CaseFigure: TypeAlias = Literal[
    "object",
    "found_limit",
    "prepared_limit",
    "lean",
    "cutter",
    "buffed_width",
    "buffed_length",
    "unit",
    "stem_diameter",
    "stem_length",
    "centres_apart",
    "trim_height",
    "inner_trim",
    "dew_point",
    "drying_time",
    "cure_time",
]
"""A figure reckoned from the case."""

Code: TypeAlias = Annotated[str, Meta(pattern="^[a-z]+(_[a-z]+)*$")]
Sentence: TypeAlias = Annotated[str, Meta(min_length=1, max_length=159)]
Steps: TypeAlias = Annotated[tuple[Code, ...], Meta(min_length=1)]
Classes: TypeAlias = Annotated[tuple[TyreClass, ...], Meta(min_length=1)]

ALL_CLASSES: Final[tuple[TyreClass, ...]] = get_args(TyreClass)
CIRCUMSTANCES: Final[tuple[Circumstance, ...]] = (*get_args(OfTyre), *get_args(OfInjury))


class Said(Closed, frozen=True, kw_only=True):
    """A sentence or a tool that holds for some classes of tyre or in some circumstances.

    `source` and `basis` are its own where it does not rest on what the step rests on.
    """

    says: Sentence
    classes: Classes = ALL_CLASSES
    when: tuple[Circumstance, ...] = ()
    source: Text | None = None
    basis: Basis | None = None

    def __post_init__(self) -> None:
        if (self.source is None) != (self.basis is None):
            raise ValueError("a line has a source and a basis of its own, or neither")


class Hold(Closed, frozen=True, kw_only=True):
    """A point at which work stops unless a check comes out right."""

    checks: Sentence
    right: Sentence
    if_not: Sentence


class ByClass(Sourced, frozen=True, kw_only=True):
    """What is said for some classes, or else for all, and how we know. Nothing but the class can limit it."""

    classes: Classes = ALL_CLASSES


class ByCircumstance(ByClass, frozen=True, kw_only=True):
    """What is said for some classes and vehicles and in some circumstances, and how we know."""

    kinds: tuple[VehicleKind, ...] | None = None
    when: tuple[Circumstance, ...] = ()


class StepRule(ByCircumstance, frozen=True, kw_only=True):
    """One step of the work. `{name}` in a text stands for the parameter of that name.

    `source` and `basis` are those of every line that has none of its own. A step of another part that is
    `for_leak_search` too is done where no injury goes through.
    """

    code: Code
    part: Part
    for_leak_search: bool = False
    title: Annotated[str, Meta(min_length=1, max_length=60)]
    per_injury: bool = False
    do: Annotated[tuple[Sentence | Said, ...], Meta(min_length=1)]
    tools: tuple[Sentence | Said, ...] = ()
    hold: Hold | None = None
    cautions: tuple[Code, ...] = ()


class ParameterRule(ByCircumstance, frozen=True, kw_only=True):
    """A figure of some steps, or words: `low` alone is a least value, `high` alone a largest.

    `also` says the same in another unit.
    """

    steps: Steps
    name: Code
    title: Text
    unit: str = ""
    low: float | None = None
    high: float | None = None
    also: str = ""
    words: str | None = None


class BookFigureRule(Closed, frozen=True, kw_only=True):
    """A figure of some steps that stands in the book or in workshop practice, with its source there."""

    steps: Steps
    name: Code
    title: Text
    book: BookFigure
    when: tuple[Circumstance, ...] = ()


class CaseFigureRule(ByCircumstance, frozen=True, kw_only=True):
    """A figure of some steps that is reckoned from the case."""

    steps: Steps
    name: Code
    title: Text
    case: CaseFigure


class StepTimes(Sourced, frozen=True, kw_only=True):
    """How long one straight repair takes a class of tyre as a rule, in all and by the codes of its steps.

    The figures in all are known as `basis` says, the steps' as `steps_basis` does.
    """

    on_vehicle_minutes: float | None = None
    loose_minutes: float | None = None
    steps_basis: Basis
    likely_minutes: dict[Code, float]


class ExtraTime(ByCircumstance, frozen=True, kw_only=True):
    """How long a step takes, or, under a code of its own, extra work in it; reckoned where the case decides."""

    step: Code
    code: Code
    low_minutes: float | None = None
    likely_minutes: float | None = None
    high_minutes: float | None = None
    case: Literal["cure_time"] | None = None


class Spread(ByClass, frozen=True, kw_only=True):
    """How far a step's time lies either way of the usual, where nothing says so."""

    low_share: float
    high_share: float


class CautionRule(ByCircumstance, frozen=True, kw_only=True):
    """A caution, named by the steps it belongs to."""

    code: Code
    says: Sentence


class ConsumableRule(ByCircumstance, frozen=True, kw_only=True):
    """What a repair uses up: for the whole tyre, for each injury, or for each cm2 and coat of cement.

    `brush_factor` is what is taken for what stays on.
    """

    code: Code
    title: Text
    unit: Literal["ml", "piece"]
    per: Literal["tyre", "injury", "cm2_coat"]
    low: float
    high: float
    brush_factor: float = 1.0


class Coats(ByClass, frozen=True, kw_only=True):
    """How often a surface is coated with cement."""

    surface: Literal["channel", "liner"]
    low_times: int
    high_times: int


class DryingRule(ByClass, frozen=True, kw_only=True):
    """The climate in which cement dries slowly, and that in which it is not put on at all."""

    slow_under_c: float
    slow_over_percent: float
    stop_under_c: float


class HeatCure(ByClass, frozen=True, kw_only=True):
    """How long a fill cures by heat: so many minutes for each step of depth."""

    fill: HeatCuredFill
    minutes: float
    per_depth_mm: float


class RunLowShare(ByClass, frozen=True, kw_only=True):
    """The share of its pressure at or under which a tyre was run low, where the book gives none."""

    at_or_under_percent: float


class PlanWords(Closed, frozen=True, kw_only=True):
    """What a plan says of itself: how far it goes, where the work waits, and which tyre and vehicle a step is for."""

    repair: Sentence
    inspection: Sentence
    none: Sentence
    nothing_through: Sentence
    nothing_to_do: Sentence | None = None
    leak_search: Sentence | None = None
    waits_for_verdict: Sentence
    waits_for_unit: Sentence
    waits_for_climate: Sentence
    of_class: Sentence
    of_kind: Sentence


class Procedure(Closed, frozen=True, kw_only=True, eq=False):
    """The work of a repair, whole, as it stands in its file. Compared by identity."""

    edition: Text
    released: date
    sources: dict[str, Source]
    when: dict[Circumstance, Text]
    says: PlanWords
    steps: Annotated[tuple[StepRule, ...], Meta(min_length=1)]
    parameters: tuple[ParameterRule, ...]
    book_figures: tuple[BookFigureRule, ...]
    case_figures: tuple[CaseFigureRule, ...]
    cautions: tuple[CautionRule, ...]
    times: Annotated[tuple[StepTimes, ...], Meta(min_length=1)]
    extra_times: tuple[ExtraTime, ...]
    spread: Annotated[tuple[Spread, ...], Meta(min_length=1, max_length=1)]
    drying: Annotated[tuple[DryingRule, ...], Meta(min_length=1, max_length=1)]
    run_low: Annotated[tuple[RunLowShare, ...], Meta(min_length=1, max_length=1)]
    coats: tuple[Coats, ...]
    heat_cure: tuple[HeatCure, ...]
    consumables: tuple[ConsumableRule, ...]

    def source(self, entry: Sourced) -> str:
        """Return the document an entry comes from, in words."""
        return str(self.sources[entry.source])
