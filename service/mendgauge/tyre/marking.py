"""Reading a size marking: `205/55R16 91V` and every other form a road tyre carries.

A marking is a size, then words behind it: suffix, load range, ply rating, service description, tags. The size is met by
one pattern a form (`_FORMS`), the words are taken one at a time (`_WORD`). What most road tyres carry is read in one
match instead (`_COMMON`), to the same marking. What cannot be read is refused with a code, with what was wrong and,
where that is clear, with what would be right; what reads but looks odd carries a warning.

>>> marking = read_marking("205/55 r 16  91v extra load")
>>> marking.text, marking.width_mm, marking.li_single, marking.speed, marking.tags
('205/55R16 91V XL', 205, 91, 'V', ('XL',))
>>> read_marking("315/80R22.5 156/150L (154/150M)").extra_service
(ServiceDescription(li_single=154, li_dual=150, speed='M'),)
>>> try:
...     read_marking("205 55 16 91v")
... except MarkingError as error:
...     error.code, error.suggestion
('ambiguous_separators', '205/55R16 91V')
"""

from __future__ import annotations

import re
import unicodedata
from typing import Any, Final, TypeVar

import msgspec

from mendgauge.tyre.misspelt import refuse_misspelt
from mendgauge.tyre.oddities import oddities
from mendgauge.tyre.tables import LOAD_INDEX, LOAD_RANGE, RIM_CODE, SPEED_SYMBOL
from mendgauge.tyre.tokens import (
    RUN_FLAT,
    TAGS,
    Form,
    Marking,
    MarkingError,
    MarkingWarning,
    ServiceDescription,
    Structure,
)

__all__ = ["LONGEST", "Marking", "MarkingError", "MarkingWarning", "ServiceDescription", "read_marking"]

LONGEST: Final = 80
"""The most signs a marking may have."""

_NUMBER = r"\d{1,2}(?:\.\d{1,2})?"
_PREFIX = r"(?:(?P<prefix>P|LT|ST|HL|VF|IF|T) ?)?"
_BUILD_AND_RIM = (
    r" ?(?P<build>-? ?(?P<in_size>[ZPQSTUHVW])? ?(?P<cords>[RB]F?|D)? ?-?) ?(?P<rim>\d{1,4}(?:\.\d{1,2})?)?"
)
_FORMS: Final[tuple[tuple[Form, re.Pattern[str]], ...]] = (
    ("metric", re.compile(rf"{_PREFIX}(?P<width>\d{{2,4}}) ?/ ?(?P<aspect>\d{{2,3}})(?!\d){_BUILD_AND_RIM}")),
    ("flotation", re.compile(rf"(?P<overall>{_NUMBER}) ?X ?(?P<width>{_NUMBER})(?![\d.]){_BUILD_AND_RIM}")),
    ("inch", re.compile(rf"{_PREFIX}(?P<width>\d{{1,2}} [1-7]/[2-8]|{_NUMBER})(?![\d.]){_BUILD_AND_RIM}")),
    ("metric_no_aspect", re.compile(rf"{_PREFIX}(?P<width>\d{{3}})(?!\d){_BUILD_AND_RIM}")),
    ("alpha_mc", re.compile(rf"(?P<prefix>M[A-Z]) ?(?P<aspect>\d{{2,3}})(?!\d){_BUILD_AND_RIM}")),
    ("alpha", re.compile(rf"(?P<prefix>[A-HJLMN])(?P<radial>R)? ?(?P<aspect>\d{{2}})(?!\d){_BUILD_AND_RIM}")),
)

