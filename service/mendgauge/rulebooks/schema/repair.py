"""What a rulebook says of whether an injury, in a tyre, may be repaired."""

from __future__ import annotations

from typing import Literal

from mendgauge.core.vocabulary import SpecialTyre
from mendgauge.rulebooks.provision import EVERY_CONDITION, Effect, Provision, Text
from mendgauge.rulebooks.schema.limits import PositionEffect


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
