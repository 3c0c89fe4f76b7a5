"""What is sent and what comes back. Made by sdk/generate.py from openapi/openapi.json: change those, not this."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING, Literal, TypeAlias

from mendgauge_client._base import AnswerStruct, OpenWord, RequestStruct


class Advice(AnswerStruct, kw_only=True, frozen=True):
    """What to do about a finding; what there is nothing to say of is left out."""

    tyre: str | None = None
    """What to do with the tyre."""
    vehicle: str | None = None
    """What to do with the vehicle."""
    operation: str | None = None
    """What to change so that it happens less; in a full answer."""


class Covered(AnswerStruct, kw_only=True, frozen=True):
    """What the job takes and the price of its labour has in it already."""

    code: str
    """Its code."""
    title: str
    """What it is."""
    quantity: float
    """How much of it, in `unit`."""
    unit: str
    """`ml` or `piece`."""


class Downtime(RequestStruct, kw_only=True):
    """What it costs that the vehicle stands while the tyre is repaired, or while it is replaced."""

    cost_per_hour: str
    """What an hour of standing costs."""
    replacement_minutes: float
    """How long it stands for a replacement, minutes."""
    repair_minutes: float | None = None
    """How long it stands for a repair, minutes. Left out: as long as the work plan takes."""


class ExtraService(AnswerStruct, kw_only=True, frozen=True):
    """An additional service description: another load at another speed."""

    load_index_single: int
    """Load index, fitted single."""
    load_index_dual: int | None
    """Load index, in a dual pair; null if it has none."""
    speed_symbol: str | None
    """Speed symbol."""


class FaultAt(AnswerStruct, kw_only=True, frozen=True):
    """One thing that is wrong, and where: in the body, by `pointer`, or in a query or path parameter, by its name."""

    detail: str
    """What is wrong and what would be right."""
    pointer: str | None = None
    """Where in the request body: a JSON Pointer (RFC 6901); empty is the whole body. Absent when a parameter is at
    fault.
    """
    parameter: str | None = None
    """The query or path parameter at fault, by name. Absent when the body is at fault."""


class HangsOn(AnswerStruct, kw_only=True, frozen=True):
    """An input that the recommendation depends on, and how far it would have to change to turn it."""

    field: str
    """The input, as an RFC 6901 pointer."""
    unit: str
    """Its unit: a currency's code, mm, %."""
    now: str
    """What it is."""
    turns_at: str
    """Where repair and replacement come out even."""
    by: str
    """How far it would have to change, with its sign."""
    by_percent: float | None
    """The same in percent of what it is; null of next to nothing."""
    says: str
    """The same in words."""


class HoldPoint(AnswerStruct, kw_only=True, frozen=True):
    """A point at which the work stops unless a check comes out right."""

    checks: str
    """What is checked."""
    right: str
    """What is right."""
    if_not: str
    """What to do when it is not."""


class HouseMinutes(RequestStruct, kw_only=True):
    """How long a step takes this shop."""

    low: float
    """On a good day, minutes."""
    likely: float
    """As a rule, minutes; not below `low`."""
    high: float
    """On a bad day, minutes; not below `likely`."""


HouseTime: TypeAlias = float | HouseMinutes


class InTables(AnswerStruct, kw_only=True, frozen=True):
    """Where in a batch's `tables` that stands which a brief row of it leaves out, counted from 0."""

    cautions: list[int] = []
    """Its cautions; those in the row itself come behind them."""
    to_establish: list[int] = []
    """Its questions; those in the row itself come behind them."""
    until_then: int | None = None
    """What to tell the driver; null: nothing, or in the row."""
    findings: list[int | None] = []
    """Its findings in their order; null: the next of those in the row itself."""
    advice: list[int | None] = []
    """The advice of each finding in the row itself; null: none, or with it."""


class Inspection(RequestStruct, kw_only=True):
    """What the bench saw of the tyre, inside and out."""

    complete: bool = False
    """True: everything here was looked for, and what is not named was not found; nor was any hole plugged of which
    `plugged_from_outside` is left out.
    """
    belt_separation: bool | None = None
    """Belt or tread coming apart from the carcass."""
    bulge: bool | None = None
    """A bulge in the tread or sidewall."""
    cord_exposed: bool | None = None
    """Cord or body ply exposed, broken or rusted."""
    bead_damage: bool | None = None
    """Bead torn, kinked or its wire showing."""
    liner_damage: bool | None = None
    """Liner damaged beyond what a repair unit would cover."""
    run_flat_signs: bool | None = None
    """Signs of running low or flat: liner creased, wrinkled or marbled, rubber dust."""
    secondary_damage: bool | None = None
    """Damage the object did inside the tyre beyond its own hole."""
    perished: bool | None = None
    """Rubber perished, or cracked to the cord."""
    contaminated: bool | None = None
    """Soaked with oil, fuel or solvent."""
    zipper_signs: bool | None = None
    """Ripples, soft spots or popping in the sidewall: steel cords that may burst open."""


class Live(AnswerStruct, kw_only=True, frozen=True):
    """The process runs."""

    status: str
    """Always `live`."""


class Measuring(RequestStruct, kw_only=True):
    """The tolerance of a shop's instruments. A bare number is then taken for a range of that much either way."""

    ruler_mm: float | None = None
    """Places, widths and patches: rule or tape, mm either way."""
    calliper_mm: float | None = None
    """Diameter of the injury as found: calliper or gauge pins, mm either way."""
    depth_gauge_mm: float | None = None
    """Tread depth and crown thickness, mm either way."""
    probe_deg: float | None = None
    """Lean of the channel and its direction, degrees either way."""


class Minutes(AnswerStruct, kw_only=True, frozen=True):
    """A time in minutes. What hangs on an unanswered question counts in `high` alone."""

    low: float
    """At the least, minutes."""
    likely: float
    """As a rule, minutes."""
    high: float
    """At the most, minutes."""


class MoneySpan(AnswerStruct, kw_only=True, frozen=True):
    """All amounts from one to another; known where both are the same."""

    low: str
    """The smallest amount it can be."""
    high: str
    """The largest amount it can be."""


class NotIncluded(AnswerStruct, kw_only=True, frozen=True):
    """What is not in the price, since it is not known to be needed."""

    code: str
    """The step of the work plan, or the consumable."""
    title: str
    """What it is."""
    only_if: str
    """When it is needed."""


class NotPriced(AnswerStruct, kw_only=True, frozen=True):
    """Something that an alternative takes and that has no price."""

    field: str
    """Where its price is missed, as an RFC 6901 pointer."""
    says: str
    """What has no price, and what would be right."""


class Observed(AnswerStruct, kw_only=True, frozen=True):
    """What was seen, as a range: a measured value has `low` equal to `high`."""

    low: float
    """The smallest value it can have."""
    high: float
    """The largest value it can have."""
    unit: str
    """Unit of both."""


class Problem(AnswerStruct, kw_only=True, frozen=True):
    """What went wrong with a request (RFC 9457)."""

    type: str
    """The kind of problem, a URI reference that can be followed for an explanation."""
    title: str
    """The kind in a few words."""
    status: int
    """The HTTP status of this answer."""
    detail: str
    """What went wrong this time."""
    request_id: str
    """The request's id, as in the `X-Request-Id` header and the log."""
    errors: list[FaultAt] = []
    """The faults found in the request, where it has places to name."""


class ProblemType(AnswerStruct, kw_only=True, frozen=True):
    """A kind of problem, and what to do about it."""

    type: str
    """The URI reference that names the kind."""
    status: int
    """The HTTP status it comes with."""
    title: str
    """The kind in a few words."""
    remedy: str
    """What it means and what to do about it."""


class Range(RequestStruct, kw_only=True):
    """A measurement known only to lie between two values, both included."""

    low: float
    """The smallest value it can have."""
    high: float
    """The largest value it can have; not below `low`."""


class Ready(AnswerStruct, kw_only=True, frozen=True):
    """The service takes requests."""

    status: str
    """Always `ready`; otherwise the answer is 503."""


class Reason(AnswerStruct, kw_only=True, frozen=True):
    """One thing that speaks for or against, by a code and in words."""

    code: str
    """What it is, by name."""
    says: str
    """The same in words."""
    by: float | None = None
    """By how much, where it is a quantity; in `unit`."""
    unit: str = ""
    """Unit of `by`; empty where there is none."""


class RulebookSummary(AnswerStruct, kw_only=True, frozen=True):
    """One edition of a rulebook."""

    id: str
    """The rulebook."""
    edition: str
    """Its edition."""
    reference: str
    """How a case pins this edition."""
    title: str
    """What it is about."""
    jurisdiction: str
    """Where it applies."""
    language: str
    """Language of its answers."""
    released: date
    """When the edition was released; it never changes after."""
    digest: str
    """Digest of the edition's content."""


class RulebookUsed(AnswerStruct, kw_only=True, frozen=True):
    """The rulebook edition an answer rests on."""

    id: str
    """The rulebook."""
    edition: str
    """Its edition."""
    digest: str | None = None
    """Digest of the edition's content; once in a brief answer."""


class SidewallWarning(AnswerStruct, kw_only=True, frozen=True):
    """Something that reads, but that a person should look at."""

    code: str
    """The kind of oddity, for programs."""
    says: str
    """What is odd, in words."""


class Span(AnswerStruct, kw_only=True, frozen=True):
    """All values from one to another, in the unit of the field's name; known where both are the same."""

    low: float
    """The smallest value it can have."""
    high: float
    """The largest value it can have."""


class StatedValue(AnswerStruct, kw_only=True, frozen=True):
    """One thing a provision states: numbers, words, or yes or no, as its name says; and always as text."""

    name: str
    """Its name in the rulebook."""
    text: str
    """What is stated, as text."""
    numbers: list[float]
    """The number, or the numbers of a list; empty otherwise."""
    unit: str | None
    """Unit of the numbers; null where they have none."""
    words: list[str]
    """The word, or the words of a list; empty otherwise."""
    holds: bool | None
    """Yes or no; null where it is neither."""


class TaxTotal(AnswerStruct, kw_only=True, frozen=True):
    """What one tax comes to on the whole bill."""

    name: str
    """The tax."""
    percent: str
    """Its rate, %."""
    net: str
    """What it is charged on: the net of the lines it applies to."""
    tax: str
    """What it comes to."""


class Totals(AnswerStruct, kw_only=True, frozen=True):
    """What a bill comes to: the sums of its lines."""

    net: str
    """Without tax."""
    tax: str
    """All taxes."""
    gross: str
    """What is to be paid."""


class Traits(RequestStruct, kw_only=True):
    """What kind of tyre it is beyond its marking."""

    complete: bool = False
    """True: the tyre was looked at, and a trait not named here is absent."""
    run_flat: bool | None = None
    """Self-supporting sidewalls."""
    foam_lined: bool | None = None
    """Noise-damping foam on the liner."""
    self_sealing: bool | None = None
    """A sealing layer on the liner from the factory."""
    retread: bool | None = None
    """Retreaded."""
    studded: bool | None = None
    """Fitted with winter studs."""
    temporary_spare: bool | None = None
    """A spare for temporary use only."""
    tube_type: bool | None = None
    """Runs with an inner tube."""
    regrooved: bool | None = None
    """The tread pattern has been recut."""


class TrimInstruction(RequestStruct, kw_only=True):
    """Where a unit's own maker has its stem cut. What is left out stays as the trade does it."""

    in_groove_mm: float | None = None
    """Height left above the groove base, mm; 0 is flush."""
    on_lug_mm: float | None = None
    """Height left above the tread surface on a lug, block or rib, mm; 0 is flush."""
    inside_mm: float | None = None
    """Height left above the liner before it is buffed level, mm; two-piece."""


class AbsentPart(OpenWord):
    """What `Absent.part` may say."""

    REPAIR_UNITS = "repair_units"
    STEM_TRIMS = "stem_trims"
    SERVICE_LIMITS = "service_limits"
    WORK_PLAN = "work_plan"
    QUOTE = "quote"


class AlternativeCode(OpenWord):
    """What `Alternative.code` may say."""

    NEXT_SIZE_UP = "next_size_up"
    NEXT_SIZE_ENDS_IT = "next_size_ends_it"
    NEXT_SIZE_NO_UNIT = "next_size_no_unit"
    TWO_PIECE = "two_piece"
    TWO_PIECE_ENDS_IT = "two_piece_ends_it"
    TWO_PIECE_NO_UNIT = "two_piece_no_unit"
    ABANDONED = "abandoned"
    INSPECTION = "inspection"
    REPLACEMENT = "replacement"


class AlternativeOn(OpenWord):
    """What `Alternative.job`, `Fee.on`, `Quote.job` may say."""

    REPAIR = "repair"
    INSPECTION = "inspection"
    LEAK_SEARCH = "leak_search"
    REPLACEMENT = "replacement"


