"""What a part of an answer rests on: named in place, or by a key into the answer's table of sources."""

from __future__ import annotations

from base64 import b32encode
from collections.abc import Iterable
from hashlib import sha256
from typing import Annotated, Final, TypeAlias

import msgspec
from msgspec import Meta

from mendgauge.answers.base import AnswerPart
from mendgauge.rulebooks.provision import Basis

_KEY_LETTERS: Final = 6


class Source(AnswerPart, frozen=True, kw_only=True):
    """A document that something in the answer rests on."""

    basis: Annotated[Basis, Meta(description="How what rests on it is known.", examples=["published_summary"])]
    source: Annotated[str, Meta(description="The document, and where it was seen.")]


Sources: TypeAlias = Annotated[
    dict[str, Source],
    Meta(description="What a brief answer cites, by key. A key means the same in every answer."),
]


class Sourced(AnswerPart, frozen=True, kw_only=True):
    """Base of what rests on a document that a full answer names."""

    basis: Annotated[
        Basis | None,
        Meta(
            description="How it is known, in a full answer; null of what came with the case.",
            examples=["common_practice"],
        ),
    ] = None
    source: Annotated[
        str | None, Meta(description="The document it comes from, and where it was seen; in a full answer.")
    ] = None


class Cited(Sourced, frozen=True, kw_only=True):
    """Base of what rests on a document that a brief answer names too, in its table of sources."""

    cites: Annotated[
        str | None,
        Meta(description="Key in `sources` of what it rests on; in a brief answer.", examples=["k3f7qa"]),
    ] = None


class Citation(msgspec.Struct, frozen=True):
    """What a part says of its source: basis and document in a full answer, the key or nothing in a brief one."""

    basis: Basis | None = None
    source: str | None = None
    cites: str | None = None


_known: Final[dict[str, Source]] = {}
_keys: Final[dict[tuple[Basis, str], str]] = {}


def key_of(basis: Basis, source: str) -> str:
    """Return the key of a document with a basis: few characters of a digest, the same in every process.

    Both stand in rulebooks and texts and nowhere else, so what is kept here is as bounded as these.
    """
    key = _keys.get((basis, source))
    if key is None:
        digest = sha256(f"{basis}: {source}".encode()).digest()
        key = _keys[basis, source] = b32encode(digest)[:_KEY_LETTERS].decode().lower()
        _known[key] = Source(basis=basis, source=source)
    return key


def sources_of(*parts: Iterable[Cited]) -> dict[str, Source]:
    """Return the table of what some parts of an answer cite, in the order in which they do."""
    return {part.cites: _known[part.cites] for some in parts for part in some if part.cites is not None}
