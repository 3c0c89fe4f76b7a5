"""What is sent and what comes back. Made by sdk/generate.py from openapi/openapi.json: change those, not this."""

from __future__ import annotations

from datetime import date
from typing import Literal, TypeAlias

from mendgauge_client._base import AnswerStruct, OpenWord, RequestStruct


class Advice(AnswerStruct, kw_only=True, frozen=True):
    """What to do about a finding; empty where there is nothing to say."""

    operation: str
    """What to change so that it happens less."""
    tyre: str
    """What to do with the tyre."""
    vehicle: str
    """What to do with the vehicle."""


class ExtraService(AnswerStruct, kw_only=True, frozen=True):
    """An additional service description: another load at another speed."""

    load_index_dual: int | None
    """Load index, in a dual pair; null if it has none."""
    load_index_single: int
    """Load index, fitted single."""
    speed_symbol: str | None
    """Speed symbol."""


class FaultAt(AnswerStruct, kw_only=True, frozen=True):
    """One thing that is wrong, and where: in the body, by `pointer`, or in a query or path parameter, by its name."""

    detail: str
    """What is wrong and what would be right."""
    parameter: str | None = None
    """The query or path parameter at fault, by name. Absent when the body is at fault."""
    pointer: str | None = None
    """Where in the request body: a JSON Pointer (RFC 6901); empty is the whole body. Absent when a parameter is at
    fault.
    """


class Inspection(RequestStruct, kw_only=True):
    """What the bench saw of the tyre, inside and out."""

    bead_damage: bool | None = None
    """Bead torn, kinked or its wire showing."""
    belt_separation: bool | None = None
    """Belt or tread coming apart from the carcass."""
    bulge: bool | None = None
    """A bulge in the tread or sidewall."""
    complete: bool = False
    """True: everything here was looked for, and what is not named was not found."""
    contaminated: bool | None = None
    """Soaked with oil, fuel or solvent."""
    cord_exposed: bool | None = None
    """Cord or body ply exposed, broken or rusted."""
    liner_damage: bool | None = None
    """Liner damaged beyond what a repair unit would cover."""
    perished: bool | None = None
    """Rubber perished, or cracked to the cord."""
    run_flat_signs: bool | None = None
    """Signs of running low or flat: liner creased, wrinkled or marbled, rubber dust."""
    secondary_damage: bool | None = None
    """Damage the object did inside the tyre beyond its own hole."""
    zipper_signs: bool | None = None
    """Ripples, soft spots or popping in the sidewall of a steel-cord carcass."""


class Live(AnswerStruct, kw_only=True, frozen=True):
    """The process runs."""

    status: str
    """Always `live`."""


class Measuring(RequestStruct, kw_only=True):
    """The tolerance of a shop's instruments. A bare number is then taken for a range of that much either way."""

    calliper_mm: float | None = None
    """Diameter of the injury as found: calliper or gauge pins, mm either way."""
    depth_gauge_mm: float | None = None
    """Tread depth and crown thickness, mm either way."""
    probe_deg: float | None = None
    """Lean of the channel and its direction, degrees either way."""
    ruler_mm: float | None = None
    """Places, widths and patches: rule or tape, mm either way."""


class Observed(AnswerStruct, kw_only=True, frozen=True):
    """What was seen, as a range: a measured value has `low` equal to `high`."""

    high: float
    """The largest value it can have."""
    low: float
    """The smallest value it can have."""
    unit: str
    """Unit of both."""


class Problem(AnswerStruct, kw_only=True, frozen=True):
    """What went wrong with a request (RFC 9457)."""

    detail: str
    """What went wrong this time."""
    request_id: str
    """The request's id, as in the `X-Request-Id` header and the log."""
    status: int
    """The HTTP status of this answer."""
    title: str
    """The kind in a few words."""
    type: str
    """The kind of problem, a URI reference that can be followed for an explanation."""
    errors: list[FaultAt] = []
    """Every fault found in the request, where it has places to name."""


class ProblemType(AnswerStruct, kw_only=True, frozen=True):
    """A kind of problem, and what to do about it."""

    remedy: str
    """What it means and what to do about it."""
    status: int
    """The HTTP status it comes with."""
    title: str
    """The kind in a few words."""
    type: str
    """The URI reference that names the kind."""