MatePlace: TypeAlias = Literal["dual_mate", "other_end"]


WheelState: TypeAlias = Literal["loose", "on_vehicle"]


HeatCuredFill: TypeAlias = Literal["tread_rubber", "two_part"]


class Basis(OpenWord):
    """What `Caution.basis`, `CautionAtStep.basis`, `Caveat.basis`, `ConsumableUsed.basis`, `DriverAdvice.basis`,
    `Figure.basis`, `Finding.basis`, `FollowUpDue.basis`, `InsideCut.basis`, `OutsideCut.basis`,
    `RepairOrReplace.basis`, `RulebookProvision.basis`, `ServiceLoad.basis`, `ServiceSpeed.basis`, `SizeLimit.basis`,
    `Source.basis`, `SpeedCeiling.basis`, `StepParameter.basis`, `TimePart.basis`, `UsualMinutes.basis`,
    `WorkStep.basis` may say.
    """

    COMMON_PRACTICE = "common_practice"
    DERIVED = "derived"
    FROM_MEMORY = "from_memory"
    HOUSE_RULE = "house_rule"
    PUBLISHED = "published"
    PUBLISHED_SUMMARY = "published_summary"


class CaveatFor(OpenWord):
    """What `Caveat.to` may say."""

    COUNTER = "counter"
    DRIVER = "driver"
    JOB_FILE = "job_file"


class ChoiceKind(OpenWord):
    """What `Choice.kind`, `Chosen.kind`, `FlatRate.unit` may say."""

    ONE_PIECE = "one_piece"
    TWO_PIECE = "two_piece"


class YesNoOpen(OpenWord):
    """What `Chosen.under_shoulder`, `Drying.slow`, `Drying.stopped`, `InjuryUnit.goes_through`, `InsideCut.applies`,
    `InsideCut.capped`, `NeededUnit.reinforced`, `OutsideCut.capped`, `ServiceSpeed.covers_vehicle`,
    `SizeLimit.cutter_keeps`, `SizeLimit.hole_keeps` may say.
    """

    YES = "yes"
    NO = "no"
    OPEN = "open"


class ConsumableUsedUnit(OpenWord):
    """What `ConsumableUsed.unit`, `PricedConsumable.unit` may say."""

    ML = "ml"
    PIECE = "piece"


class CostPerDistanceUnit(OpenWord):
    """What `CostPerDistance.unit`, `Replacement.distance_unit` may say."""

    KM = "km"
    MILE = "mile"


DiscountOn: TypeAlias = Literal[
    "call_out", "consumable", "disposal", "fee", "inspection", "labour", "part", "tyre", "unit"
]


class DriverAdviceCode(OpenWord):
    """What `DriverAdvice.code` may say."""

    DAMAGED = "damaged"
    SIDEWALL = "sidewall"
    DRIVEN_FLAT = "driven_flat"
    RUN_LOW = "run_low"
    LOSING_AIR = "losing_air"
    RUN_DEFLATED = "run_deflated"
    HOLDS_AIR = "holds_air"
    SEALANT = "sealant"
    OBJECT = "object"
    PAIR = "pair"


RepairMethod: TypeAlias = Literal["one_piece", "patch_only", "plug_only", "section", "two_piece"]


class MeasuredFrom(OpenWord):
    """What `EarlierRepair.measured_from`, `Injury.measured_from`, `Passes.side` may say."""

    INSIDE = "inside"
    OUTSIDE = "outside"


FeeKind: TypeAlias = Literal["fee", "part"]


class Outcome(OpenWord):
    """What `Finding.outcome` may say."""

    MET = "met"
    BROKEN = "broken"
    OPEN = "open"


class Effect(OpenWord):
    """What `Finding.effect` may say."""

    ENDS_THE_TYRE = "ends_the_tyre"
    NOT_COVERED = "not_covered"
    SPECIALIST_ONLY = "specialist_only"
    CAUTION = "caution"
    NOT_IN_THIS_POSITION = "not_in_this_position"


VehicleKind: TypeAlias = Literal["bus", "car", "motorcycle", "trailer", "truck", "van"]


FlatRatePer: TypeAlias = Literal["injury", "tyre"]


RateCovers: TypeAlias = Literal["consumable", "unit"]


class GenericUnitKind(OpenWord):
    """What `GenericUnit.kind`, `Piece.kind`, `StockUnit.kind` may say."""

    ONE_PIECE = "one_piece"
    PATCH = "patch"
    STEM = "stem"


Region: TypeAlias = Literal["bead", "shoulder", "sidewall", "tread"]


SpecialTyre: TypeAlias = Literal[
    "foam_lined", "regrooved", "retread", "run_flat", "self_sealing", "studded", "temporary_spare", "tube_type"
]


Depth: TypeAlias = Literal["rubber_only", "through", "to_cord"]


Stage: TypeAlias = Literal["found", "prepared"]


class EmergesIn(OpenWord):
    """What `Injury.emerges_in`, `OutsideCut.emerges_in` may say."""

    GROOVE = "groove"
    LUG = "lug"


class Verdict(OpenWord):
    """What `InjuryVerdict.possible_verdicts`, `InjuryVerdict.verdict`, `Repairability.possible_verdicts`,
    `Repairability.verdict`, `ServiceLimits.possible_verdicts`, `ServiceLimits.verdict` may say.
    """

    REPAIRABLE = "repairable"
    SPECIALIST = "specialist"
    NOT_COVERED = "not_covered"
    NOT_REPAIRABLE = "not_repairable"
    INSPECT = "inspect"


class CutAt(OpenWord):
    """What `InsideCut.at`, `OutsideCut.at` may say."""

    GROOVE_BASE = "groove_base"
    TREAD_SURFACE = "tread_surface"
    LINER = "liner"


LabourRateMinutes: TypeAlias = Literal["high", "likely", "low"]


class Sense(OpenWord):
    """What `Limit.sense` may say."""

    AT_MOST = "at_most"
    AT_LEAST = "at_least"


class LineKind(OpenWord):
    """What `Line.kind` may say."""

    LABOUR = "labour"
    UNIT = "unit"
    CONSUMABLE = "consumable"
    PART = "part"
    FEE = "fee"
    INSPECTION = "inspection"
    CALL_OUT = "call_out"
    DISPOSAL = "disposal"
    TYRE = "tyre"
    DISCOUNT = "discount"
    MINIMUM_CHARGE = "minimum_charge"
    CASH_ROUNDING = "cash_rounding"


MakerRepair: TypeAlias = Literal["forbidden", "permitted"]


class RatingAfterRepair(OpenWord):
    """What `MakerPolicy.speed_rating_after_repair`, `ServiceSpeed.possible_statuses` may say."""

    RETAINED = "retained"
    CAPPED = "capped"
    VOID = "void"


class UnitCarcass(OpenWord):
    """What `NeededUnit.carcass` may say."""

    RADIAL = "radial"
    BIAS = "bias"
    NOT_KNOWN = "not_known"


class Shape(OpenWord):
    """What `Outline.shape`, `StockUnit.patch_shape` may say."""

    RECTANGULAR = "rectangular"
    ROUND = "round"


class AskedAt(OpenWord):
    """What `PlanQuestion.asked_at`, `ToEstablish.asked_at` may say."""

    RECORD = "record"
    PHONE = "phone"
    VEHICLE = "vehicle"
    BENCH = "bench"


Axle: TypeAlias = Literal["drive", "front", "rear", "spare", "steer", "trailer"]


Fitment: TypeAlias = Literal["dual", "dual_inner", "dual_outer", "single"]


class RepairOffer(OpenWord):
    """What `Quote.offer`, `RepairUnits.offer`, `StemTrims.offer`, `WorkPlan.offer` may say."""

    OFFERED = "offered"
    CONDITIONAL = "conditional"
    WITHHELD = "withheld"


class Recommendation(OpenWord):
    """What `RepairOrReplace.recommendation` may say."""

    REPAIR = "repair"
    REPAIR_IF_IT_PASSES = "repair_if_it_passes"
    REPLACE = "replace"
    SPECIALIST_OR_REPLACE = "specialist_or_replace"
    ASK_THE_MAKER_OR_REPLACE = "ask_the_maker_or_replace"
    OPEN = "open"


class DecidedBy(OpenWord):
    """What `RepairOrReplace.decided_by` may say."""

    RULES = "rules"
    STOCK = "stock"
    COST = "cost"


class RepairPlanOutcomeStatus(OpenWord):
    """What `RepairPlanOutcome.status`, `RepairabilityOutcome.status` may say."""

    OK = "ok"
    FAILED = "failed"


class DrawnFrom(OpenWord):
    """What `RepairUnits.drawn_from` may say."""

    STOCK = "stock"
    GENERIC = "generic"


class NextStep(OpenWord):
    """What `Repairability.next_step`, `ServiceLimits.next_step` may say."""

    ASK_FIRST = "ask_first"
    BOOK_IN = "book_in"
    REPAIR = "repair"
    REPAIR_FOR_ANOTHER_POSITION = "repair_for_another_position"
    FIND_THE_LEAK = "find_the_leak"
    NO_REPAIR_NEEDED = "no_repair_needed"
    SEND_TO_SPECIALIST = "send_to_specialist"
    ASK_THE_MAKER = "ask_the_maker"
    REPLACE = "replace"


class Otherwise(OpenWord):
    """What `Repairability.otherwise` may say."""

    BOOK_IN = "book_in"
    REPAIR = "repair"
    REPAIR_FOR_ANOTHER_POSITION = "repair_for_another_position"
    FIND_THE_LEAK = "find_the_leak"
    NO_REPAIR_NEEDED = "no_repair_needed"
    SEND_TO_SPECIALIST = "send_to_specialist"
    ASK_THE_MAKER = "ask_the_maker"
    REPLACE = "replace"


class LimitedBy(OpenWord):
    """What `Room.limited_by` may say."""

    SHOULDER = "shoulder"
    EARLIER_REPAIR = "earlier_repair"
    INJURY = "injury"


HalfRounding: TypeAlias = Literal["even", "up"]


RoundingTax: TypeAlias = Literal["line", "total"]


class Fit(OpenWord):
    """What `ServiceLimits.fit` may say."""

    FIT = "fit"
    NOT_FIT = "not_fit"
    OPEN = "open"


class ServiceLoadStatus(OpenWord):
    """What `ServiceLoad.status` may say."""

    ENOUGH = "enough"
    SHORT = "short"
    OPEN = "open"


class LoadRestsOn(OpenWord):
    """What `ServiceLoad.rests_on` may say."""

    MOULDED = "moulded"
    LOAD_INDEX = "load_index"
    NOTHING = "nothing"


class ServicePositionStatus(OpenWord):
    """What `ServicePosition.status` may say."""

    ALLOWED = "allowed"
    NOT_ALLOWED = "not_allowed"
    OPEN = "open"


class ServiceSpeedStatus(OpenWord):
    """What `ServiceSpeed.status` may say."""

    RETAINED = "retained"
    NOT_CONFIRMED = "not_confirmed"
    CAPPED = "capped"
    VOID = "void"


class SpeedRestsOn(OpenWord):
    """What `ServiceSpeed.rests_on` may say."""

    TYRE_MAKER = "tyre_maker"
    MARKING = "marking"
    NOBODY = "nobody"


class LimitMeans(OpenWord):
    """What `SizeLimit.means` may say."""

    CUTTER = "cutter"


class SpeedPeriod(OpenWord):
    """What `SpeedCeiling.when` may say."""

    MAKER_CAP = "maker_cap"
    FIRST_HOURS = "first_hours"
    AFTERWARDS = "afterwards"
    TEMPORARY_USE = "temporary_use"
    RUN_DEFLATED = "run_deflated"


Construction: TypeAlias = Literal["bias", "either", "radial"]


BodyPly: TypeAlias = Literal["steel", "textile"]


Detail: TypeAlias = Literal["brief", "full"]


class MarkingForm(OpenWord):
    """What `TyreMarking.form` may say."""

    ALPHA = "alpha"
    ALPHA_MC = "alpha_mc"
    FLOTATION = "flotation"
    INCH = "inch"
    METRIC = "metric"
    METRIC_NO_ASPECT = "metric_no_aspect"


class CarcassBuild(OpenWord):
    """What `TyreMarking.build` may say."""

    BIAS = "bias"
    BIAS_BELTED = "bias_belted"
    RADIAL = "radial"


class Drive(OpenWord):
    """What `UntilThen.drive` may say."""

    NO = "no"
    TO_THE_BENCH = "to_the_bench"
    OPEN = "open"


class WorkScope(OpenWord):
    """What `WorkPlan.scope` may say."""

    REPAIR = "repair"
    INSPECTION = "inspection"
    LEAK_SEARCH = "leak_search"
    NONE = "none"


class WorkStepPart(OpenWord):
    """What `WorkStep.part` may say."""

    INSPECTION = "inspection"
    LEAK_SEARCH = "leak_search"
    DECISION = "decision"
    REPAIR = "repair"


