"""The entries of an edition as a caller reads them."""

from __future__ import annotations

from typing import Any, Final

from mendgauge.answers.bound_edition import BoundEdition
from mendgauge.operations.rulebooks.answer import RulebookProvision
from mendgauge.operations.rulebooks.stated import stated
from mendgauge.operations.work_plans.book_figures import fixed
from mendgauge.rulebooks import Edition
from mendgauge.rulebooks.provision import Provision, Sourced
from mendgauge.rulebooks.schema.procedure import StepRule, StepTimes

_APART: Final = {"classes", "source", "basis", "clause", "note", "starts", "ends"}
_CONDITIONS: Final = set(Provision.__struct_fields__) - _APART
_CIRCUMSTANCES: Final = {"kinds", "when"}


def head(edition: Edition) -> dict[str, Any]:
    """Return what names an edition."""
    book = edition.book
    return {
        "id": book.id,
        "edition": book.edition,
        "reference": edition.reference,
        "title": book.title,
        "jurisdiction": book.jurisdiction,
        "language": book.language,
        "released": book.released,
        "digest": edition.digest,
    }


def provision(question: str, entry: Provision, edition: Edition) -> RulebookProvision:
    """Return a provision of the book or of workshop practice."""
    fields = {name: getattr(entry, name) for name in entry.__struct_fields__ if name not in _APART}
    said = {name: value for name, value in fields.items() if value is not None}
    return RulebookProvision(
        question=question,
        classes=entry.classes,
        conditions=stated({name: value for name, value in said.items() if name in _CONDITIONS}),
        values=stated({name: value for name, value in said.items() if name not in _CONDITIONS}),
        starts=entry.starts,
        ends=entry.ends,
        basis=entry.basis,
        source=edition.source(entry),
        clause=entry.clause,
        note=entry.note,
    )


def procedure_entry(heading: str, entry: Sourced, bound: BoundEdition) -> RulebookProvision:
    """Return an entry of the procedure; what a step says in full stands in a work plan."""
    fields = {name: getattr(entry, name) for name in entry.__struct_fields__ if name not in _APART}
    if isinstance(entry, StepTimes):
        fields |= {f"{code}_minutes": minutes for code, minutes in fields.pop("likely_minutes").items()}
    if isinstance(entry, StepRule):
        fields = {name: fields[name] for name in ("code", "part", "title", "kinds", "when")}
    said = {
        name: bound.in_language(_plain(value, bound.edition)) if isinstance(value, (str, tuple)) else value
        for name, value in fields.items()
        if value not in (None, (), "")
    }
    return RulebookProvision(
        question=heading,
        classes=entry.classes,
        conditions=stated({name: value for name, value in said.items() if name in _CIRCUMSTANCES}),
        values=stated({name: value for name, value in said.items() if name not in _CIRCUMSTANCES}),
        starts=None,
        ends=None,
        basis=entry.basis,
        source=bound.edition.procedure.source(entry),
        clause=entry.clause,
        note=bound.in_language(entry.note),
    )


def _plain(value: str | tuple[str, ...], edition: Edition) -> str:
    """Format words as they stand in a plan, with the figures they name."""
    figures = {rule.name: fixed(edition.procedure, rule).says for rule in edition.procedure.parameters}
    return (value if isinstance(value, str) else ", ".join(value)).format_map(figures)