class Range(RequestStruct, kw_only=True):
    """A measurement known only to lie between two values, both included."""

    high: float
    """The largest value it can have; not below `low`."""
    low: float
    """The smallest value it can have."""


class Ready(AnswerStruct, kw_only=True, frozen=True):
    """The service takes requests."""

    status: str
    """Always `ready`; otherwise the answer is 503."""


class RulebookSummary(AnswerStruct, kw_only=True, frozen=True):
    """One edition of a rulebook."""

    digest: str
    """Digest of the edition's content."""
    edition: str
    """Its edition."""
    id: str
    """The rulebook."""
    jurisdiction: str
    """Where it applies."""
    language: str
    """Language of its answers."""
    reference: str
    """How a case pins this edition."""
    released: date
    """When the edition was released; it never changes after."""
    title: str
    """What it is about."""


class RulebookUsed(AnswerStruct, kw_only=True, frozen=True):
    """The rulebook edition an answer rests on."""

    digest: str
    """Digest of the edition's content."""
    edition: str
    """Its edition."""
    id: str
    """The rulebook."""


class SidewallWarning(AnswerStruct, kw_only=True, frozen=True):
    """Something that reads, but that a person should look at."""

    code: str
    """The kind of oddity, for programs."""
    says: str
    """What is odd, in words."""


class ToEstablish(AnswerStruct, kw_only=True, frozen=True):
    """A missing fact that would settle open rules."""

    asks: str
    """The question in plain words."""
    demounted: bool
    """Whether the tyre must be off the rim to find out."""
    field: str
    """The field of the case that is missing, as an RFC 6901 pointer."""
    how: str
    """How to find out."""
    settles: list[str]
    """The open rules that the answer may settle."""


class Traits(RequestStruct, kw_only=True):
    """What kind of tyre it is beyond its marking."""

    complete: bool = False
    """True: the tyre was looked at, and a trait not named here is absent."""
    foam_lined: bool | None = None
    """Noise-damping foam on the liner."""
    regrooved: bool | None = None
    """The tread pattern has been recut."""
    retread: bool | None = None
    """Retreaded."""
    run_flat: bool | None = None
    """Self-supporting sidewalls."""
    self_sealing: bool | None = None
    """A sealing layer on the liner from the factory."""
    studded: bool | None = None
    """Fitted with winter studs."""
    temporary_spare: bool | None = None
    """A spare for temporary use only."""
    tube_type: bool | None = None
    """Runs with an inner tube."""


class Basis(OpenWord):
    """What `Caution.basis`, `Finding.basis`, `RulebookProvision.basis` may say."""

    COMMON_PRACTICE = "common_practice"
    DERIVED = "derived"
    FROM_MEMORY = "from_memory"
    HOUSE_RULE = "house_rule"
    PUBLISHED = "published"
    PUBLISHED_SUMMARY = "published_summary"


MeasuredFrom: TypeAlias = Literal["inside", "outside"]


RepairMethod: TypeAlias = Literal["one_piece", "patch_only", "plug_only", "section", "two_piece"]


class Effect(OpenWord):
    """What `Finding.effect` may say."""

    ENDS_THE_TYRE = "ends_the_tyre"
    SPECIALIST_ONLY = "specialist_only"
    CAUTION = "caution"


class Outcome(OpenWord):
    """What `Finding.outcome` may say."""

    MET = "met"
    BROKEN = "broken"
    OPEN = "open"


Region: TypeAlias = Literal["bead", "shoulder", "sidewall", "tread"]


SpecialTyre: TypeAlias = Literal[
    "foam_lined", "regrooved", "retread", "run_flat", "self_sealing", "studded", "temporary_spare", "tube_type"
]


Depth: TypeAlias = Literal["rubber_only", "through", "to_cord"]


EmergesIn: TypeAlias = Literal["groove", "lug"]


Stage: TypeAlias = Literal["found", "prepared"]


class Verdict(OpenWord):
    """What `InjuryVerdict.possible_verdicts`, `InjuryVerdict.verdict`, `Repairability.possible_verdicts`,
    `Repairability.verdict` may say.
    """

    REPAIRABLE = "repairable"
    SPECIALIST = "specialist"
    NOT_REPAIRABLE = "not_repairable"
    INSPECT = "inspect"


class Sense(OpenWord):
    """What `Limit.sense` may say."""

    AT_MOST = "at_most"
    AT_LEAST = "at_least"


MakerRepair: TypeAlias = Literal["forbidden", "permitted"]