if TYPE_CHECKING:
    MeasuredFromLiteral: TypeAlias = Literal["inside", "outside"] | MeasuredFrom
else:
    MeasuredFromLiteral: TypeAlias = Literal["inside", "outside"]


if TYPE_CHECKING:
    AlternativeOnLiteral: TypeAlias = Literal["repair", "inspection", "leak_search", "replacement"] | AlternativeOn
else:
    AlternativeOnLiteral: TypeAlias = Literal["repair", "inspection", "leak_search", "replacement"]


if TYPE_CHECKING:
    ChoiceKindLiteral: TypeAlias = Literal["one_piece", "two_piece"] | ChoiceKind
else:
    ChoiceKindLiteral: TypeAlias = Literal["one_piece", "two_piece"]


if TYPE_CHECKING:
    EmergesInLiteral: TypeAlias = Literal["groove", "lug"] | EmergesIn
else:
    EmergesInLiteral: TypeAlias = Literal["groove", "lug"]


if TYPE_CHECKING:
    RatingAfterRepairLiteral: TypeAlias = Literal["retained", "capped", "void"] | RatingAfterRepair
else:
    RatingAfterRepairLiteral: TypeAlias = Literal["retained", "capped", "void"]


if TYPE_CHECKING:
    CostPerDistanceUnitLiteral: TypeAlias = Literal["km", "mile"] | CostPerDistanceUnit
else:
    CostPerDistanceUnitLiteral: TypeAlias = Literal["km", "mile"]


if TYPE_CHECKING:
    GenericUnitKindLiteral: TypeAlias = Literal["one_piece", "patch", "stem"] | GenericUnitKind
else:
    GenericUnitKindLiteral: TypeAlias = Literal["one_piece", "patch", "stem"]


if TYPE_CHECKING:
    ShapeLiteral: TypeAlias = Literal["rectangular", "round"] | Shape
else:
    ShapeLiteral: TypeAlias = Literal["rectangular", "round"]


class Absent(AnswerStruct, kw_only=True, frozen=True):
    """A part that the plan does not have."""

    part: AbsentPart
    """The part, by the name of its field."""
    says: str
    """Why it does not apply."""


class Caution(AnswerStruct, kw_only=True, frozen=True):
    """Something to know before acting. A brief answer has it without its source."""

    code: str
    """The caution, by name."""
    says: str
    """The caution in words."""
    basis: Basis | None = None
    """How it is known, in a full answer; null of what came with the case."""
    source: str | None = None
    """The document it comes from, and where it was seen; in a full answer."""


class CautionAtStep(AnswerStruct, kw_only=True, frozen=True):
    """Something to know before this step."""

    code: str
    """The caution, by name."""
    says: str
    """The caution in words."""
    basis: Basis | None = None
    """How it is known, in a full answer; null of what came with the case."""
    source: str | None = None
    """The document it comes from, and where it was seen; in a full answer."""
    only_if: str | None = None
    """What it hangs on, in words, where the case does not settle that; null where it is settled."""


class Caveat(AnswerStruct, kw_only=True, frozen=True):
    """Something to print, short and long."""

    code: str
    """The caveat, by name."""
    short: str
    """In a few words, for a receipt or a screen."""
    long: str
    """In full."""
    to: list[CaveatFor]
    """Whom it is for: `counter`, `driver`, `job_file`."""
    acknowledge: bool
    """Whether it must be acknowledged before the vehicle leaves."""
    basis: Basis | None = None
    """How it is known, in a full answer; null of what came with the case."""
    source: str | None = None
    """The document it comes from, and where it was seen; in a full answer."""


class Channel(AnswerStruct, kw_only=True, frozen=True):
    """The channel through the crown as it will be once it is cut clean, and its mouth at the liner."""

    cutter_mm: Span
    """Nominal size of the cutter, and so the diameter of the channel once cut; mm."""
    lean_deg: Span
    """Lean from the perpendicular to the tread, degrees."""
    length_mm: Span
    """Length along its lean, liner to where it comes out, mm."""
    mouth_length_mm: Span
    """Longest opening of the mouth at the liner, an ellipse as wide as the cutter, mm."""
    hole_mm: Span | None = None
    """Diameter of the hole as found; null where nobody measured it."""
    mouth_across_mm: Span | None = None
    """Extent of the mouth across the tread, mm."""
    mouth_around_mm: Span | None = None
    """Extent of the mouth along the tread, mm."""
    centre_across_mm: Span | None = None
    """Centre of the mouth at the liner, across from the centre line, mm; shifted by the lean."""
    centre_around_mm: Span | None = None
    """Centre of the mouth at the liner, from the valve along the liner, mm."""


class ConsumableUsed(AnswerStruct, kw_only=True, frozen=True):
    """What the job uses up."""

    code: str
    """What it is, by name: what `house_times.quantities` calls it."""
    title: str
    """What it is."""
    low: float
    """At the least, in `unit`."""
    high: float
    """At the most, in `unit`."""
    unit: ConsumableUsedUnit
    """`ml` or `piece`."""
    basis: Basis | None = None
    """How it is known, in a full answer; null of what came with the case."""
    source: str | None = None
    """The document it comes from, and where it was seen; in a full answer."""
    only_if: str | None = None
    """What it hangs on, in words, where the case does not settle that; null where it is settled."""
    note: str = ""
    """What else there is to know, in a full answer; may be empty."""


class CostPerDistance(AnswerStruct, kw_only=True, frozen=True):
    """What a unit of distance costs, casing credited."""

    unit: CostPerDistanceUnit
    """`km` or `mile`."""
    new: MoneySpan
    """On a new tyre."""
    repaired: MoneySpan | None = None
    """On the repaired tyre, from now on; null without a repair, or where no tread may be left."""


class Discount(RequestStruct, kw_only=True):
    """What is taken off: a share, or an amount of money, as far as there is something to take it off.

    It is one line of the bill; taken off what is taxed apart, one for each set of taxes, which its title then names.
    """

    title: str
    """What is printed on the bill."""
    percent: str | None = None
    """The share taken off, %."""
    amount: str | None = None
    """The amount taken off."""
    on: list[DiscountOn] | None = None
    """What it is taken off. Left out: everything."""


class DriverAdvice(AnswerStruct, kw_only=True, frozen=True):
    """Something to tell the driver."""

    code: DriverAdviceCode
    """What it is about: the state of the tyre, by name."""
    says: str
    """What to tell the driver."""
    basis: Basis | None = None
    """How it is known, in a full answer; null of what came with the case."""
    source: str | None = None
    """The document it comes from, and where it was seen; in a full answer."""
    clause: str = ""
    """The place in the source, in a full answer; empty where none is known."""


class Drying(AnswerStruct, kw_only=True, frozen=True):
    """How cement dries at this bench."""

    minutes: Minutes
    slow: YesNoOpen
    """Whether it dries slowly, in cold or damp air."""
    stopped: YesNoOpen
    """Whether no cement may be put on: too cold, or the liner at or below the dew point."""
    dew_point_c: Span | None = None
    """Dew point of the air, °C; null where temperature or humidity is not known."""


class Fee(RequestStruct, kw_only=True):
    """A fixed charge that comes with a job."""

    code: str
    """The shop's own code."""
    title: str
    """What is printed on the bill."""
    price: str
    """The charge."""
    kind: FeeKind = "fee"
    """A fee, or a part that is sold; taxes may differ between them."""
    on: list[AlternativeOnLiteral] | None = None
    """The jobs it comes with. Left out: a repair."""


class Figure(AnswerStruct, kw_only=True, frozen=True):
    """A figure of the trade, and its source."""

    low: float
    """The figure; the smaller one where it is a range."""
    high: float
    """The figure; the larger one where it is a range."""
    unit: str
    """Unit of both."""
    basis: Basis | None = None
    """How it is known, in a full answer; null of what came with the case."""
    source: str | None = None
    """The document it comes from, and where it was seen; in a full answer."""
    clause: str = ""
    """Where in the document, in a full answer; empty where not known."""


class FlatRate(RequestStruct, kw_only=True):
    """One price for the labour of a job, whatever its minutes. The first that fits the job is charged."""

    code: str
    """The shop's own code for the job."""
    title: str
    """What is printed on the bill."""
    price: str
    """Price of the job."""
    kinds: list[VehicleKind] | None = None
    """Kinds of vehicle it is for. Left out: all."""
    unit: ChoiceKindLiteral | None = None
    """For repairs of one piece or of two. Left out: both."""
    wheel: WheelState | None = None
    """For wheels that come so. Left out: both."""
    per: FlatRatePer = "tyre"
    """Charged once for the tyre, or for each injury repaired."""
    covers: list[RateCovers] = []
    """What the price has in it already: repair units, consumables. What is not named here is charged for by its own
    price.
    """


class FollowUpDue(AnswerStruct, kw_only=True, frozen=True):
    """Something to look at again after the repair."""

    code: str
    """The follow-up, by name."""
    says: str
    """The follow-up in words."""
    basis: Basis | None = None
    """How it is known, in a full answer; null of what came with the case."""
    source: str | None = None
    """The document it comes from, and where it was seen; in a full answer."""
    from_km: float | None = None
    """Not before this distance, km; null: at once."""
    to_km: float | None = None
    """By this distance, km; null: no distance given."""
    from_miles: float | None = None
    """Not before this distance, miles."""
    to_miles: float | None = None
    """By this distance, miles."""
    within_hours: float | None = None
    """Within this time, hours; null: no time given."""
    every_days: float | None = None
    """Again every so many days; null: once."""
    due_on: date | None = None
    """The day by which it is due, the first time where it comes again, for a tyre repaired on `assessed_on`; null
    where a distance decides.
    """
    clause: str = ""
    """Where in the document; empty where not known."""


class GenericUnit(AnswerStruct, kw_only=True, frozen=True):
    """A nominal size of repair unit, stem or patch that stands in for a shop's stock."""

    code: str
    """Its code: in answers, and in `units` of a price book."""
    kind: GenericUnitKind
    """A unit in one piece, a stem, or a patch."""
    stem_mm: float | None
    """Diameter of its stem, mm; null for a patch."""
    stem_length_mm: float | None
    """Length of its stem, mm; null for a patch."""
    patch_mm: float | None
    """Diameter of its patch, mm; null for a stem."""
    reinforced: bool | None
    """Whether its patch has a ply of cord; null for a stem."""
    classes: list[str]
    """Classes of tyre it is used on."""


class HouseRules(RequestStruct, kw_only=True):
    """A fleet's own rules. They may be stricter than the rulebook, never looser."""

    max_injury_mm: float | None = None
    """Largest injury this house repairs, mm."""
    max_repairs: int | None = None
    """Most repairs in one tyre, all counted."""
    min_spacing_mm: float | None = None
    """Least distance between the centres of two repairs, mm."""
    min_tread_mm: float | None = None
    """Least tread left on a tyre this house repairs, mm."""
    max_age_years: float | None = None
    """Oldest tyre this house repairs, years."""
    max_lean_deg: float | None = None
    """Largest lean this house repairs, degrees."""
    max_one_piece_lean_deg: float | None = None
    """Largest lean at which this house sets stem and patch in one piece, degrees."""
    max_one_piece_crown_mm: float | None = None
    """Thickest crown, liner to groove base, through which this house pulls a unit of one piece, mm."""
    two_piece_only: bool = False
    """Set stem and patch separately in every repair."""
    refuse_steer_axle: bool = False
    """Repair nothing that runs on a steered axle."""
    refuse_regions: list[Region] = []
    """Regions in which this house repairs nothing."""
    refuse_special_tyres: list[SpecialTyre] = []
    """Kinds of tyre this house does not repair."""
    refuse_speed_v_and_above: bool = False
    """Repair no tyre with speed symbol V or above."""
    refuse_without_maker_approval: bool = False
    """Repair only what the tyre's maker lets be repaired."""


class InjuryVerdict(AnswerStruct, kw_only=True, frozen=True):
    """What the rules on one injury come to, leaving those on the tyre aside."""

    verdict: Verdict
    """`repairable`, `specialist`, `not_covered`, `not_repairable` or `inspect`."""
    possible_verdicts: list[Verdict]
    """All it may become, best first."""


class InsideCut(AnswerStruct, kw_only=True, frozen=True):
    """The cut inside, of a stem that has no patch of its own."""

    at: CutAt
    """What it is measured from."""
    proud_mm: Span
    """How far the stem stands above it once cut, mm; 0 is flush."""
    asked_mm: float
    """What is asked for before the tread left is looked at, mm."""
    capped: YesNoOpen
    """Whether it was cut down to the tread left."""
    says: str
    """The same in words, with the reason where it was capped."""
    applies: YesNoOpen
    """Whether the stem is cut inside: `yes` of two pieces, `open` while one or two is."""
    basis: Basis | None = None
    """How it is known, in a full answer; null of what came with the case."""
    source: str | None = None
    """The document it comes from, and where it was seen; in a full answer."""


