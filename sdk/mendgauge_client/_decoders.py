"""Decoders of answers, made one at a time.

While msgspec 0.22 works out the fields of a Struct it meets for the first time, other threads can see them half done:
two threads whose first answers came together ended the process with a segmentation fault.
"""

from __future__ import annotations

from threading import Lock
from typing import Any, TypeVar

import msgspec

T = TypeVar("T")

_one_at_a_time = Lock()

_KEPT: dict[Any, msgspec.json.Decoder[Any]] = {}
"""Made at the first answer of a kind: making one takes longer than many answers take to decode."""


def decoder_of(answer: type[T]) -> msgspec.json.Decoder[T]:
    """Return the decoder of a kind of answer, the same each time."""
    decoder = _KEPT.get(answer)
    if decoder is None:
        decoder = _KEPT[answer] = new_decoder(answer)
    return decoder


def new_decoder(answer: type[T]) -> msgspec.json.Decoder[T]:
    """Return a decoder of its own for a type."""
    with _one_at_a_time:
        return msgspec.json.Decoder(answer)
