"""What is typed for a size and is none, with what it probably meant."""

from __future__ import annotations

import re
from typing import Final

from mendgauge.tyre.tokens import MarkingError

_RIM = r"(?:1\d|2[0-6])(?:\.5)?"
_BARE = "the figures lack the signs between them: width/aspect, then R, - or B, then the rim code"
_MISSPELT: Final[tuple[tuple[str, re.Pattern[str], str, str], ...]] = (
    (
        "ambiguous_separators",
        re.compile(rf"(\d{{3}})[ .,X-]?([2-9]\d)[ .,/-]? ?(?:Z?R)?[ -]?({_RIM})(?=[ CL]|$)"),
        r"\1/\2R\3",
        _BARE,
    ),
    ("ambiguous_separators", re.compile(rf"(\d{{3}})/([2-9]\d)[/.,]?({_RIM})(?=[ CL]|$)"), r"\1/\2R\3", _BARE),
    ("ambiguous_separators", re.compile(r"(\d\d),(\d{1,2}\.\d)"), r"\1x\2", "a comma stands where an x is due"),
    ("ambiguous_separators", re.compile(r"(\d{3}),(\d\d)"), r"\1/\2", "a comma stands where a / is due"),
    ("ambiguous_separators", re.compile(r"(\d{3}) ?/ ?(?=Z?R)"), r"\1", "a / is followed by no aspect ratio"),
    (
        "order",
        re.compile(rf"(Z?RF? ?{_RIM}C?) ((?:P|LT|ST|T)? ?\d{{3}}/\d\d)(?!\d)"),
        r"\2\1",
        "the rim code stands first: write width/aspect, then R and the rim code",
    ),
    (
        "order",
        re.compile(r"(\(?\d{2,3}(?:/\d{2,3})? ?[A-Z]\)?) ((?:P|LT|ST|T)? ?\d{3}/\d\d ?Z?R.*)"),
        r"\2 \1",
        "the service description stands first: write the size before it",
    ),
)
"""The code, the look, what it may have meant, what is wrong with it."""


def refuse_misspelt(plain: str) -> None:
    """Refuse a marking in its plain spelling that is known to be misspelt.

    Raises:
        MarkingError: It is, with what it may have meant: a guess, which need not read.
    """
    for code, look, meant, detail in _MISSPELT:
        if look.match(plain):
            raise MarkingError(code, detail, look.sub(meant, plain, count=1))