class LabourRate(RequestStruct, kw_only=True):
    """Labour by the hour, for the minutes of the work plan."""

    per_hour: str
    """Price of an hour."""
    minutes: LabourRateMinutes = "likely"
    """Which minutes of the work plan are charged."""
    covers: list[RateCovers] = []
    """What the price has in it already: repair units, consumables. What is not named here is charged for by its own
    price.
    """


class Limit(AnswerStruct, kw_only=True, frozen=True):
    """The limit that an observation was compared with."""

    value: float
    """The limit; the stricter end where it is itself a range."""
    unit: str
    """Unit of the limit."""
    inclusive: bool
    """Whether the limit itself passes."""
    sense: Sense
    """`at_most` or `at_least`: which side of the limit is right."""
    value_high: float | None = None
    """The other end of the limit where it is a range."""


class Line(AnswerStruct, kw_only=True, frozen=True):
    """One line of a bill. Net and tax sum to gross."""

    kind: LineKind
    """What it is for."""
    code: str | None
    """The code of what is charged; null where it has none."""
    title: str
    """What to print."""
    quantity: float
    """How much of it, in `unit`."""
    unit: str
    """Unit of the quantity: `job`, `injury`, `minute`, `piece`, `ml`."""
    minutes: float | None
    """The minutes charged; null where time is not what is charged."""
    unit_price: str
    """Price as the book has it, for `price_per` of the unit."""
    price_per: int
    """How many of the unit the price is for: 60 minutes, 1 piece."""
    net: str
    """Without tax."""
    tax: str
    """All taxes on it."""
    gross: str
    """With tax."""


class MakerPolicy(RequestStruct, kw_only=True):
    """What the maker of this tyre says of repairs. Only the maker's own word belongs here."""

    repair: MakerRepair | None = None
    """Whether the maker lets this tyre be repaired."""
    speed_rating_after_repair: RatingAfterRepairLiteral | None = None
    """What the maker says of the speed rating after a repair."""
    speed_cap_kmh: float | None = None
    """The speed the maker allows after a repair, km/h, where it is capped."""
    max_repairs: int | None = None
    """How many repairs the maker allows in this tyre, all counted."""


MeasuredAngle: TypeAlias = float | Range


MeasuredDistance: TypeAlias = float | Range


MeasuredLength: TypeAlias = float | Range


MeasuredMass: TypeAlias = float | Range


MeasuredPercent: TypeAlias = float | Range


MeasuredQuantity: TypeAlias = float | Range


MeasuredSpeed: TypeAlias = float | Range


MeasuredTemperature: TypeAlias = float | Range


class NeededUnit(AnswerStruct, kw_only=True, frozen=True):
    """What a unit must be and have to repair this channel, whatever is still unknown of it."""

    stem_mm: Span
    """Nominal diameter of the stem: the cutter's, mm."""
    stem_length_mm: float
    """Least length of the stem: the channel, what stays proud, and a grip, mm."""
    reinforced: YesNoOpen
    """Whether the patch must be reinforced."""
    patch_mm: float
    """Least diameter of a round patch that covers the mouth with its reach, mm."""
    proud_mm: float | None = None
    """Reckoned in it for what stays proud, mm."""
    grip: Figure | None = None
    """Length of stem to grip, which its length has in it."""
    reach: Figure | None = None
    """How far the patch reaches past the mouth of the channel."""
    patch_width_mm: float | None = None
    """Least extent of a rectangular patch from bead to bead, mm."""
    patch_length_mm: float | None = None
    """Least extent of a rectangular patch along the tread, mm."""
    carcass: UnitCarcass | None = None
    """What the tyre's carcass is, and so what the patch must suit."""
    arrows: str | None = None
    """Which way the patch is turned."""


class Outline(AnswerStruct, kw_only=True, frozen=True):
    """A patch, or the area round it, on the liner."""

    shape: Shape
    """Its shape."""
    width_mm: float
    """Extent from bead to bead, mm; of a round one its diameter."""
    length_mm: float
    """Extent along the tread, mm; of a round one its diameter."""
    area_cm2: float
    """Area, cm²."""


class OutsideCut(AnswerStruct, kw_only=True, frozen=True):
    """The cut outside, where the channel comes out."""

    at: CutAt
    """What it is measured from."""
    proud_mm: Span
    """How far the stem stands above it once cut, mm; 0 is flush."""
    asked_mm: float
    """What is asked for before the tread left is looked at, mm."""
    capped: YesNoOpen
    """Whether it was cut down to the tread left."""
    says: str
    """The same in words, with the reason where it was capped."""
    emerges_in: EmergesIn
    """What the channel comes out in, for which this cut holds."""
    basis: Basis | None = None
    """How it is known, in a full answer; null of what came with the case."""
    source: str | None = None
    """The document it comes from, and where it was seen; in a full answer."""


class PassedOver(AnswerStruct, kw_only=True, frozen=True):
    """A unit that was not taken, and why not."""

    code: str
    """The unit's code."""
    reasons: list[Reason]
    """Why not, the weightiest first."""


class Passes(AnswerStruct, kw_only=True, frozen=True):
    """The cutter's passes from one side, along the injury."""

    side: MeasuredFrom
    """The side the cutter enters from."""
    times: Figure


class Piece(AnswerStruct, kw_only=True, frozen=True):
    """One thing to take from the shelf."""

    code: str
    """The shop's code, or the generic size's name."""
    kind: GenericUnitKind
    """What it is."""
    generic: bool
    """Whether it is a generic size and no unit of anyone's."""
    stem_mm: float | None = None
    """Nominal diameter of its stem, mm; null where it has none."""
    stem_length_mm: float | None = None
    """Length of its stem, mm; null where not known or none."""
    price: str | None = None
    """What one costs, as the caller sent it; null where not known."""


class PlanQuestion(AnswerStruct, kw_only=True, frozen=True):
    """A missing fact that would settle the verdict, the choice of unit, or what the plan says."""

    field: str
    """The field of the case that is missing, as an RFC 6901 pointer."""
    asks: str
    """The question in plain words."""
    how: str
    """How to find out."""
    asked_at: AskedAt
    """Where it can be answered: from the `record` (the owner's papers), by `phone` (the driver knows), at the
    `vehicle` (the tyre on its rim), or at the `bench` (the tyre off the rim).
    """
    waits: bool = False
    """Whether it is seen or looked up once the tyre is in the workshop; nobody is asked before it is booked in."""
    parts: list[str] = []
    """Of a question about a whole section of the case, the fields that it answers at once. None of them is asked for
    by itself.
    """
    settles: list[str] = []
    """What of the verdict and the unit the answer may settle."""
    steps: list[str] = []
    """Steps, by their codes, that hang on the answer."""


class Position(RequestStruct, kw_only=True):
    """Where the tyre sits on the vehicle."""

    axle: Axle | None = None
    """Which axle; `steer` and `drive` are the words for heavy vehicles."""
    steered: bool | None = None
    """Whether the axle steers. `axle: steer` says so already, `front` of all but a trailer."""
    fitment: Fitment | None = None
    """Single, or one of a dual pair; `dual` when it is not known which of the two."""
    axle_load_kg: MeasuredMass | None = None
    """Load on the whole axle, kg."""


class Preparation(AnswerStruct, kw_only=True, frozen=True):
    """How the channel is cut clean and the liner buffed."""

    cutter: Figure
    passes: list[Passes] = []
    """In the order of the work."""
    drill_to: Figure | None = None
    """How fast the drill may turn."""
    buffer_to: Figure | None = None
    """How fast the buffer may turn."""
    texture: Figure | None = None
    """How rough the liner is buffed."""
    cleaned_margin: Figure | None = None
    """How far past the patch the liner is cleaned."""
    buffed_margin: Figure | None = None
    """How far past the patch the liner is buffed."""
    says: list[str] = []
    """The same in words, in the order of the work."""


class PricedConsumable(AnswerStruct, kw_only=True, frozen=True):
    """What a repair uses up and a price book may have a price for."""

    code: str
    """Its code: in work plans, and in `consumables` of a price book."""
    title: str
    """What it is."""
    unit: ConsumableUsedUnit
    """What one price is for."""
    classes: list[str]
    """Classes of tyre it is used on."""


class RepairOrReplace(AnswerStruct, kw_only=True, frozen=True):
    """The repair compared with a replacement. Ranges hold for every completion of the unknown depths."""

    recommendation: Recommendation
    """`repair`; `repair_if_it_passes` while the verdict is open; `replace`; `specialist_or_replace`; `open` while
    unknown depths decide. No saving outranks a rule.
    """
    decided_by: DecidedBy
    """Whether `rules`, the `stock` or the `cost` decides."""
    says: str
    """The recommendation in words."""
    value_left: MoneySpan
    """What the tyre is worth, repaired: its tread and its casing."""
    worth_paying: MoneySpan
    """The price of a repair at which it comes out even with a replacement."""
    hangs_on: list[HangsOn]
    """Each input of which a change alone would turn the recommendation, the least change first; worked out at the
    depths nearest to turning it.
    """
    basis: Basis | None = None
    """How it is known, in a full answer; null of what came with the case."""
    source: str | None = None
    """The document it comes from, and where it was seen; in a full answer."""
    gain: MoneySpan | None = None
    """What the repair gains: the margin. Negative where a replacement is cheaper; null of none."""
    value_per_mm: MoneySpan | None = None
    """What a millimetre of tread is worth."""
    tread_value: MoneySpan | None = None
    """What the tread left is worth."""
    break_even_mm: Span | None = None
    """Tread left at which this repair comes out even, mm; null without a repair."""
    worn_percent: Span | None = None
    """Share of the tread that is gone, down to worn out, %."""
    replaced_with_it: int | None = None
    """Other tyres of the axle that a new one would not match, replaced too."""
    lost_on_others: MoneySpan | None = None
    """What the tread is worth that is thrown away with these."""
    cost_per_distance: CostPerDistance | None = None
    """Null where `/replacement/distance_per_mm` is not given."""


class Replacement(RequestStruct, kw_only=True):
    """The replacement to compare a repair with. Money is in the terms of the price book, taxes as its prices."""

    price: str
    """Price of the new tyre, fitted."""
    title: str | None = None
    """What is printed on the bill."""
    pull_point_mm: float | None = None
    """Tread left at which such a tyre is taken off, mm. Left out: where the rulebook counts a tyre as worn out."""
    casing_value: str = "0"
    """What a sound casing is worth once the tread is worn."""
    failure_percent: float = 0.0
    """Chance that the repair fails in service, %."""
    failure_cost: str = "0"
    """What such a failure costs in all."""
    downtime: Downtime | None = None
    """What standing costs. Left out: it does not count."""
    distance_per_mm: float | None = None
    """How far a millimetre of tread goes, in `distance_unit`."""
    distance_unit: CostPerDistanceUnitLiteral = "km"
    """Unit of distances and of the cost per distance."""
    largest_tread_difference_mm: float | None = None
    """Largest difference of tread between a new tyre and another of its axle, mm: one that differs more is replaced
    too. Left out: none is.
    """


class Room(AnswerStruct, kw_only=True, frozen=True):
    """The largest patch that lies under the tread and clear of its neighbours. It may reach beyond the band."""

    patch_mm: float
    """Largest diameter of a round patch, mm; 0 where there is no room."""
    across_mm: float
    """Largest extent of any patch across the tread, mm."""
    limited_by: LimitedBy
    """What limits the diameter."""
    says: str
    """The same in words."""


class Rounding(RequestStruct, kw_only=True):
    """How amounts are rounded to the smallest unit of the currency."""

    half: HalfRounding = "up"
    """What becomes of an exact half: `up`, or to the `even` neighbour."""
    tax: RoundingTax = "line"
    """Whether tax is rounded on each line, or on the total and then spread over the lines."""
    cash_step: str | None = None
    """Smallest step that is paid in cash; the difference is a line of its own."""


class RulebookList(AnswerStruct, kw_only=True, frozen=True):
    """Every edition of every rulebook."""

    rulebooks: list[RulebookSummary]
    """By id, the newest edition first."""


class RulebookProvision(AnswerStruct, kw_only=True, frozen=True):
    """One thing a rulebook says, for whom, since when, and how we know."""

    question: str
    """The question it answers."""
    classes: list[str]
    """Classes of tyre it holds for."""
    conditions: list[StatedValue]
    """When it holds, where not always; the first provision that holds applies."""
    values: list[StatedValue]
    """What it says."""
    starts: date | None
    """In force from this day; null: from the start."""
    ends: date | None
    """No longer in force on this day; null: still in force."""
    basis: Basis
    """How it is known."""
    source: str
    """The document, and where it was seen."""
    clause: str
    """Where in the document; empty where not known."""
    note: str
    """What else there is to know; may be empty."""