RatingAfterRepair: TypeAlias = Literal["capped", "retained", "void"]


Axle: TypeAlias = Literal["drive", "front", "rear", "spare", "steer", "trailer"]


Fitment: TypeAlias = Literal["dual", "dual_inner", "dual_outer", "single"]


class NextStep(OpenWord):
    """What `Repairability.next_step` may say."""

    ASK_FIRST = "ask_first"
    BOOK_IN = "book_in"
    REPAIR = "repair"
    SEND_TO_SPECIALIST = "send_to_specialist"
    REPLACE = "replace"


BodyPly: TypeAlias = Literal["steel", "textile"]


class CarcassBuild(OpenWord):
    """What `TyreMarking.build` may say."""

    BIAS = "bias"
    BIAS_BELTED = "bias_belted"
    RADIAL = "radial"


class MarkingForm(OpenWord):
    """What `TyreMarking.form` may say."""

    ALPHA = "alpha"
    ALPHA_MC = "alpha_mc"
    FLOTATION = "flotation"
    INCH = "inch"
    METRIC = "metric"
    METRIC_NO_ASPECT = "metric_no_aspect"


VehicleKind: TypeAlias = Literal["bus", "car", "motorcycle", "trailer", "truck", "van"]


class Caution(AnswerStruct, kw_only=True, frozen=True):
    """Something to know before acting."""

    basis: Basis
    """How it is known."""
    code: str
    """The caution, by name."""
    says: str
    """The caution in words."""
    source: str
    """Where it comes from."""


class EarlierRepair(RequestStruct, kw_only=True):
    """One repair that the tyre already carries."""

    across_mm: float | Range | None = None
    """Centre of the patch across the tread, mm from its centre line."""
    around_mm: float | Range | None = None
    """Centre of the patch along the tread from the valve, mm."""
    measured_from: MeasuredFrom | None = None
    """Which side `around_mm` was taken on: arcs are shorter at the liner."""
    method: RepairMethod | None = None
    """How the earlier repair was made."""
    patch_mm: float | Range | None = None
    """Largest extent of the patch, mm."""
    proper: bool | None = None
    """Whether it was found sound, sealed and in a permitted place."""


class History(RequestStruct, kw_only=True):
    """What the tyre went through before it reached the bench."""

    complete: bool = False
    """True: the driver was asked, and what is not named did not happen."""
    driven_flat: bool | None = None
    """Driven flat or nearly flat."""
    flat_distance_km: float | Range | None = None
    """How far it was driven flat, km."""
    pressure_found_percent: float | Range | None = None
    """Pressure found, percent of the recommended pressure."""
    sealant_used: bool | None = None
    """Sealant or an aerosol inflator was put in."""


class HouseRules(RequestStruct, kw_only=True):
    """A fleet's own rules. They may be stricter than the rulebook, never looser."""

    max_age_years: float | None = None
    """Oldest tyre this house repairs, years."""
    max_injury_mm: float | None = None
    """Largest injury this house repairs, mm."""
    max_lean_deg: float | None = None
    """Largest lean this house repairs, degrees."""
    max_repairs: float | None = None
    """Most repairs in one tyre, all counted."""
    min_spacing_mm: float | None = None
    """Least distance between the centres of two repairs, mm."""
    min_tread_mm: float | None = None
    """Least tread left on a tyre this house repairs, mm."""
    refuse_regions: list[Region] = []
    """Regions in which this house repairs nothing."""
    refuse_special_tyres: list[SpecialTyre] = []
    """Kinds of tyre this house does not repair."""
    refuse_speed_v_and_above: bool = False
    """Repair no tyre with speed symbol V or above."""
    refuse_steer_axle: bool = False
    """Repair nothing that runs on a steered axle."""
    refuse_without_maker_approval: bool = False
    """Repair only what the tyre's maker lets be repaired."""


