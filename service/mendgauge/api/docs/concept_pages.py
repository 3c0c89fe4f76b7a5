"""Pages on what an answer means, written in Markdown; a figure of the trade in them comes from its rulebook."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from pathlib import Path
from typing import Any, Final

from mendgauge.api.docs.page import Page, Place
from mendgauge.api.docs.rulebook_words import BASES
from mendgauge.api.docs.templates import from_figures, headings_of
from mendgauge.operations.rulebooks import get_rulebook
from mendgauge.operations.rulebooks.answer import RulebookProvision

_FOLDER: Final = Path(__file__).parent / "concepts"


def concept_pages() -> Iterator[Page]:
    """Yield the page of every concept, in the order of their files."""
    for file in sorted(_FOLDER.glob("*.md")):
        title, about, text = file.read_text("utf-8").split("\n\n", 2)
        name = file.stem.partition("-")[2]
        yield Page(
            path=f"/docs/concepts/{name}",
            title=title.removeprefix("# "),
            section="Concepts",
            about=about,
            template="concept.html",
            content=partial(_content, text),
            words=text.replace("{{", " ").replace("}}", " "),
            places=tuple(Place(anchor, heading, "") for anchor, heading in headings_of(text)),
        )


def _content(text: str) -> dict[str, Any]:
    return {"text": from_figures(text, {"said": said, "source": source})}


def said(reference: str, question: str, name: str, tyre_class: str) -> str:
    """Return what a rulebook says for a class of tyre, in words.

    >>> said("gb", "band", "share_of_section_width", "car")
    '0.6'
    """
    values = _provision(reference, question, tyre_class).values
    return next(value.text for value in values if value.name == name)


def source(reference: str, question: str, tyre_class: str) -> str:
    """Return how that is known."""
    provision = _provision(reference, question, tyre_class)
    return f"{BASES[provision.basis]}; {provision.source}"


def _provision(reference: str, question: str, tyre_class: str) -> RulebookProvision:
    book = get_rulebook(reference)
    listed = (*book.provisions, *book.workshop)
    return next(one for one in listed if one.question == question and tyre_class in one.classes)