class ServiceLoad(AnswerStruct, kw_only=True, frozen=True):
    """How much the tyre, and the axle, may carry."""

    status: ServiceLoadStatus
    """Whether the tyres of the axle carry its load: `enough`, `short` or `open`."""
    says: str
    """The status in words."""
    basis: Basis | None = None
    """How it is known, in a full answer; null of what came with the case."""
    source: str | None = None
    """The document it comes from, and where it was seen; in a full answer."""
    cites: str | None = None
    """Key in `sources` of what it rests on; in a brief answer."""
    rests_on: LoadRestsOn | None = None
    """What the load is taken from: `moulded` on the sidewall, which outranks the `load_index`; `nothing` where
    neither is known.
    """
    at_kmh: Observed | None = None
    """The speed the load is taken at: the vehicle's top speed, or the tyre's where that is lower."""
    single: Observed | None = None
    """Load of one tyre fitted singly at that speed; null: unknown."""
    dual: Observed | None = None
    """Load of each tyre of a dual pair at that speed; null: unknown."""
    tyres_on_axle: int | None = None
    """How many tyres share the axle's load; null while that is not known."""
    capacity: Observed | None = None
    """What they may carry together; null where unknown."""
    required: Observed | None = None
    """The axle's load; null where it is not known."""
    shortfall: Observed | None = None
    """How much more the axle's load is than they may carry; null unless `short`."""
    shortfall_percent: Observed | None = None
    """The shortfall as a share of the axle's load; null unless `short`."""
    book_says: str | None = None
    """What the rulebook says of load after a repair."""
    clause: str = ""
    """Where in the document; empty where not known."""


class ServicePosition(AnswerStruct, kw_only=True, frozen=True):
    """Whether the tyre may run where it is meant to, its load apart."""

    status: ServicePositionStatus
    """`allowed`, `not_allowed` or `open`."""
    says: str
    """The status in words."""


class SizeLimit(AnswerStruct, kw_only=True, frozen=True):
    """The limit on size, and what of the channel it means: the hole, the cutter, or the longest opening."""

    hole_to_mm: float
    """Largest hole as measured, mm."""
    cutter_to_mm: float
    """Largest cutter by its nominal size, mm."""
    hole_keeps: YesNoOpen
    """Whether the hole as found keeps to it."""
    cutter_keeps: YesNoOpen
    """Whether the cutter keeps to every limit."""
    says: str
    """Both in words; what the cutter breaks that the hole kept, above all."""
    basis: Basis | None = None
    """How it is known, in a full answer; null of what came with the case."""
    source: str | None = None
    """The document it comes from, and where it was seen; in a full answer."""
    cites: str | None = None
    """Key in `sources` of what it rests on; in a brief answer."""
    means: LimitMeans | None = None
    """What the limit is held against once the channel is cut: the `cutter`. The longest opening decides the patch."""
    clause: str = ""
    """Where in the document; empty where not known."""


class Source(AnswerStruct, kw_only=True, frozen=True):
    """A document that something in the answer rests on."""

    basis: Basis
    """How what rests on it is known."""
    source: str
    """The document, and where it was seen."""


class SpeedCeiling(AnswerStruct, kw_only=True, frozen=True):
    """A speed not to pass, and when."""

    when: SpeedPeriod
    """`maker_cap`: the tyre maker's figure for a repaired tyre; `first_hours`, `afterwards`: since the repair;
    `temporary_use`: of a temporary spare; `run_deflated`: of a run-flat tyre without pressure.
    """
    max_kmh: float
    """The speed not to pass, km/h."""
    max_mph: float
    """The same, mph."""
    certain: bool
    """Whether it surely holds; false while that hangs on what is not known."""
    says: str
    """The limit in words."""
    basis: Basis | None = None
    """How it is known, in a full answer; null of what came with the case."""
    source: str | None = None
    """The document it comes from, and where it was seen; in a full answer."""
    cites: str | None = None
    """Key in `sources` of what it rests on; in a brief answer."""
    for_hours: float | None = None
    """How long it holds, hours; null: not limited by time."""
    for_km: float | None = None
    """How far it holds, km; null: not limited by distance."""
    clause: str = ""
    """Where in the document; empty where not known."""


class StemTrim(AnswerStruct, kw_only=True, frozen=True):
    """Where the stem of one injury's repair is cut."""

    injury: int
    """Index of the injury."""
    outside: list[OutsideCut]
    """One; two while it is not known whether it comes out in a groove or on a lug."""
    unit: str | None = None
    """Code of the unit or stem that was chosen for it; null where none was."""
    inside: InsideCut | None = None
    """Null where stem and patch are one piece."""


class StepParameter(AnswerStruct, kw_only=True, frozen=True):
    """A figure to work to: a number, a range, a limit, or words."""

    name: str
    """The figure, by name."""
    title: str
    """The figure in words."""
    says: str
    """The value as a job card prints it."""
    basis: Basis | None = None
    """How it is known, in a full answer; null of what came with the case."""
    source: str | None = None
    """The document it comes from, and where it was seen; in a full answer."""
    injury: int | None = None
    """Index of the injury it is for; null for the tyre or for all."""
    low: float | None = None
    """The least it may be; null where only `high` limits it, or `words`."""
    high: float | None = None
    """The most it may be; null where only `low` limits it, or `words`."""
    unit: str = ""
    """Unit of both; empty where there is none."""
    words: str | None = None
    """What it is, where it is no number."""
    only_if: str | None = None
    """What it hangs on, in words, where the case does not settle that; null where it is settled."""
    note: str = ""
    """What else there is to know, in a full answer; may be empty."""


class StockUnit(RequestStruct, kw_only=True):
    """One line of a shop's stock: a unit of one piece (stem and patch), a stem, or a patch."""

    code: str
    """The shop's own code for it."""
    kind: GenericUnitKindLiteral
    """One piece with stem and patch, a stem alone, or a patch alone."""
    stem_mm: float | None = None
    """Nominal diameter of the stem, mm: that of the cutter it goes with."""
    stem_length_mm: float | None = None
    """Length of the stem, lead end included, mm."""
    patch_shape: ShapeLiteral | None = None
    """Shape of the patch; round where it is left out."""
    patch_mm: float | None = None
    """Diameter of a round patch, mm."""
    patch_width_mm: float | None = None
    """Of a rectangular patch: its extent from bead to bead as its arrows point, mm."""
    patch_length_mm: float | None = None
    """Of a rectangular patch: its extent along the tread, mm."""
    construction: Construction | None = None
    """What carcass the patch is made for. Left out: not known."""
    reinforced: bool | None = None
    """Whether the patch is reinforced. Left out: not known."""
    largest_injury_mm: float | None = None
    """Largest channel, cut clean, that its maker lets it repair, mm."""
    largest_lean_deg: float | None = None
    """Largest lean that its maker lets it repair, degrees."""
    trim: TrimInstruction | None = None
    """Where its maker has the stem cut. Left out: as the trade does it."""
    price: str | None = None
    """What one costs; every price of a list in the same currency."""
    on_hand: int | None = None
    """How many there are. Left out: enough."""
    expires_on: date | None = None
    """The last day it may be used. Left out: it does not expire."""


class Tax(RequestStruct, kw_only=True):
    """A tax on all or some of a bill. Several on one line are added, not compounded."""

    name: str
    """Its name on the bill."""
    percent: str
    """Its rate, %."""
    on: list[DiscountOn] | None = None
    """What it is charged on. Left out: everything."""


class TimePart(AnswerStruct, kw_only=True, frozen=True):
    """The time of a step, or of extra work in it, and its source."""

    code: str
    """Its code: what `house_times.minutes` calls it."""
    low: float
    """At the least, minutes."""
    likely: float
    """As a rule, minutes."""
    high: float
    """At the most, minutes."""
    basis: Basis | None = None
    """How it is known, in a full answer; null of what came with the case."""
    source: str | None = None
    """The document it comes from, and where it was seen; in a full answer."""
    only_if: str | None = None
    """What it hangs on, in words, where the case does not settle that; null where it is settled."""
    note: str = ""
    """What else there is to know, in a full answer; may be empty."""


class ToEstablish(AnswerStruct, kw_only=True, frozen=True):
    """A missing fact that would settle open rules."""

    field: str
    """The field of the case that is missing, as an RFC 6901 pointer."""
    asks: str
    """The question in plain words."""
    how: str
    """How to find out."""
    asked_at: AskedAt
    """Where it can be answered: from the `record` (the owner's papers), by `phone` (the driver knows), at the
    `vehicle` (the tyre on its rim), or at the `bench` (the tyre off the rim).
    """
    settles: list[str]
    """The open rules that the answer may settle; `until_then` where that hangs on it."""
    waits: bool = False
    """Whether it is seen or looked up once the tyre is in the workshop; nobody is asked before it is booked in."""
    parts: list[str] = []
    """Of a question about a whole section of the case, the fields that it answers at once. None of them is asked for
    by itself.
    """


class Tyre(RequestStruct, kw_only=True):
    """The tyre, from its sidewall and from the gauge."""

    marking: str
    """Size and service description as moulded on the sidewall."""
    date_code: str | None = None
    """The date code (week and year), or the whole tyre identification number that ends in it."""
    tread_depth_mm: MeasuredLength | None = None
    """Tread left, at the shallowest point, mm."""
    new_tread_depth_mm: MeasuredLength | None = None
    """Tread depth when new, mm."""
    tread_width_mm: MeasuredLength | None = None
    """Width of the tread, edge to edge, mm."""
    crown_thickness_mm: MeasuredLength | None = None
    """Thickness from the liner to the groove base, mm."""
    body_ply: BodyPly | None = None
    """What the carcass cords are made of."""
    max_load_kg: MeasuredMass | None = None
    """Maximum load moulded on the sidewall, single, kg."""
    traits: Traits | None = None
    """What kind of tyre it is. Left out: not known."""
    maker_policy: MakerPolicy | None = None
    """What the tyre's maker says of repairs. Left out: not known."""


class TyreMarking(AnswerStruct, kw_only=True, frozen=True):
    """What the sidewall says and what follows from it; null is what it does not say. Dimensions are of the new tyre."""

    marking: str
    """The marking in its plain spelling."""
    form: MarkingForm
    """How the size is written."""
    build: CarcassBuild | None
    """How the carcass is built; null where the size does not say."""
    section_width_mm: float | None
    """Nominal section width, mm."""
    aspect_percent: int | None
    """Section height as a share of the section width, percent."""
    rim_diameter_mm: float
    """Rim diameter that the code stands for, mm."""
    section_height_mm: float | None
    """Section height, mm."""
    overall_diameter_mm: float | None
    """Overall diameter, mm."""
    overall_diameter_regulation_mm: int | None
    """Overall diameter as UN R30 and R54 round it, mm."""
    outer_circumference_mm: float | None
    """Circumference of the tread, mm."""
    rolling_circumference_mm: float | None
    """Way rolled in one turn under load, mm; radial tyres only."""
    revolutions_per_km: float | None
    """Turns in a kilometre; radial tyres only."""
    load_index_single: int | None
    """Load index, fitted single."""
    load_index_dual: int | None
    """Load index, in a dual pair."""
    load_single_kg: float | None
    """Load, fitted single, kg."""
    load_dual_kg: float | None
    """Load of each tyre of a dual pair, kg."""
    load_single_at_vehicle_speed_kg: float | None
    """Load at the vehicle's top speed, fitted single, kg (UN R30); null where that speed was not given, or where
    nothing published grants any load at it.
    """
    load_dual_at_vehicle_speed_kg: float | None
    """The same for each tyre of a dual pair, kg."""
    speed_symbol: str | None
    """Speed symbol; ZR or such where the size alone says it, in brackets if it is a floor."""
    speed_kmh: float | None
    """Speed of the symbol, km/h."""
    speed_is_floor: bool
    """True: the tyre is faster than that, and its maker knows by how much."""
    load_range: str | None
    """Load range letter."""
    ply_rating: int | None
    """Ply rating."""
    run_flat: bool
    """Whether it is marked as a run-flat tyre: F beside the R of the size, or the word behind it."""
    temporary_spare: bool
    """Whether it is marked for temporary use."""
    light_truck: bool
    """Whether it is marked LT."""
    motorcycle: bool
    """Whether it is marked for motorcycles."""
    extra_services: list[ExtraService]
    """Additional service descriptions."""
    tags: list[str]
    """Other words of the sidewall, in plain spelling."""
    unread: list[str]
    """Words that are none of a marking's own."""
    plant: str | None
    """Plant code of the identification number."""
    made_week: int | None
    """Week of manufacture, or of retreading."""
    made_year: int | None
    """Year of manufacture; null where the decade is not moulded."""
    made_from: date | None
    """First day on which it may have been made."""
    made_to: date | None
    """Last day on which it may have been made."""
    assessed_on: date
    """The day on which the age is taken."""
    age_years_from: float | None
    """Least age on that day, years."""
    age_years_to: float | None
    """Greatest age on that day, years."""
    warnings: list[SidewallWarning]
    """What a person should look at."""