_WORD: Final = re.compile(
    r" ?(?:"
    r"(?P<ply>(?P<plies>\d{1,2}) ?(?:PR|PLY))"
    r"|(?P<service>(?P<bracket>\()? ?(?P<single>\d{1,4})(?: ?/ ?(?P<dual>\d{1,4}))? ?(?P<symbol>[A-Z]\d?)? ?\)?)"
    rf"|(?P<tag>{'|'.join(re.escape(tag) for tag in sorted(TAGS, key=len, reverse=True))})"
    r"|(?P<range>(?:LR|LOAD RANGE) ?(?P<range_letter>[A-Z]))"
    r"|(?P<suffix>CP|LT|ST|M/?C)"
    r"|(?P<letter>[A-Z])"
    r"|(?P<unread>[^\d ()][^ ()]*)"
    r")(?=[ (]|$)"
)

# Its values are those that `_FORMS` and `_WORD` take, as far as the tables of indices and symbols have them.
_COMMON: Final = re.compile(
    r"(?P<width>[1-9]\d\d)/(?P<aspect>[2-9]\d)(?P<zr>Z?)R(?P<rim>[1-4]\d(?:\.5)?)(?P<commercial>C?)"
    r"(?: (?P<single>\d{2,3})(?:/(?P<dual>\d{2,3}))?(?P<speed>[A-Z]))?(?P<extra_load> XL)?"
)

_DECIMAL_COMMA: Final = re.compile(r"(?<=\d),(?=\d)")
_BRACKETS_CLOSED: Final = re.compile(r"[^()]*(?:\([^()]*\)[^()]*)*")

_PLAIN: Final = str.maketrans(
    {
        **dict.fromkeys("\u2010\u2011\u2012\u2013\u2014\u2212", "-"),
        **dict.fromkeys("\u200b\u200d\u2060\ufeff", ""),
        "×": "x",
        "¼": " 1/4",
        "½": " 1/2",
        "¾": " 3/4",
    }
)

# Bounds of sense, not of law: wide enough for any road or field tyre, narrow enough to catch a slip of the finger.
_SENSE: Final = {"width_mm": (50, 1500), "width_in": (1, 35), "overall_in": (10, 60), "aspect": (20, 110)}
_RIM_IN: Final = (4, 54)
_RIM_MM: Final = tuple(code for code in RIM_CODE if code >= 100)

_ROAD_SYMBOLS: Final = tuple(symbol for symbol in SPEED_SYMBOL if len(symbol) == 1 and symbol not in "BCDE")


def read_marking(text: str) -> Marking:
    """Return the marking that `text` spells, of up to 80 signs. Case and spacing are free; a decimal comma is a point.

    Raise `MarkingError` where it does not read.
    """
    try:
        return _read(text)
    except MarkingError as error:
        if error.suggestion is None:
            raise
        refused = error
    raise MarkingError(refused.code, refused.detail, _spelt_right(refused.suggestion))


def _spelt_right(guess: str | None) -> str | None:
    """Return a guess in its plain spelling, if it reads at all."""
    try:
        return guess and _read(guess).text
    except MarkingError:
        return None


def _read(text: str) -> Marking:
    """Return what `read_marking` does; what a refusal suggests is only a guess, which may not read."""
    plain = _plain(text)
    common = _common(plain)
    if common is not None:
        return common
    refuse_misspelt(plain)
    if "," in plain:
        plain = " ".join(_DECIMAL_COMMA.sub(".", plain).replace(",", " ").split())
    if not _BRACKETS_CLOSED.fullmatch(plain):
        raise MarkingError("brackets", "a bracket is opened but not closed, or closed but not opened")
    for form, pattern in _FORMS:
        if size := pattern.match(plain):
            return _marking(form, size, plain[size.end() :])
    detail = f"'{plain}' does not begin with a size such as 205/55R16, 7.50R16 or 31x10.50R15"
    raise MarkingError("unreadable", detail)


def _refuse_too_long(text: str) -> None:
    if len(text) > LONGEST:
        raise MarkingError("too_long", f"a marking has at most {LONGEST} signs, this has {len(text)}")


