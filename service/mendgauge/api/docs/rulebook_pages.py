"""A page for each edition of a rulebook, and one for what differs between an edition and each older one."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from itertools import groupby
from typing import Any

from mendgauge.api.docs.differences import differences
from mendgauge.api.docs.page import Page, Place
from mendgauge.api.docs.rulebook_words import PARTS, groups
from mendgauge.operations.rulebooks import get_rulebook, list_rulebooks
from mendgauge.operations.rulebooks.answer import RulebookSummary

SECTION = "Rulebooks"


def rulebook_pages() -> Iterator[Page]:
    """Yield the page of every rulebook in its newest edition, then those of its editions and of their differences."""
    books = [list(editions) for _, editions in groupby(list_rulebooks(), key=lambda one: one.id)]
    for editions in books:
        newest = editions[0]
        yield Page(
            path=f"/rulebooks/{newest.id}",
            title=newest.title,
            section=SECTION,
            about=f"`{newest.id}`",
            template="rulebook.html",
            content=partial(_content, newest.reference, editions),
            words=newest.jurisdiction,
            places=_places(newest),
        )
    for editions in books:
        for place, edition in enumerate(editions):
            yield Page(
                path=f"/rulebooks/{edition.reference}",
                title=f"{edition.title}, edition {edition.edition}",
                section="",
                about=f"`{edition.reference}`",
                template="rulebook.html",
                content=partial(_content, edition.reference, editions),
                words=edition.jurisdiction,
            )
            for older in editions[place + 1 :]:
                yield Page(
                    path=f"/rulebooks/{edition.reference}/since/{older.edition}",
                    title=f"{edition.title}: what changed from {older.edition} to {edition.edition}",
                    section="",
                    about=f"`{older.reference}`, `{edition.reference}`",
                    template="difference.html",
                    content=partial(_difference, older.reference, edition.reference),
                    words=f"difference {edition.jurisdiction}",
                )


def _content(reference: str, editions: list[RulebookSummary]) -> dict[str, Any]:
    rulebook = get_rulebook(reference)
    older = [one for one in editions if one.released <= rulebook.released and one.edition != rulebook.edition]
    return {
        "book": rulebook,
        "parts": [(heading, groups(rulebook, part)) for part, (_, heading) in PARTS.items()],
        "editions": editions,
        "older": older[:1] if editions[0].edition == rulebook.edition else older,
    }


def _difference(before: str, after: str) -> dict[str, Any]:
    old, new = get_rulebook(before), get_rulebook(after)
    return {
        "old": old,
        "new": new,
        "parts": [(PARTS[part][1], found) for part, found in differences(old, new).items()],
    }


def _places(edition: RulebookSummary) -> tuple[Place, ...]:
    """Return the headings of a country's book, as a search finds them."""
    return tuple(
        Place(group.anchor, group.title, " ".join(value for entry in group.entries for value in entry.values))
        for group in groups(get_rulebook(edition.reference), "provisions")
    )