class UntilThen(AnswerStruct, kw_only=True, frozen=True):
    """What the driver may do with the tyre until it is seen to, as far as is known: more facts may end the journey."""

    drive: Drive
    """`no`: not driven on; `to_the_bench`: to the nearest bench, as `says` has it; `open`: it hangs on whether it
    holds its pressure.
    """
    says: list[DriverAdvice]
    """What to tell the driver, in order."""
    max_kmh: float | None = None
    """No faster than this, km/h; null: no figure is given."""
    for_km: float | None = None
    """No farther than this, km, as far as it was driven taken off; null: no figure is given."""


class UsualMinutes(AnswerStruct, kw_only=True, frozen=True):
    """What one straight repair takes in all by the trade, to hold the plan's own minutes against."""

    on_vehicle: float
    """With the wheel on the vehicle, minutes."""
    loose: float
    """Of a loose wheel, minutes."""
    basis: Basis | None = None
    """How it is known, in a full answer; null of what came with the case."""
    source: str | None = None
    """The document it comes from, and where it was seen; in a full answer."""
    note: str = ""
    """What else there is to know, in a full answer; may be empty."""


class Vehicle(RequestStruct, kw_only=True):
    """The vehicle the tyre runs on."""

    kind: VehicleKind | None = None
    """What the vehicle is. Decides which limits apply."""
    gross_mass_kg: MeasuredMass | None = None
    """Maximum permitted mass of the vehicle, kg."""
    max_speed_kmh: MeasuredSpeed | None = None
    """Top speed of the vehicle, km/h."""


class WorkStep(AnswerStruct, kw_only=True, frozen=True):
    """One step of the work. Its basis is that of its weakest line, its source names each document once."""

    code: str
    """The step, by name."""
    part: WorkStepPart
    """`inspection` and `decision` come first; `repair` only once the verdict is settled. `leak_search` follows the
    inspection where no injury goes through.
    """
    title: str
    """What the step is."""
    minutes: Minutes
    basis: Basis | None = None
    """How it is known, in a full answer; null of what came with the case."""
    source: str | None = None
    """The document it comes from, and where it was seen; in a full answer."""
    only_if: str | None = None
    """What it hangs on, in words, where the case does not settle that; null where it is settled."""
    injuries: list[int] = []
    """Injuries it is done at, each in turn; empty: once a tyre."""
    do: list[str] = []
    """What to do, in order; not in a brief repair plan. A sentence that hangs on something begins with `If`."""
    parameters: list[StepParameter] = []
    """The figures to work to."""
    tools: list[str] = []
    """What to have at hand."""
    times: list[TimePart] = []
    """What the minutes are made of, for one injury where the step is done at each."""
    hold: HoldPoint | None = None
    """Where the work stops unless a check comes out right."""
    cautions: list[CautionAtStep] = []
    """What to know before it."""


class Alternative(AnswerStruct, kw_only=True, frozen=True):
    """What the price could become, or could be instead."""

    code: AlternativeCode
    """What would have changed."""
    says: str
    """When it holds."""
    job: AlternativeOn
    """What is priced: the `repair`, the `inspection` alone, a `leak_search`, or a `replacement`."""
    lines: list[Line] = []
    """What is charged for, in the order of a bill."""
    taxes: list[TaxTotal] = []
    """What each tax comes to."""
    totals: Totals | None = None
    """What it comes to; null where something has no price."""
    not_priced: list[NotPriced] = []
    """What has no price; then nothing is totalled."""


class AxleMate(RequestStruct, kw_only=True):
    """Another tyre of the same axle."""

    place: MatePlace | None = None
    """`dual_mate`: the other tyre of the same dual pair; `other_end`: a tyre at the other end of the axle."""
    marking: str | None = None
    """Its size and service description as moulded on the sidewall."""
    tread_depth_mm: MeasuredLength | None = None
    """Its tread left, at the shallowest point, mm."""
    overall_diameter_mm: MeasuredLength | None = None
    """Its overall diameter as measured, mm."""


class Bench(RequestStruct, kw_only=True):
    """The bench, and how the wheel came to it."""

    air_temperature_c: MeasuredTemperature | None = None
    """Air temperature at the bench, °C."""
    relative_humidity_percent: MeasuredPercent | None = None
    """Relative humidity of the air, %."""
    liner_temperature_c: MeasuredTemperature | None = None
    """Temperature of the liner where the patch goes, °C."""
    wheel: WheelState | None = None
    """Whether the wheel is on the vehicle or comes loose."""
    pressure_sensor: bool | None = None
    """Whether a pressure sensor is fitted in the wheel."""
    heat_cured_fill: HeatCuredFill | None = None
    """What the channel is packed with, where the shop fills it with raw rubber and cures that by heat. Left out: a
    stem, set in cement.
    """


class Chosen(AnswerStruct, kw_only=True, frozen=True):
    """The unit chosen for one channel."""

    kind: ChoiceKind
    """One piece or two."""
    certain: bool
    """Whether it does whatever the unknown facts turn out to be; else see `hangs_on`."""
    pieces: list[Piece]
    """What to take: the unit, or stem and patch."""
    patch: Outline
    reach_mm: float
    """How far the patch reaches past the largest possible mouth on its nearest side, mm."""
    under_shoulder: YesNoOpen
    """Whether the patch reaches past the tread edge, under the shoulder. If so, the unit maker's chart decides."""
    hangs_on: list[Reason] = []
    """What must turn out well for it; empty where certain."""
    price: str | None = None
    """What it costs in all; null where a price is not known."""
    buffed: Outline | None = None
    """What is buffed; in a full answer."""
    cleaned: Outline | None = None
    """What is cleaned; in a full answer."""
    arrows: str | None = None
    """Which way the patch is turned."""


class EarlierRepair(RequestStruct, kw_only=True):
    """One repair that the tyre already carries."""

    method: RepairMethod | None = None
    """How the earlier repair was made."""
    proper: bool | None = None
    """Whether it was found sound, sealed and in a permitted place."""
    across_mm: MeasuredLength | None = None
    """Centre of the patch across the tread, mm from its centre line."""
    around_mm: MeasuredLength | None = None
    """Centre of the patch along the tread from the valve, mm."""
    measured_from: MeasuredFromLiteral | None = None
    """Which side `around_mm` was taken on: arcs are shorter at the liner."""
    patch_mm: MeasuredLength | None = None
    """Largest extent of the patch, mm."""


class Finding(AnswerStruct, kw_only=True, frozen=True):
    """What one rule makes of the case."""

    rule: str
    """The rule, by its name in the rulebook."""
    outcome: Outcome
    """`met`, `broken` or `open`."""
    says: str
    """The finding in words."""
    basis: Basis | None = None
    """How it is known, in a full answer; null of what came with the case."""
    source: str | None = None
    """The document it comes from, and where it was seen; in a full answer."""
    cites: str | None = None
    """Key in `sources` of what it rests on; in a brief answer."""
    effect: Effect | None = None
    """What breaking the rule comes to: `ends_the_tyre`, `specialist_only`, `caution`, or of rules on a position
    `not_in_this_position`; the worst it can come to where it is open, null where it is met.
    """
    injury: int | None = None
    """Index of the injury it speaks of; null for the whole tyre."""
    observed: Observed | None = None
    """What was seen; null where it is not known or no quantity."""
    limit: Limit | None = None
    """The limit; null where the rule is not about a quantity."""
    margin: float | None = None
    """Distance to the limit in the worst case, in the limit's unit; negative when beyond it."""
    cause: str | None = None
    """Probable cause of what is broken, where the trade knows one; in a full answer."""
    advice: Advice | None = None
    """What to do about what is broken; null where nothing is."""
    clause: str = ""
    """Where in the document; empty where not known."""


class GenericUnits(AnswerStruct, kw_only=True, frozen=True):
    """What a till sets prices for before the first quote, by the codes that answers use."""

    rulebook: RulebookUsed
    units: list[GenericUnit]
    """The nominal sizes, in the order of the rulebook. Where none of them fits, an answer names a size made to
    measure, by a code of the same form, that is not in this list.
    """
    consumables: list[PricedConsumable]
    """What a repair uses up beside the unit."""


class History(RequestStruct, kw_only=True):
    """What the tyre went through before it reached the bench."""

    complete: bool = False
    """True: the driver was asked, and what is not named did not happen; nor was any hole plugged of which
    `plugged_from_outside` is left out. `losing_air` is left open.
    """
    driven_flat: bool | None = None
    """Driven flat or nearly flat."""
    pressure_found_percent: MeasuredPercent | None = None
    """Pressure found, percent of the recommended pressure."""
    sealant_used: bool | None = None
    """Sealant or an aerosol inflator was put in."""
    flat_distance_km: MeasuredDistance | None = None
    """How far it was driven flat, km."""
    losing_air: bool | None = None
    """Whether it loses air now: it is flat, a hiss is heard, or the pressure falls between two checks. `complete`
    does not answer this.
    """


class HouseTimes(RequestStruct, kw_only=True):
    """The shop's own times and quantities; each takes the place of the trade's figure of the same code."""

    minutes: dict[str, HouseTime] = {}
    """Minutes by the code of the step, or of the extra work, that they are for."""
    quantities: dict[str, MeasuredQuantity] = {}
    """Quantity for the whole job by the code of the consumable, in the unit the plan gives for it."""


class InService(RequestStruct, kw_only=True):
    """How the tyre runs: the other tyres of its axle, and what is known of it and its vehicle in use."""

    axle_mates: list[AxleMate] | None = None
    """Every other tyre of the axle. Left out: not known; empty: there is none."""
    overall_diameter_mm: MeasuredLength | None = None
    """Overall diameter of this tyre as measured, mm."""
    max_load_dual_kg: MeasuredMass | None = None
    """Maximum load moulded on the sidewall, dual, kg."""
    winter_tyre: bool | None = None
    """A winter tyre. Left out, M+S or the snowflake (3PMSF) in the marking says so."""
    speed_label: bool | None = None
    """A label in the driver's view gives a speed that the tyre's symbol covers."""


class Injury(RequestStruct, kw_only=True):
    """One injury."""

    region: Region | None = None
    """The part of the tyre that is injured."""
    depth: Depth | None = None
    """How far in it goes: rubber only, to the cord, or through to the inside."""
    across_mm: MeasuredLength | None = None
    """Place across the tread, mm from its centre line; one side positive, the other negative."""
    around_mm: MeasuredLength | None = None
    """Place along the tread from the valve, mm."""
    measured_from: MeasuredFromLiteral | None = None
    """Which side `across_mm` and `around_mm` were taken on."""
    other_side_across_mm: MeasuredLength | None = None
    """Place across the tread on the other side of the crown, mm from the centre line."""
    diameter_mm: MeasuredLength | None = None
    """Diameter of the injury, mm; of a cut its longest side. Once prepared, of the cutter."""
    stage: Stage | None = None
    """Whether the diameter is the hole as found or the channel as prepared."""
    lean_deg: MeasuredAngle | None = None
    """Lean of the channel from the perpendicular to the tread, degrees."""
    lean_toward_deg: MeasuredAngle | None = None
    """Which way the channel runs on its way in: 0 toward positive `across_mm`, 90 toward larger `around_mm`, 180
    toward negative `across_mm`.
    """
    emerges_in: EmergesInLiteral | None = None
    """Whether the channel comes out in a groove or on a lug, block or rib."""
    plugged_from_outside: bool | None = None
    """Whether a string or plug was put into this hole from outside. Left out where the inspection or the history is
    complete: none was.
    """
    object_in_place: bool | None = None
    """Whether the object that made it is still in it. No `complete` answers this."""
    object: str | None = None
    """What was found in the injury. The step that takes it out names it."""


class PriceBook(RequestStruct, kw_only=True):
    """A shop's prices. Money is decimal text, such as `"29.00"`."""

    currency: str
    """Currency of every price, by its ISO 4217 code."""
    prices_include_tax: bool = False
    """Whether the prices have the taxes in them."""
    labour: LabourRate | None = None
    """Labour by the hour, where no flat rate fits."""
    flat_rates: list[FlatRate] = []
    """Flat rates by job. They come before the labour rate."""
    minimum_charge: str | None = None
    """The least that labour, units and consumables of a repair come to once discounted."""
    units: dict[str, str] = {}
    """Price of one repair unit, stem or patch, by its code in `stock` or that of a generic size."""
    consumables: dict[str, str] = {}
    """Price by the code of the consumable in the work plan, for 1 ml or 1 piece as planned."""
    fees: list[Fee] = []
    """Fixed charges."""
    inspection: str | None = None
    """Price of an inspection that ends without a repair. Left out: its minutes at the labour rate."""
    call_out: str | None = None
    """Charge for going out. Left out: the tyre is at the shop."""
    disposal: str | None = None
    """Charge for a scrap tyre; on a replacement alone."""
    discount: Discount | None = None
    """What is taken off. Left out: nothing."""
    taxes: list[Tax] = []
    """Taxes. Left out: none is charged."""
    rounding: Rounding | None = None
    """How amounts are rounded. Left out: by the line, a half up."""
    valid_days: int | None = None
    """How many days a quote holds, counted from `assessed_on`."""