def _plain(text: str) -> str:
    """Return a text in upper case with single spaces. Raise `MarkingError` where it is not ASCII alone."""
    _refuse_too_long(text)
    plain = " ".join((text if text.isascii() else text.translate(_PLAIN)).split())
    if not plain:
        raise MarkingError("empty", "the marking is empty: write it as moulded, such as 205/55R16 91V")
    if not plain.isascii():
        foreign = next(sign for sign in plain if not sign.isascii())
        code, kind = ("non_ascii_digits", "figure") if foreign.isnumeric() else ("non_ascii_sign", "sign")
        detail = (
            f"the {kind} '{foreign}' at place {plain.index(foreign) + 1} is not one a marking has: write 0-9 and A-Z"
        )
        raise MarkingError(code, detail, unicodedata.normalize("NFKC", plain))
    return plain.upper()


def _common(plain: str) -> Marking | None:
    """Return a marking of the common form; `None` for any other, and where an index or symbol has to be refused."""
    match = _COMMON.fullmatch(plain)
    if match is None:
        return None
    width, aspect, zr, rim, commercial, single, dual, speed, extra_load = match.groups()
    li_single, li_dual = int(single) if single else None, int(dual) if dual else None
    if li_single is not None and (max(li_single, li_dual or 0) not in LOAD_INDEX or speed not in SPEED_SYMBOL):
        return None
    marking = Marking(
        text=plain,
        form="metric",
        width_mm=int(width),
        aspect=int(aspect),
        structure="R",
        zr=zr == "Z",
        rim_code=float(rim),
        suffix=("C",) if commercial else (),
        li_single=li_single,
        li_dual=li_dual,
        speed=speed,
        tags=("XL",) if extra_load else (),
    )
    return _warned(marking)


def _warned(marking: Marking) -> Marking:
    """Return a marking with a warning of each oddity."""
    odd = tuple(oddities(marking))
    return msgspec.structs.replace(marking, warnings=(*marking.warnings, *odd)) if odd else marking


def _marking(form: Form, size: re.Match[str], behind: str) -> Marking:
    """Return the marking of a size as matched and the words behind it."""
    part: dict[str, Any] = {
        "prefix": None,
        "width": None,
        "overall": None,
        "aspect": None,
        "radial": None,
        **size.groupdict(),
    }
    rim_code = _rim_code(size)
    cords, in_size, width = part["cords"] or "", part["in_size"], part["width"]
    if in_size == "Z" and not cords.startswith("R"):
        raise MarkingError("unreadable", f"'{size[0]}': Z in a size stands before R, as in 205/55ZR16")
    in_inches = form in ("inch", "flotation")
    words = _Words(light_truck=part["prefix"] == "LT")
    words.read(behind)
    service = words.service
    marking = Marking(
        text=_size_text(form, size) + words.text(),
        form=form,
        prefix=part["prefix"],
        width_mm=int(width) if width and not in_inches else None,
        width_in=_inches(width) if width and in_inches else None,
        overall_in=float(part["overall"]) if part["overall"] else None,
        aspect=int(part["aspect"]) if part["aspect"] else None,
        structure=_structure(part),
        zr=in_size == "Z",
        speed_in_size=None if in_size == "Z" else in_size,
        run_flat=cords.endswith("F") or RUN_FLAT in words.tags,
        rim_code=rim_code,
        rim_is_mm=rim_code >= _RIM_MM[0],
        suffix=tuple(words.suffix),
        load_range=words.load_range,
        ply_rating=words.ply_rating,
        li_single=service.li_single if service else None,
        li_dual=service.li_dual if service else None,
        speed=service.speed if service else None,
        bracketed=words.bracketed,
        extra_service=tuple(words.extra_service),
        tags=tuple(words.tags),
        unread=tuple(words.unread),
        warnings=tuple(words.warnings),
    )
    _refuse_too_long(marking.text)  # spelt out, a word may be longer than it was typed
    for name, (low, high) in _SENSE.items():
        value = getattr(marking, name)
        if value is not None and not low <= value <= high:
            detail = f"'{size[0]}' would have {name} {value:g}; in a tyre size it is {low} to {high}"
            raise MarkingError("size_implausible", detail)
    return _warned(marking)


