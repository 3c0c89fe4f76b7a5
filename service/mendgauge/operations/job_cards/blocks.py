"""What a printed sheet is made of. The template lays these out; everything in them is text or a drawing."""

from __future__ import annotations

from datetime import date
from typing import TypeAlias

import msgspec

from mendgauge.rulebooks.provision import Language


class Facts(msgspec.Struct, frozen=True, tag="facts"):
    """Facts by name."""

    heading: str
    rows: tuple[tuple[str, str], ...]


class Notes(msgspec.Struct, frozen=True, tag="notes"):
    """Sentences, each a paragraph of its own, in so many columns."""

    heading: str
    items: tuple[str, ...]
    columns: int = 1


class Check(msgspec.Struct, frozen=True):
    """One thing to do and tick: what, its figures, and where to stop."""

    title: str
    lines: tuple[str, ...]
    stop: str


class Checks(msgspec.Struct, frozen=True, tag="checks"):
    """Things to do, in their order."""

    heading: str
    items: tuple[Check, ...]


class Question(msgspec.Struct, frozen=True):
    """One thing to find out, and how."""

    asks: str
    how: str


class Questions(msgspec.Struct, frozen=True, tag="questions"):
    """Things to find out, with room to answer."""

    heading: str
    items: tuple[Question, ...]


class Fields(msgspec.Struct, frozen=True, tag="fields"):
    """Room to fill in by hand, by name."""

    heading: str
    names: tuple[str, ...]


class Drawn(msgspec.Struct, frozen=True, tag="drawn"):
    """A drawing at its true size, and the same in words."""

    svg: str
    width_mm: float
    alt: str


Block: TypeAlias = Facts | Notes | Checks | Questions | Fields | Drawn


class Beside(msgspec.Struct, frozen=True, tag="beside"):
    """Blocks beside others, the right ones as wide as they need."""

    left: tuple[Block, ...]
    right: tuple[Block, ...]


class Turn(msgspec.Struct, frozen=True, tag="turn"):
    """Where the paper is turned over: what follows begins on a new page."""


class Sheet(msgspec.Struct, frozen=True):
    """One sheet: its title, what stands on it, and the size of its letters."""

    title: str
    verdict: str
    size_pt: float
    blocks: tuple[Block | Beside | Turn, ...]


class Card(msgspec.Struct, frozen=True):
    """The sheets of one case, each begun on a new page."""

    title: str
    on: date
    language: Language
    paper: str
    marking: str
    foot: str
    sheets: tuple[Sheet, ...]
