"""What is wrong with a case, reported by the code that noticed, without knowing how it will be answered."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Annotated, Self

import msgspec
from msgspec import Meta


class Flaw(msgspec.Struct, frozen=True):
    """One thing that is wrong, and where."""

    pointer: Annotated[
        str,
        Meta(
            description="Where in the request body: a JSON Pointer (RFC 6901); empty means the whole body.",
            examples=["/injuries/0/diameter_mm"],
        ),
    ]
    detail: Annotated[
        str,
        Meta(description="What is wrong there and what would be right.", examples=["expected a number, got text"]),
    ]


class CaseError(ValueError):
    """A case that keeps to the contract's words and still cannot be true, or asks for what does not exist.

    `errors` names every flaw found. Each may be given as a `Flaw` or as a pair of pointer and detail:

    >>> CaseError([("/tyre/date_code", "week 60 does not exist: weeks run from 01 to 53")]).errors[0].pointer
    '/tyre/date_code'
    """

    def __init__(self, errors: Iterable[Flaw | tuple[str, str]]) -> None:
        self.errors = tuple(flaw if isinstance(flaw, Flaw) else Flaw(*flaw) for flaw in errors)
        said = [f"{flaw.pointer or 'the case'}: {flaw.detail}" for flaw in self.errors]
        # Some details are sentences, and a full stop ends the whole.
        super().__init__("; ".join([*(one.removesuffix(".") for one in said[:-1]), *said[-1:]]))

    def below(self, place: str) -> Self:
        """Return the same of a case that stands at a place of a larger body."""
        return type(self)(Flaw(place + flaw.pointer, flaw.detail) for flaw in self.errors)


class NotPricedError(CaseError):
    """Raised when an item on the bill has no price."""