def _rim_code(size: re.Match[str]) -> float:
    if size["rim"] is None:
        detail = f"no rim code stands behind '{size[0].strip()}': it follows R, - or B, as in R16"
        raise MarkingError("rim_missing", detail)
    if not size["build"].strip() and size.re is not _FORMS[0][1]:
        detail = f"the width and the rim code in '{size[0]}' need R, - or B between them"
        raise MarkingError("ambiguous_separators", detail)
    code = float(size["rim"])
    if _is_rim_code(code):
        return code
    low, high = _RIM_IN
    detail = (
        f"{size['rim']} is no rim code: in inches it is {low} to {high}, whole or half, and in mm one of "
        f"{', '.join(f'{mm:g}' for mm in _RIM_MM)}"
    )
    turned, (before, behind) = size["rim"][::-1], (size.string[: size.start("rim")], size.string[size.end("rim") :])
    if turned.isdigit() and _is_rim_code(float(turned)) and not behind[:1].isalpha():
        raise MarkingError("rim_implausible", detail, f"{before}{turned}{behind}")
    raise MarkingError("rim_implausible", f"{detail}; is it left out, or run into the load index?")


def _is_rim_code(code: float) -> bool:
    low, high = _RIM_IN
    return code in RIM_CODE or (low <= code <= high and code % 0.5 == 0)


def _inches(width: str) -> float:
    """Return a width such as 7.50 or 2 1/4."""
    whole, _, vulgar = width.partition(" ")
    over, _, under = vulgar.partition("/")
    return float(whole) + (int(over) / int(under) if vulgar else 0.0)


def _structure(part: dict[str, Any]) -> Structure | None:
    if part["cords"] or part["radial"]:
        letter: Structure = part["cords"][0] if part["cords"] else "R"
        return letter
    return "D" if "-" in part["build"] else None


def _size_text(form: Form, size: re.Match[str]) -> str:
    """Return the size in its plain spelling."""
    head = size[0][: size.start("build")].strip()
    head, fraction = (head[:-4], head[-4:]) if form == "inch" and "/" in head else (head, "")
    head = head.replace(" ", "") + fraction
    letters = (size["in_size"] or "") + (size["cords"] or "")
    hyphen = "-" if "-" in size["build"] and not size["cords"] else ""
    return (head.replace("X", "x") if form == "flotation" else head) + (hyphen + letters or " ") + size["rim"]


_T = TypeVar("_T")


def _once(what: str, before: _T | None, now: _T) -> _T:
    """Return a word that may be said once, or again the same."""
    if before is not None and before != now:
        raise MarkingError("said_twice", f"the marking has two {what}s, {before} and {now}: leave one")
    return now