class Injury(RequestStruct, kw_only=True):
    """One injury."""

    across_mm: float | Range | None = None
    """Place across the tread, mm from its centre line; one side positive, the other negative."""
    around_mm: float | Range | None = None
    """Place along the tread from the valve, mm."""
    depth: Depth | None = None
    """How far in it goes: rubber only, to the cord, or through to the inside."""
    diameter_mm: float | Range | None = None
    """Diameter of the injury, mm; of a cut its longest side. Once prepared, of the cutter."""
    emerges_in: EmergesIn | None = None
    """Whether the channel comes out in a groove or on a lug, block or rib."""
    lean_deg: float | Range | None = None
    """Lean of the channel from the perpendicular to the tread, degrees."""
    lean_toward_deg: float | Range | None = None
    """Which way the channel runs on its way in: 0 toward positive `across_mm`, 90 toward larger `around_mm`, 180
    toward negative `across_mm`.
    """
    measured_from: MeasuredFrom | None = None
    """Which side `across_mm` and `around_mm` were taken on."""
    object: str | None = None
    """What was found in the injury. For the record."""
    other_side_across_mm: float | Range | None = None
    """Place across the tread on the other side of the crown, mm from the centre line."""
    region: Region | None = None
    """The part of the tyre that is injured."""
    stage: Stage | None = None
    """Whether the diameter is the hole as found or the channel as prepared."""


class InjuryVerdict(AnswerStruct, kw_only=True, frozen=True):
    """What the rules on one injury come to, leaving those on the tyre aside."""

    possible_verdicts: list[Verdict]
    """All it may become, best first."""
    verdict: Verdict
    """`repairable`, `specialist`, `not_repairable` or `inspect`."""


class Limit(AnswerStruct, kw_only=True, frozen=True):
    """The limit an observation was held against."""

    inclusive: bool
    """Whether the limit itself passes."""
    sense: Sense
    """`at_most` or `at_least`: which side of the limit is right."""
    unit: str
    """Unit of the limit."""
    value: float
    """The limit; the stricter end where it is itself a range."""
    value_high: float | None = None
    """The other end of the limit where it is a range, else null."""


class MakerPolicy(RequestStruct, kw_only=True):
    """What the maker of this tyre says of repairs. Only the maker's own word belongs here."""

    max_repairs: float | None = None
    """How many repairs the maker allows in this tyre, all counted."""
    repair: MakerRepair | None = None
    """Whether the maker lets this tyre be repaired."""
    speed_cap_kmh: float | None = None
    """The speed the maker allows after a repair, km/h, where it is capped."""
    speed_rating_after_repair: RatingAfterRepair | None = None
    """What the maker says of the speed rating after a repair."""


class Position(RequestStruct, kw_only=True):
    """Where the tyre sits on the vehicle."""

    axle: Axle | None = None
    """Which axle; `steer` and `drive` are the words for heavy vehicles."""
    axle_load_kg: float | Range | None = None
    """Load on the whole axle, kg."""
    fitment: Fitment | None = None
    """Single, or one of a dual pair; `dual` when it is not known which of the two."""
    steered: bool | None = None
    """Whether the axle steers. `axle: steer` says so already."""


class RulebookList(AnswerStruct, kw_only=True, frozen=True):
    """Every edition of every rulebook."""

    rulebooks: list[RulebookSummary]
    """By id, the newest edition first."""


class RulebookProvision(AnswerStruct, kw_only=True, frozen=True):
    """One thing a rulebook says, for whom, since when, and how we know."""

    basis: Basis
    """How it is known."""
    classes: list[str]
    """Classes of tyre it holds for."""
    clause: str
    """Where in the document; empty where not known."""
    conditions: dict[str, bool | float | str | list[float | str]]
    """When it holds, where not always; the first that holds applies."""
    ends: date | None
    """No longer in force on this day; null: still in force."""
    note: str
    """What else there is to know; may be empty."""
    question: str
    """The question it answers."""
    source: str
    """The document, and where it was seen."""
    starts: date | None
    """In force from this day; null: from the start."""
    values: dict[str, bool | float | str | list[float | str]]
    """What it says; a number's unit ends its name."""


class Tyre(RequestStruct, kw_only=True):
    """The tyre, from its sidewall and from the gauge."""

    marking: str
    """Size and service description as moulded on the sidewall."""
    body_ply: BodyPly | None = None
    """What the carcass cords are made of."""
    crown_thickness_mm: float | Range | None = None
    """Thickness from the liner to the groove base, mm."""
    date_code: str | None = None
    """The date code (week and year), or the whole tyre identification number that ends in it."""
    maker_policy: MakerPolicy | None = None
    max_load_kg: float | Range | None = None
    """Maximum load moulded on the sidewall, single, kg."""
    new_tread_depth_mm: float | Range | None = None
    """Tread depth when new, mm."""
    traits: Traits | None = None
    tread_depth_mm: float | Range | None = None
    """Tread left, at the shallowest point, mm."""
    tread_width_mm: float | Range | None = None
    """Width of the tread, edge to edge, mm."""


