"""What the generated models stand on: structs to send, structs that come back, words a newer service may add to."""

from __future__ import annotations

from enum import StrEnum
from typing import Self

import msgspec


class RequestStruct(msgspec.Struct, kw_only=True, omit_defaults=True, repr_omit_defaults=True):
    """Something to send: a field left at its default is not written, so what was left out stays *not known*."""

    def to_json(self) -> str:
        """Return it as JSON, as it is sent.

        Raises:
            NotFiniteError: A number in it is not finite.
        """
        from mendgauge_client._body import encode

        return encode(self).decode()


class AnswerStruct(msgspec.Struct, kw_only=True, frozen=True, omit_defaults=True):
    """Something that came back: fields a newer server adds are passed over. What was left out is not written either."""

    def to_json(self) -> str:
        """Return it as JSON, with the fields that this client knows."""
        return msgspec.json.encode(self).decode()


class OpenWord(StrEnum):
    """A word of an answer. It is a `str`; a word this client does not know yet is kept as it came."""

    @classmethod
    def _missing_(cls, value: object) -> Self | None:
        if not isinstance(value, str):
            return None
        word = str.__new__(cls, value)
        word._name_ = word._value_ = value
        return word
