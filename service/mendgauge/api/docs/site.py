"""The pages by their addresses, each made when it is first asked for, and kept while it is among the last used."""

from __future__ import annotations

from collections.abc import Callable
from functools import cached_property, lru_cache
from threading import Lock
from typing import Any, Final

import msgspec

from mendgauge.api.docs.concept_pages import concept_pages
from mendgauge.api.docs.field_pages import field_pages
from mendgauge.api.docs.operation_pages import operation_pages
from mendgauge.api.docs.page import Page
from mendgauge.api.docs.problem_pages import problem_pages
from mendgauge.api.docs.rulebook_pages import rulebook_pages
from mendgauge.api.docs.templates import rendered
from mendgauge.api.files import ServedFile, served_file

_KEPT: Final = 64
"""Pages that are kept once made: a rulebook's weighs 200 kB, most others a tenth of that."""

SECTIONS: Final = {
    "/docs/operations": "Operations",
    "/docs/concepts": "Concepts",
    "/rulebooks": "Rulebooks",
    "/docs/problems": "Problems",
    "/docs/fields": "Fields",
}
"""The sections, by the address of the page that lists what is in each."""


class Site:
    """The documentation of a service that a document describes."""

    def __init__(self, document: Callable[[], dict[str, Any]]) -> None:
        self._document = document
        self._lock = Lock()
        self._made = lru_cache(_KEPT)(self._make)

    def page(self, path: str) -> ServedFile | None:
        """Return the page of an address; None where there is none."""
        with self._lock:  # the first who ask for a page wait for it together
            path = path.rstrip("/") or "/"
            return self._made(path) if path in self._pages or path == SEARCH else None

    def lost(self, path: str) -> bytes:
        """Return the page that says that an address has none."""
        return rendered(
            "lost.html", {"title": "There is no such page", "section": "", "path": path} | self._around
        ).encode()

    @cached_property
    def _pages(self) -> dict[str, Page]:
        document = self._document()
        pages = [
            *operation_pages(document),
            *concept_pages(),
            *rulebook_pages(),
            *problem_pages(document),
            *field_pages(document),
        ]
        lists = [Page(path, name, name, "", "section.html", dict) for path, name in SECTIONS.items()]
        start = Page("/docs", "Mendgauge documentation", "", "", "index.html", dict)
        return {page.path: page for page in (start, *lists, *pages)}

    @cached_property
    def _around(self) -> dict[str, Any]:
        """Return what every page shows: the sections, and the pages of each."""
        within = {
            name: [page for page in self._pages.values() if page.section == name and page.path != path]
            for path, name in SECTIONS.items()
        }
        return {"sections": SECTIONS, "within": within}

    def _make(self, path: str) -> ServedFile:
        if path == SEARCH:
            return served_file("search.json", msgspec.json.encode(self._found_by()))
        page = self._pages[path]
        content = {"title": page.title, "section": page.section, "path": path, "about": page.about}
        html = rendered(page.template, content | self._around | page.content())
        return served_file("page.html", html.encode())

    def _found_by(self) -> list[list[str]]:
        """Return what a search goes through: address, section, title and words of every page and place."""
        found = []
        for page in self._pages.values():
            found.append([page.path, page.section, page.title, f"{page.about} {page.words}".strip()])
            found += [
                [f"{page.path}#{place.anchor}", page.section, f"{page.title}: {place.title}", place.words]
                for place in page.places
            ]
        return found


SEARCH: Final = "/docs/search.json"