class TyreMarking(AnswerStruct, kw_only=True, frozen=True):
    """What the sidewall says and what follows from it; null is what it does not say. Dimensions are of the new tyre."""

    age_years_from: float | None
    """Least age on that day, years."""
    age_years_to: float | None
    """Greatest age on that day, years."""
    aspect_percent: int | None
    """Section height as a share of the section width, percent."""
    assessed_on: date
    """The day on which the age is taken."""
    build: CarcassBuild | None
    """How the carcass is built; null where the size does not say."""
    extra_services: list[ExtraService]
    """Additional service descriptions."""
    form: MarkingForm
    """How the size is written."""
    light_truck: bool
    """Whether it is marked LT."""
    load_dual_at_vehicle_speed_kg: float | None
    """The same for each tyre of a dual pair, kg."""
    load_dual_kg: float | None
    """Load of each tyre of a dual pair, kg."""
    load_index_dual: int | None
    """Load index, in a dual pair."""
    load_index_single: int | None
    """Load index, fitted single."""
    load_range: str | None
    """Load range letter."""
    load_single_at_vehicle_speed_kg: float | None
    """Load at the vehicle's top speed, fitted single, kg (UN R30); null where that speed was not given, or where
    nothing published grants any load at it.
    """
    load_single_kg: float | None
    """Load, fitted single, kg."""
    made_from: date | None
    """First day on which it may have been made."""
    made_to: date | None
    """Last day on which it may have been made."""
    made_week: int | None
    """Week of manufacture, or of retreading."""
    made_year: int | None
    """Year of manufacture; null where the decade is not moulded."""
    marking: str
    """The marking in its plain spelling."""
    motorcycle: bool
    """Whether it is marked for motorcycles."""
    outer_circumference_mm: float | None
    """Circumference of the tread, mm."""
    overall_diameter_mm: float | None
    """Overall diameter, mm."""
    overall_diameter_regulation_mm: int | None
    """Overall diameter as UN R30 and R54 round it, mm."""
    plant: str | None
    """Plant code of the identification number."""
    ply_rating: int | None
    """Ply rating."""
    revolutions_per_km: float | None
    """Turns in a kilometre; radial tyres only."""
    rim_diameter_mm: float
    """Rim diameter that the code stands for, mm."""
    rolling_circumference_mm: float | None
    """Way rolled in one turn under load, mm; radial tyres only."""
    run_flat: bool
    """Whether the size carries the F of a run-flat tyre beside its R."""
    section_height_mm: float | None
    """Section height, mm."""
    section_width_mm: float | None
    """Nominal section width, mm."""
    speed_is_floor: bool
    """True: the tyre is faster than that, and its maker knows by how much."""
    speed_kmh: float | None
    """Speed of the symbol, km/h."""
    speed_symbol: str | None
    """Speed symbol; ZR or such where the size alone says it, in brackets if it is a floor."""
    tags: list[str]
    """Other words of the sidewall, in plain spelling."""
    temporary_spare: bool
    """Whether it is marked for temporary use."""
    unread: list[str]
    """Words that are none of a marking's own."""
    warnings: list[SidewallWarning]
    """What a person should look at."""


class Vehicle(RequestStruct, kw_only=True):
    """The vehicle the tyre runs on."""

    gross_mass_kg: float | Range | None = None
    """Maximum permitted mass of the vehicle, kg."""
    kind: VehicleKind | None = None
    """What the vehicle is. Decides which limits apply."""
    max_speed_kmh: float | Range | None = None
    """Top speed of the vehicle, km/h."""


class Case(RequestStruct, kw_only=True):
    """A punctured tyre, as far as it is known."""

    rulebook: str
    """The rulebook that applies, by its id; `gb@2026.1` pins an edition."""
    tyre: Tyre
    assessed_on: date | None = None
    """The day the case is judged on; today when left out."""
    earlier_repairs: list[EarlierRepair] | None = None
    """Every repair the tyre already carries. Left out: not known; empty: none."""
    explain: bool = False
    """True: the rules that are met are listed too."""
    history: History | None = None
    house_rules: HouseRules | None = None
    injuries: list[Injury] | None = None
    """Every injury known. Left out: there is one, of which nothing is known."""
    inspection: Inspection | None = None
    measuring: Measuring | None = None
    position: Position | None = None
    reference: str | None = None
    """The caller's own name for the case; comes back in the answer."""
    vehicle: Vehicle | None = None


