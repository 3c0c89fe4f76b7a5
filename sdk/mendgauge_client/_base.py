"""What the generated models stand on: structs to send, structs that come back, words a newer service may add to."""

from __future__ import annotations

from enum import StrEnum
from typing import Self

import msgspec


class RequestStruct(msgspec.Struct, kw_only=True, omit_defaults=True, repr_omit_defaults=True):
    """Something to send: a field left at its default is not written, so what was left out stays *not known*."""


class AnswerStruct(msgspec.Struct, kw_only=True, frozen=True):
    """Something that came back: fields a newer server adds are passed over."""


class OpenWord(StrEnum):
    """A word of an answer. It is a `str`; a word this client does not know yet is kept as it came."""

    @classmethod
    def _missing_(cls, value: object) -> Self | None:
        if not isinstance(value, str):
            return None
        word = str.__new__(cls, value)
        word._name_ = word._value_ = value
        return word
