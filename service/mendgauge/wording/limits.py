"""The shape of what the service limits say, in `limits.toml`."""

from __future__ import annotations

from typing import Annotated, Literal, TypeAlias

import msgspec
from msgspec import Meta

from mendgauge.rulebooks.provision import Basis

Reader: TypeAlias = Literal["counter", "driver", "job_file"]


class CaveatWords(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A caveat short and long, whom it is for, whether it must be acknowledged, and its own basis and source if any."""

    short: Annotated[str, Meta(max_length=60)]
    long: str
    to: tuple[Reader, ...]
    acknowledge: bool
    basis: Basis | None = None
    source: str = ""


class LimitWords(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """What is said of speed, load, position and upkeep after a repair; templates over figures."""

    first: dict[str, str]
    speed: dict[str, str]
    speed_words: dict[str, str]
    load_words: dict[str, str]
    limits: dict[str, str]
    load: dict[str, str]
    position: dict[str, str]
    follow_ups: dict[str, str]
    caveats: dict[str, CaveatWords]