class Finding(AnswerStruct, kw_only=True, frozen=True):
    """What one rule makes of the case."""

    advice: Advice | None
    """What to do about what is broken; null where nothing is."""
    basis: Basis
    """How the rule is known."""
    cause: str | None
    """Probable cause of what is broken, where the trade knows one."""
    clause: str
    """Where in the document; empty where not known."""
    effect: Effect | None
    """What breaking the rule comes to: `ends_the_tyre`, `specialist_only` or `caution`; the worst it can come to
    where the rule is open, null where it is met.
    """
    injury: int | None
    """Index of the injury it speaks of; null for the whole tyre."""
    limit: Limit | None
    """The limit; null where the rule is not about a quantity."""
    margin: float | None
    """Distance to the limit in the worst case, in the limit's unit; negative when beyond it."""
    observed: Observed | None
    """What was seen; null where it is not known or no quantity."""
    outcome: Outcome
    """`met`, `broken` or `open`."""
    rule: str
    """The rule, by its name in the rulebook."""
    says: str
    """The finding in words."""
    source: str
    """The document the rule comes from, and where it was seen."""


class Repairability(AnswerStruct, kw_only=True, frozen=True):
    """Whether the tyre may be repaired under the rulebook, as far as the case is known."""

    assessed_on: date
    """The day the case was judged on."""
    cautions: list[Caution]
    """What whoever acts on this must know."""
    findings: list[Finding]
    """Rules broken or open, the gravest first; those met too if asked for."""
    injuries: list[InjuryVerdict]
    """One for each injury, in the order of the case."""
    next_step: NextStep
    """What to do now: `ask_first` (a roadside question may yet decide), `book_in` (the bench settles the rest),
    `repair`, `send_to_specialist` or `replace`.
    """
    possible_verdicts: list[Verdict]
    """Every verdict that a completion of the unknown facts can bring, best first."""
    reference: str | None
    """The caller's own name for the case."""
    rulebook: RulebookUsed
    rules_checked: int
    """How many rules were checked."""
    to_establish: list[ToEstablish]
    """Missing facts that may change the verdict, most useful question first."""
    verdict: Verdict
    """`repairable`, `specialist`, `not_repairable`; `inspect` while more than one is possible."""


class Rulebook(AnswerStruct, kw_only=True, frozen=True):
    """One edition of a rulebook, whole, with the workshop practice it stands on."""

    digest: str
    """Digest of the edition's content."""
    edition: str
    """Its edition."""
    id: str
    """The rulebook."""
    jurisdiction: str
    """Where it applies."""
    language: str
    """Language of its answers."""
    note: str
    """What there is to know of the book; may be empty."""
    provisions: list[RulebookProvision]
    """What the country's book says."""
    reference: str
    """How a case pins this edition."""
    released: date
    """When the edition was released; it never changes after."""
    title: str
    """What it is about."""
    workshop: list[RulebookProvision]
    """Workshop practice that holds where the book is silent."""


__all__ = [
    "Advice",
    "Axle",
    "Basis",
    "BodyPly",
    "CarcassBuild",
    "Case",
    "Caution",
    "Depth",
    "EarlierRepair",
    "Effect",
    "EmergesIn",
    "ExtraService",
    "FaultAt",
    "Finding",
    "Fitment",
    "History",
    "HouseRules",
    "Injury",
    "InjuryVerdict",
    "Inspection",
    "Limit",
    "Live",
    "MakerPolicy",
    "MakerRepair",
    "MarkingForm",
    "MeasuredFrom",
    "Measuring",
    "NextStep",
    "Observed",
    "Outcome",
    "Position",
    "Problem",
    "ProblemType",
    "Range",
    "RatingAfterRepair",
    "Ready",
    "Region",
    "RepairMethod",
    "Repairability",
    "Rulebook",
    "RulebookList",
    "RulebookProvision",
    "RulebookSummary",
    "RulebookUsed",
    "Sense",
    "SidewallWarning",
    "SpecialTyre",
    "Stage",
    "ToEstablish",
    "Traits",
    "Tyre",
    "TyreMarking",
    "Vehicle",
    "VehicleKind",
    "Verdict",
]