class Quote(AnswerStruct, kw_only=True, frozen=True):
    """What the job costs by the caller's price book, as far as the case is known."""

    rulebook: RulebookUsed
    assessed_on: date
    """The day the case was judged on."""
    verdict: str
    """The verdict on the tyre, as repairability gives it."""
    offer: RepairOffer
    """`offered`: the tyre may be repaired; `conditional`: only if what is still open turns out well; `withheld`: it
    may not be repaired at a bench, so nothing is chosen.
    """
    decided_by: list[Finding]
    """The rules that keep a repair from being offered, or that it hangs on."""
    job: AlternativeOn
    """What is priced: the `repair`, the `inspection` alone, a `leak_search`, or a `replacement`."""
    says: str
    """What the price is for, in words."""
    currency: str
    """Currency of every amount, by its ISO 4217 code."""
    prices_include_tax: bool
    """Whether the unit prices have their taxes in them."""
    lines: list[Line]
    """What is charged for, in the order of a bill."""
    taxes: list[TaxTotal]
    """What each tax comes to."""
    totals: Totals
    not_included: list[NotIncluded]
    """What is not in the price, and when it is needed."""
    alternatives: list[Alternative]
    """What the price could become after inspection and preparation, or be instead."""
    caveats: list[Caution]
    """What to print beside the price."""
    to_establish: list[PlanQuestion]
    """Missing facts that may change the answer, the verdict's first."""
    reference: str | None = None
    """The caller's own name for the case."""
    codes: dict[str, str] = {}
    """The caller's own codes, as they came; left out if none."""
    covered: list[Covered] = []
    """What the labour's price has in it already."""
    valid_until: date | None = None
    """The last day the price holds; null where none is given."""
    repair_or_replace: RepairOrReplace | None = None
    """The repair compared with a replacement; null where the two are not compared."""
    not_reckoned: str | None = None
    """Why the repair is not compared with a replacement; null where it is."""
    sources: dict[str, Source] = {}
    """What a brief answer cites, by key. A key means the same in every answer."""


class Repairability(AnswerStruct, kw_only=True, frozen=True):
    """Whether the tyre may be repaired under the rulebook, as far as the case is known."""

    rulebook: RulebookUsed
    assessed_on: date
    """The day the case was judged on."""
    verdict: Verdict
    """`repairable`, `specialist`, `not_covered` (the rulebook says nothing of this class of tyre), `not_repairable`;
    `inspect` while more than one is possible.
    """
    possible_verdicts: list[Verdict]
    """Every verdict that a completion of the unknown facts can bring, best first."""
    next_step: NextStep
    """What to do now: `ask_first` (an answer by phone or from papers may change it), `book_in` (the bench settles
    the rest), `repair`, `repair_for_another_position` (it may not run in this one), `find_the_leak` (no injury goes
    through), `no_repair_needed` (nor does it lose air), `send_to_specialist`, `ask_the_maker` or `replace`.
    """
    otherwise: Otherwise
    """What to do if nobody can be asked; the same as `next_step` unless that is `ask_first`."""
    findings: list[Finding]
    """Rules broken or open, the gravest first. A brief answer leaves out those open of which nothing is known: the
    questions say what is missing. A full one lists every rule.
    """
    to_establish: list[ToEstablish]
    """Missing facts that may change the verdict or how the tyre is handled: those asked before the tyre is booked
    in, those seen or looked up once it is in the workshop, those seen off the rim. A brief answer has the first of
    them.
    """
    cautions: list[Caution]
    """What whoever acts on this must know."""
    reference: str | None = None
    """The caller's own name for the case."""
    codes: dict[str, str] = {}
    """The caller's own codes, as they came; left out if none."""
    injuries: list[InjuryVerdict] = []
    """One for each injury, in the order of the case; in a full answer."""
    until_then: UntilThen | None = None
    """What to tell the driver until the tyre is seen to; null where it is off the vehicle, or was inspected off the
    rim.
    """
    rules_checked: int | None = None
    """How many rules were checked; in a full answer."""
    sources: dict[str, Source] = {}
    """What a brief answer cites, by key. A key means the same in every answer."""
    in_tables: InTables | None = None
    """In a brief row of a batch, where in the batch's `tables` the rest of it stands; else null."""


class RepairabilityOutcome(AnswerStruct, kw_only=True, frozen=True):
    """What became of one case of a batch."""

    status: RepairPlanOutcomeStatus
    """`ok`: it has its answer; `failed`: it has a problem instead."""
    reference: str | None
    """The caller's own name for the case, if it had one that could be read."""
    problem: Problem | None
    """Why it failed; its pointers are into the whole request: `/items/731/tyre/marking`. Else null."""
    answer: Repairability | None
    """What `check_repairability` answers; null if failed. Of a brief answer, what the batch's `tables` do not hold:
    the reference is beside it, digest and sources stand there by their keys, and `in_tables` says where the rest
    does.
    """


class Rulebook(AnswerStruct, kw_only=True, frozen=True):
    """One edition of a rulebook, whole, with the workshop practice it stands on."""

    id: str
    """The rulebook."""
    edition: str
    """Its edition."""
    reference: str
    """How a case pins this edition."""
    title: str
    """What it is about."""
    jurisdiction: str
    """Where it applies."""
    language: str
    """Language of its answers."""
    released: date
    """When the edition was released; it never changes after."""
    digest: str
    """Digest of the edition's content."""
    note: str
    """What there is to know of the book; may be empty."""
    provisions: list[RulebookProvision]
    """What the country's book says."""
    workshop: list[RulebookProvision]
    """Workshop practice that holds where the book is silent."""
    procedure: list[RulebookProvision]
    """The work of a repair: its steps, figures, times and cautions, and what it uses up."""


class ServiceSpeed(AnswerStruct, kw_only=True, frozen=True):
    """How fast the tyre may go."""

    status: ServiceSpeedStatus
    """`retained`, `capped` or `void` as the tyre's maker says; `not_confirmed` without it."""
    ceiling_settled: bool
    """False while something that is not known may bring a ceiling, or a lower one."""
    covers_vehicle: YesNoOpen
    """Whether what is left of the tyre's speed covers the vehicle's top speed: `yes`, `no`, `open`."""
    ceilings: list[SpeedCeiling]
    """Every speed not to pass, beside the symbol's."""
    says: str
    """The status in words."""
    basis: Basis | None = None
    """How it is known, in a full answer; null of what came with the case."""
    source: str | None = None
    """The document it comes from, and where it was seen; in a full answer."""
    cites: str | None = None
    """Key in `sources` of what it rests on; in a brief answer."""
    possible_statuses: list[RatingAfterRepair] = []
    """What the status may become, best first; one where it is settled."""
    rests_on: SpeedRestsOn | None = None
    """Whose word the status rests on: `tyre_maker`; `marking`, where nothing is repaired; `nobody`."""
    symbol: str | None = None
    """Speed symbol; ZR or such where the size alone says it, in brackets if it is a floor."""
    rated_kmh: float | None = None
    """Speed of the symbol, km/h: no maker's word makes it more."""
    rated_mph: float | None = None
    """The same, mph."""
    rated_is_floor: bool | None = None
    """True: the tyre is good for more than that, and its maker knows for how much."""
    ceiling_kmh: float | None = None
    """The speed not to pass from now on, km/h, leaving the first hours aside; null where none follows from what is
    known. No speed is granted by it where the status is `void` or `not_confirmed`.
    """
    ceiling_mph: float | None = None
    """The same, mph."""
    vehicle_kmh: Observed | None = None
    """The vehicle's top speed; null where it is not known."""
    book_says: str | None = None
    """What the rulebook says of speed after a repair."""
    clause: str = ""
    """Where in the document; empty where not known."""


class StemTrims(AnswerStruct, kw_only=True, frozen=True):
    """Where the stem of each repair is cut, outside and, of two pieces, inside."""

    rulebook: RulebookUsed
    assessed_on: date
    """The day the case was judged on."""
    verdict: str
    """The verdict on the tyre, as repairability gives it."""
    offer: RepairOffer
    """`offered`: the tyre may be repaired; `conditional`: only if what is still open turns out well; `withheld`: it
    may not be repaired at a bench, so nothing is chosen.
    """
    decided_by: list[Finding]
    """The rules that keep a repair from being offered, or that it hangs on."""
    injuries: list[StemTrim]
    """One for each injury that goes through; none where nothing is offered."""
    to_establish: list[ToEstablish]
    """Missing facts that may change the answer, the verdict's first."""
    cautions: list[Caution]
    """What whoever acts on this must know."""
    reference: str | None = None
    """The caller's own name for the case."""
    codes: dict[str, str] = {}
    """The caller's own codes, as they came; left out if none."""
    sources: dict[str, Source] = {}
    """What a brief answer cites, by key. A key means the same in every answer."""


class TyreCase(RequestStruct, kw_only=True):
    """A punctured tyre, as far as it is known."""

    rulebook: str
    """The rulebook that applies, by its id; `gb@2026.1` pins an edition."""
    tyre: Tyre
    reference: str | None = None
    """The caller's own name for the case; comes back in the answer."""
    codes: dict[str, str] | None = None
    """The caller's own codes, such as a fleet's for reason and work done: any name to any text. Nothing reads them;
    they come back in the answer as they are.
    """
    assessed_on: date | None = None
    """The day the case is judged on, up to 2199; today when left out."""
    vehicle: Vehicle | None = None
    """The vehicle the tyre runs on. Left out: not known."""
    position: Position | None = None
    """Where the tyre sits on it. Left out: not known."""
    injuries: list[Injury] | None = None
    """Every injury known. Left out: there is one, of which nothing is known."""
    earlier_repairs: list[EarlierRepair] | None = None
    """Every repair the tyre already carries. Left out: not known; empty: none."""
    inspection: Inspection | None = None
    """What the bench saw of the tyre. Left out: not known."""
    history: History | None = None
    """What the tyre went through. Left out: not known."""
    in_service: InService | None = None
    """How the tyre runs, for `/v1/service-limits`."""
    house_rules: HouseRules | None = None
    """What the caller's own house asks beyond the rulebook."""
    measuring: Measuring | None = None
    """How exactly the shop measures."""
    stock: list[StockUnit] | None = None
    """The shop's repair units, for the choice of units, the trim and the work plan. Left out: generic sizes; empty:
    the shop has none.
    """
    bench: Bench | None = None
    """The bench the work is done at, for `/v1/work-plans`."""
    house_times: HouseTimes | None = None
    """The shop's own times and quantities, for `/v1/work-plans`."""
    price_book: PriceBook | None = None
    """The shop's prices, for `/v1/quotes`."""
    replacement: Replacement | None = None
    """The replacement to compare a repair with, for `/v1/quotes`."""
    detail: Detail = "brief"
    """How much the answer says. `brief`: what to act on, with no caution, limit or reason left out; `full`: also
    rules that are met, units passed over, and where each figure comes from.
    """


class WorkPlan(AnswerStruct, kw_only=True, frozen=True):
    """The work on one tyre, from finding the leak to checking the wheel nuts again."""

    rulebook: RulebookUsed
    assessed_on: date
    """The day the case was judged on."""
    verdict: str
    """The verdict on the tyre, as repairability gives it."""
    offer: RepairOffer
    """`offered`: the tyre may be repaired; `conditional`: only if what is still open turns out well; `withheld`: it
    may not be repaired at a bench, so nothing is chosen.
    """
    decided_by: list[Finding]
    """The rules that keep a repair from being offered, or that it hangs on."""
    scope: WorkScope
    """`repair`: the whole job; `inspection`: up to the decision and no farther; `leak_search`: no injury goes
    through, so the leak is looked for; `none`: no work.
    """
    says: list[str]
    """How far the plan goes and where the work waits, in words."""
    steps: list[WorkStep]
    """The steps in the order of the work."""
    minutes: Minutes
    minutes_to_decision: Minutes
    consumables: list[ConsumableUsed]
    """What the repair uses up; none in a brief repair plan."""
    to_establish: list[PlanQuestion]
    """Missing facts that may change the answer, the verdict's first."""
    cautions: list[Caution]
    """What whoever acts on this must know."""
    reference: str | None = None
    """The caller's own name for the case."""
    codes: dict[str, str] = {}
    """The caller's own codes, as they came; left out if none."""
    waits_at: str | None = None
    """Step at whose hold point the work waits, as the case stands; null where nothing is known that would stop it."""
    usual_minutes: UsualMinutes | None = None
    """Null without a repair, and where the trade has no figure, or not one for every class."""
    drying: Drying | None = None
    """Null where no repair is on offer."""
    sources: dict[str, Source] = {}
    """What a brief answer cites, by key. A key means the same in every answer."""


