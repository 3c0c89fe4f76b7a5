"""What everything in a rulebook file is made of: a closed block that names its source and its basis."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from typing import Annotated, ClassVar, Final, Literal, TypeAlias

import msgspec
from msgspec import Meta

from mendgauge.core.vocabulary import SpecialTyre, VehicleKind
from mendgauge.tyre.tyre_class import TyreClass

Basis: TypeAlias = Literal["published", "published_summary", "common_practice", "from_memory", "derived", "house_rule"]
_STRONGEST_FIRST: Final[tuple[Basis, ...]] = (
    "published",
    "published_summary",
    "derived",
    "common_practice",
    "from_memory",
    "house_rule",
)


def weakest(bases: Iterable[Basis]) -> Basis:
    """Return the basis that the least weight rests on, of which there is at least one.

    >>> weakest(["published", "common_practice", "published_summary"])
    'common_practice'
    """
    return max(bases, key=_STRONGEST_FIRST.index)


Effect: TypeAlias = Literal["ends_the_tyre", "not_covered", "specialist_only", "caution"]
Language: TypeAlias = Literal["en-GB", "en-US"]
Text: TypeAlias = Annotated[str, Meta(min_length=1)]


Condition: TypeAlias = Literal["kinds", "mass", "speed", "section", "steered", "fitment", "trait"]

CONDITIONS: Final[dict[Condition, tuple[str, ...]]] = {
    "kinds": ("kinds",),
    "mass": ("mass_over_kg", "mass_to_kg"),
    "speed": ("speed_over", "speed_to"),
    "section": ("section_over_mm", "section_to_mm"),
    "steered": ("steered",),
    "fitment": ("fitment",),
    "trait": ("trait",),
}
"""What a provision may be limited to, with the fields that say so."""

EVERY_CONDITION: Final = frozenset(CONDITIONS)
_CONDITION_FIELDS: Final = tuple(name for names in CONDITIONS.values() for name in names)


class RulebookError(ValueError):
    """A rulebook file that does not keep to the schema; the text names the file and the place."""


class Closed(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True, omit_defaults=True, gc=False):
    """Base of everything in a rulebook file: an unknown key is an error."""


class Source(Closed, frozen=True, kw_only=True):
    """A document, and where its words were seen if not in itself."""

    document: Text
    seen_in: str | None = None

    def __str__(self) -> str:
        return f"{self.document}, {self.seen_in}" if self.seen_in else self.document


class Sourced(Closed, frozen=True, kw_only=True):
    """One thing that is said, for whom, and how we know."""

    classes: Annotated[tuple[TyreClass, ...], Meta(min_length=1)]
    source: Text
    basis: Basis
    clause: str = ""
    note: str = ""


class Provision(Sourced, frozen=True, kw_only=True, eq=False):
    """One thing a code says, since when, and in which case; the same as no other, whatever else says as much.

    Dates and classes count under every heading. A kind of provision declares in `honours` which other conditions are
    tested wherever it is looked up: a rule can test all of them, a figure looked up by class none. `must_say` are the
    topics on which the workshop must say something for every class at any time, as the lookup takes it for granted.
    """

    honours: ClassVar[frozenset[Condition]] = frozenset()
    must_say: ClassVar[tuple[str, ...]] = ()

    starts: date | None = None
    ends: date | None = None
    kinds: tuple[VehicleKind, ...] | None = None
    mass_over_kg: float | None = None
    mass_to_kg: float | None = None
    speed_over: str | None = None
    speed_to: str | None = None
    section_over_mm: float | None = None
    section_to_mm: float | None = None
    steered: bool | None = None
    fitment: Literal["single", "dual"] | None = None
    trait: SpecialTyre | None = None

    @property
    def about(self) -> str:
        """The topic: provisions on different topics of a heading apply beside each other."""
        return ""

    @property
    def unconditional(self) -> bool:
        """Whether it applies to every tyre of its classes."""
        return not self.conditions()

    def conditions(self) -> dict[str, object]:
        """Return the conditions that are set, by field."""
        return {name: value for name in _CONDITION_FIELDS if (value := getattr(self, name)) is not None}

    def in_force(self, on: date) -> bool:
        """Return whether the provision is in force on a day; `starts` counts, `ends` does not."""
        return (self.starts is None or self.starts <= on) and (self.ends is None or on < self.ends)