class _Words:
    """What stands behind a size, gathered word by word. Each word hands back its plain spelling."""

    def __init__(self, *, light_truck: bool) -> None:
        self.light_truck = light_truck
        self.suffix: list[str] = []
        self.load_range: str | None = None
        self.ply_rating: int | None = None
        self.service: ServiceDescription | None = None
        self.bracketed = False
        self.extra_service: list[ServiceDescription] = []
        self.tags: list[str] = []
        self.unread: list[str] = []
        self.warnings: list[MarkingWarning] = []
        self.spelt: list[str] = []

    def read(self, text: str) -> None:
        at = 0
        while at < len(text):
            word = _WORD.match(text, at)
            if word is None or word.lastgroup is None:
                raise self._refusal(text[at:].strip())
            self.spelt.append(getattr(self, f"_{word.lastgroup}")(word))
            at = word.end()

    def text(self) -> str:
        """Return the words in their plain spelling; a suffix stands hard against the size, M/C does not."""
        if not self.spelt:
            return ""
        hard = self.suffix and self.spelt[0] == self.suffix[0] != "M/C"
        return ("" if hard else " ") + " ".join(self.spelt)

    @staticmethod
    def _refusal(rest: str) -> MarkingError:
        if rest.startswith(("(", ")")):
            return MarkingError("brackets", f"'{rest}': brackets hold a service description, as in (97Y) or (154/150M)")
        detail = f"'{rest.split()[0]}' is not part of a marking: after the size come words such as 91V, 8PR, LRE or XL"
        return MarkingError("word_unreadable", detail)

    def _warn(self, code: str, says: str) -> None:
        if all(warning.code != code or warning.says != says for warning in self.warnings):
            self.warnings.append(MarkingWarning(code, says))

    def _ply(self, word: re.Match[str]) -> str:
        self.ply_rating = _once("ply rating", self.ply_rating, int(word["plies"]))
        return f"{self.ply_rating}PR"

    def _service(self, word: re.Match[str]) -> str:
        if bool(word["bracket"]) != word[0].endswith(")"):
            raise self._refusal(word[0].strip())
        single, dual, symbol = int(word["single"]), int(word["dual"]) if word["dual"] else None, word["symbol"]
        if max(single, dual or 0) not in LOAD_INDEX:
            raise MarkingError(
                "load_index_range", f"no load index in '{word[0].strip()}': they are 0 to {max(LOAD_INDEX)}"
            )
        if symbol is not None and symbol not in SPEED_SYMBOL:
            detail = f"{symbol} is no speed symbol: they are A1 to A8, B to E and {', '.join(_ROAD_SYMBOLS)}"
            raise MarkingError("speed_symbol_unknown", detail)
        said = ServiceDescription(single, dual, symbol)
        spelt = f"{single}" + (f"/{dual}" if word["dual"] else "") + (symbol or "")
        if self.service is None:
            self.service, self.bracketed = said, bool(word["bracket"])
        elif word["bracket"]:
            self.extra_service.append(said)
        else:
            detail = f"'{spelt}' is a second service description: the first stands free, an additional one in brackets"
            raise MarkingError("said_twice", detail)
        return f"({spelt})" if word["bracket"] else spelt

    def _tag(self, word: re.Match[str]) -> str:
        tag = TAGS[word["tag"]]
        if tag not in self.tags:
            self.tags.append(tag)
        if word["tag"] != "RF":
            return tag
        self._warn("rf_ambiguous", "RF after the size is read as reinforced. A run-flat tyre has RF in place of R.")
        return "RF"

    def _range(self, word: re.Match[str]) -> str:
        letter = word["range_letter"]
        if letter not in LOAD_RANGE:
            detail = f"{letter} is no load range: they are {', '.join(LOAD_RANGE)}"
            raise MarkingError("load_range_unknown", detail)
        self.load_range = _once("load range", self.load_range, letter)
        return f"LR{letter}"

    def _suffix(self, word: re.Match[str]) -> str:
        suffix = "M/C" if word["suffix"] == "MC" else word["suffix"]
        self.light_truck |= suffix == "LT"
        self.suffix.append(suffix)
        return suffix

    def _letter(self, word: re.Match[str]) -> str:
        letter = word["letter"]
        if letter == "C" and self.service is None and not self.light_truck:
            self.suffix.append("C")
            return "C"
        if letter not in LOAD_RANGE:
            detail = (
                f"{letter} alone is read as a load range, and those are {', '.join(LOAD_RANGE)}; "
                "a speed symbol stands behind its load index, as in 91V"
            )
            raise MarkingError("load_range_unknown", detail)
        self.load_range = _once("load range", self.load_range, letter)
        if letter != "C":
            return f"LR{letter}"
        self._warn("trailing_c_is_load_range", "This C is read as load range C, not as the C of a commercial tyre.")
        return "C"

    def _unread(self, word: re.Match[str]) -> str:
        spelt: str = word["unread"]
        self.unread.append(spelt)
        self._warn("word_not_read", f"'{spelt}' is not known as part of a marking, and was left unread.")
        return spelt