class BatchTables(AnswerStruct, kw_only=True, frozen=True):
    """What the brief rows of a batch say alike. A row's `in_tables` says which entries it takes, counted from 0."""

    rulebooks: list[RulebookUsed] = []
    """Every edition used, with its digest."""
    sources: dict[str, Source] = {}
    """What a brief answer cites, by key. A key means the same in every answer."""
    cautions: list[Caution] = []
    """Cautions."""
    to_establish: list[ToEstablish] = []
    """Questions."""
    until_then: list[UntilThen] = []
    """What to tell a driver."""
    findings: list[Finding] = []
    """Findings of which nothing was measured."""
    advice: list[Advice] = []
    """What to do about a finding."""


class CaseBatch(RequestStruct, kw_only=True):
    """Cases to be answered one by one."""

    items: list[TyreCase]
    """The cases. Each is judged as if it had been sent alone."""


class Choice(AnswerStruct, kw_only=True, frozen=True):
    """The unit for one channel, as long as it is of one piece, or of two."""

    kind: ChoiceKind
    """The unit asked for: of one piece, or of two."""
    when: str = ""
    """When this choice holds; empty where it is settled."""
    because: list[Reason] = []
    """Why of one piece, or of two."""
    needed: NeededUnit | None = None
    """What the channel asks of a unit; in a full answer."""
    room: Room | None = None
    """The room that the patch has; in a full answer."""
    chosen: Chosen | None = None
    """What was chosen; null where nothing does."""
    nothing_fits: Reason | None = None
    """Where nothing does: by how much the nearest unit fails."""
    generic_instead: Chosen | None = None
    """Where nothing in the stock does: the generic size that does."""
    passed_over: list[PassedOver] = []
    """Every other unit that was tried, in a full answer."""


class InjuryUnit(AnswerStruct, kw_only=True, frozen=True):
    """Preparation and unit for one injury."""

    injury: int
    """Index of the injury."""
    goes_through: YesNoOpen
    """Whether it goes through: only then is there a channel to repair."""
    choices: list[Choice]
    """One; two while it is open whether the unit is of one piece or of two, one for each answer; none where nothing
    is offered.
    """
    channel: Channel | None = None
    """The channel; null where there is none."""
    limit: SizeLimit | None = None
    """The limit on its size; null where there is no channel."""
    preparation: Preparation | None = None
    """Null where nothing is offered."""


class RepairUnits(AnswerStruct, kw_only=True, frozen=True):
    """How each injury is prepared, which repair unit it asks for, and which was chosen."""

    rulebook: RulebookUsed
    assessed_on: date
    """The day the case was judged on."""
    verdict: str
    """The verdict on the tyre, as repairability gives it."""
    offer: RepairOffer
    """`offered`: the tyre may be repaired; `conditional`: only if what is still open turns out well; `withheld`: it
    may not be repaired at a bench, so nothing is chosen.
    """
    decided_by: list[Finding]
    """The rules that keep a repair from being offered, or that it hangs on."""
    drawn_from: DrawnFrom
    """Where the units come from: the caller's `stock`, or `generic` sizes that are no maker's own."""
    injuries: list[InjuryUnit]
    """One for each injury, in the order of the case."""
    proven: bool
    """Whether it is proven that no smaller choice does; false only where many injuries compete for many scarce
    units, and the search was cut short.
    """
    to_establish: list[ToEstablish]
    """Missing facts that may change the answer, the verdict's first."""
    cautions: list[Caution]
    """What whoever acts on this must know."""
    reference: str | None = None
    """The caller's own name for the case."""
    codes: dict[str, str] = {}
    """The caller's own codes, as they came; left out if none."""
    sources: dict[str, Source] = {}
    """What a brief answer cites, by key. A key means the same in every answer."""


class RepairabilityBatch(AnswerStruct, kw_only=True, frozen=True):
    """The outcome of every case of a batch, in the order of the cases."""

    items: list[RepairabilityOutcome]
    """The outcomes, one for each item, in the order of the items."""
    ok: int
    """How many items have their answer."""
    failed: int
    """How many items have a problem instead."""
    tables: BatchTables | None = None
    """What the brief rows say alike, each once; null where no row refers to it."""


class ServiceLimits(AnswerStruct, kw_only=True, frozen=True):
    """What the tyre may do after its repair, as far as the case is known."""

    rulebook: RulebookUsed
    assessed_on: date
    """The day the case was judged on."""
    verdict: Verdict
    """Whether the tyre may be repaired, as `/v1/repairability` says: what follows hangs on it."""
    possible_verdicts: list[Verdict]
    """All the verdict may become, best first."""
    fit: Fit
    """`fit`: the tyre may be repaired and run here under this load; `not_fit`: it may not; `open` while that is not
    settled. The speed is apart, since a driver can keep to one.
    """
    next_step: NextStep
    """What to do now, as `/v1/repairability` says; `repair_for_another_position` also where another rule on the
    position forbids this one.
    """
    says: str
    """The verdict in words, and what it means for the limits."""
    speed: ServiceSpeed
    load: ServiceLoad
    position: ServicePosition
    findings: list[Finding]
    """Rules on position and load, broken or open, the gravest first; those met too if asked for."""
    caveats: list[Caveat]
    """What to print, what must be acknowledged first."""
    follow_ups: list[FollowUpDue]
    """What to look at again after the repair, and when; none without one."""
    to_establish: list[ToEstablish]
    """Missing facts that may change these limits, most useful question first."""
    reference: str | None = None
    """The caller's own name for the case."""
    codes: dict[str, str] = {}
    """The caller's own codes, as they came; left out if none."""
    rules_checked: int | None = None
    """How many rules on position and load were checked."""
    sources: dict[str, Source] = {}
    """What a brief answer cites, by key. A key means the same in every answer."""


class RepairPlan(AnswerStruct, kw_only=True, frozen=True):
    """All that is said of one tyre. Each part is what its own operation answers to the same case; a brief plan says
    everything once, and leaves what a bench works by to `choose_repair_units` and `plan_work`.
    """

    rulebook: RulebookUsed
    assessed_on: date
    """The day the case was judged on."""
    verdict: str
    """The verdict on the tyre, as repairability gives it."""
    repairability: Repairability
    """What `check_repairability` answers."""
    repair_units: RepairUnits | None
    """What `choose_repair_units` answers; null if absent."""
    stem_trims: StemTrims | None
    """What `trim_stems` answers; null if absent."""
    service_limits: ServiceLimits | None
    """What `find_service_limits` answers; null if absent."""
    work_plan: WorkPlan | None
    """What `plan_work` answers; null if absent."""
    quote: Quote | None
    """What `quote_repair` answers; null if absent."""
    absent: list[Absent]
    """The parts that are null, and why each does not apply."""
    reference: str | None = None
    """The caller's own name for the case."""
    codes: dict[str, str] = {}
    """The caller's own codes, as they came; left out if none."""
    sources: dict[str, Source] = {}
    """What a brief answer cites, by key. A key means the same in every answer."""


class RepairPlanOutcome(AnswerStruct, kw_only=True, frozen=True):
    """What became of one case of a batch."""

    status: RepairPlanOutcomeStatus
    """`ok`: it has its answer; `failed`: it has a problem instead."""
    reference: str | None
    """The caller's own name for the case, if it had one that could be read."""
    problem: Problem | None
    """Why it failed; its pointers are into the whole request: `/items/731/tyre/marking`. Else null."""
    answer: RepairPlan | None
    """What `plan_repair` answers; null if failed."""


class RepairPlanBatch(AnswerStruct, kw_only=True, frozen=True):
    """The outcome of every case of a batch, in the order of the cases."""

    items: list[RepairPlanOutcome]
    """The outcomes, one for each item, in the order of the items."""
    ok: int
    """How many items have their answer."""
    failed: int
    """How many items have a problem instead."""


__all__ = [
    "Absent",
    "AbsentPart",
    "Advice",
    "Alternative",
    "AlternativeCode",
    "AlternativeOn",
    "AlternativeOnLiteral",
    "AskedAt",
    "Axle",
    "AxleMate",
    "Basis",
    "BatchTables",
    "Bench",
    "BodyPly",
    "CarcassBuild",
    "CaseBatch",
    "Caution",
    "CautionAtStep",
    "Caveat",
    "CaveatFor",
    "Channel",
    "Choice",
    "ChoiceKind",
    "ChoiceKindLiteral",
    "Chosen",
    "Construction",
    "ConsumableUsed",
    "ConsumableUsedUnit",
    "CostPerDistance",
    "CostPerDistanceUnit",
    "CostPerDistanceUnitLiteral",
    "Covered",
    "CutAt",
    "DecidedBy",
    "Depth",
    "Detail",
    "Discount",
    "DiscountOn",
    "Downtime",
    "DrawnFrom",
    "Drive",
    "DriverAdvice",
    "DriverAdviceCode",
    "Drying",
    "EarlierRepair",
    "Effect",
    "EmergesIn",
    "EmergesInLiteral",
    "ExtraService",
    "FaultAt",
    "Fee",
    "FeeKind",
    "Figure",
    "Finding",
    "Fit",
    "Fitment",
    "FlatRate",
    "FlatRatePer",
    "FollowUpDue",
    "GenericUnit",
    "GenericUnitKind",
    "GenericUnitKindLiteral",
    "GenericUnits",
    "HalfRounding",
    "HangsOn",
    "HeatCuredFill",
    "History",
    "HoldPoint",
    "HouseMinutes",
    "HouseRules",
    "HouseTime",
    "HouseTimes",
    "InService",
    "InTables",
    "Injury",
    "InjuryUnit",
    "InjuryVerdict",
    "InsideCut",
    "Inspection",
    "LabourRate",
    "LabourRateMinutes",
    "Limit",
    "LimitMeans",
    "LimitedBy",
    "Line",
    "LineKind",
    "Live",
    "LoadRestsOn",
    "MakerPolicy",
    "MakerRepair",
    "MarkingForm",
    "MatePlace",
    "MeasuredAngle",
    "MeasuredDistance",
    "MeasuredFrom",
    "MeasuredFromLiteral",
    "MeasuredLength",
    "MeasuredMass",
    "MeasuredPercent",
    "MeasuredQuantity",
    "MeasuredSpeed",
    "MeasuredTemperature",
    "Measuring",
    "Minutes",
    "MoneySpan",
    "NeededUnit",
    "NextStep",
    "NotIncluded",
    "NotPriced",
    "Observed",
    "Otherwise",
    "Outcome",
    "Outline",
    "OutsideCut",
    "PassedOver",
    "Passes",
    "Piece",
    "PlanQuestion",
    "Position",
    "Preparation",
    "PriceBook",
    "PricedConsumable",
    "Problem",
    "ProblemType",
    "Quote",
    "Range",
    "RateCovers",
    "RatingAfterRepair",
    "RatingAfterRepairLiteral",
    "Ready",
    "Reason",
    "Recommendation",
    "Region",
    "RepairMethod",
    "RepairOffer",
    "RepairOrReplace",
    "RepairPlan",
    "RepairPlanBatch",
    "RepairPlanOutcome",
    "RepairPlanOutcomeStatus",
    "RepairUnits",
    "Repairability",
    "RepairabilityBatch",
    "RepairabilityOutcome",
    "Replacement",
    "Room",
    "Rounding",
    "RoundingTax",
    "Rulebook",
    "RulebookList",
    "RulebookProvision",
    "RulebookSummary",
    "RulebookUsed",
    "Sense",
    "ServiceLimits",
    "ServiceLoad",
    "ServiceLoadStatus",
    "ServicePosition",
    "ServicePositionStatus",
    "ServiceSpeed",
    "ServiceSpeedStatus",
    "Shape",
    "ShapeLiteral",
    "SidewallWarning",
    "SizeLimit",
    "Source",
    "Span",
    "SpecialTyre",
    "SpeedCeiling",
    "SpeedPeriod",
    "SpeedRestsOn",
    "Stage",
    "StatedValue",
    "StemTrim",
    "StemTrims",
    "StepParameter",
    "StockUnit",
    "Tax",
    "TaxTotal",
    "TimePart",
    "ToEstablish",
    "Totals",
    "Traits",
    "TrimInstruction",
    "Tyre",
    "TyreCase",
    "TyreMarking",
    "UnitCarcass",
    "UntilThen",
    "UsualMinutes",
    "Vehicle",
    "VehicleKind",
    "Verdict",
    "WheelState",
    "WorkPlan",
    "WorkScope",
    "WorkStep",
    "WorkStepPart",
    "YesNoOpen",
]
