"""What a page of the documentation is: where it stands, what it is about, and what its template shows."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, NamedTuple


class Place(NamedTuple):
    """A place on a page that a search can lead to."""

    anchor: str
    title: str
    words: str


class Page(NamedTuple):
    """A page.

    Attributes:
        path: Its address.
        title: Its heading.
        section: The section it stands in.
        about: One line on it, in Markdown.
        template: The name of its template.
        content: Makes what the template shows.
        words: What else a search finds it by.
        places: Places on it that a search finds.
    """

    path: str
    title: str
    section: str
    about: str
    template: str
    content: Callable[[], dict[str, Any]]
    words: str = ""
    places: tuple[Place, ...] = ()
