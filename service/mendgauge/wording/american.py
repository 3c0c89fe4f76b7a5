"""British texts in the words of an American tire shop: spelling, nouns and phrases, then the quantities."""

from __future__ import annotations

import re
from functools import lru_cache
from typing import Final

from mendgauge.wording.quantities import american_quantities

_PHRASES: Final = {
    "all round": "all the way around",
    "are fitted": "are installed",
    "as fitted": "as installed",
    "call-out": "service call",
    "fit a": "install a",
    "fit the": "install the",
    "fit tyres": "install tires",
    "goes round": "goes around",
    "have the motorcycle recovered": "have the motorcycle towed",
    "have the vehicle recovered": "have the vehicle towed",
    "is fitted": "is installed",
    "maximum permitted mass": "gross vehicle weight rating (GVWR)",
    "number plate": "license plate",
    "once round": "once around",
    "pumped up": "aired up",
    "permitted load": "gross axle weight rating (GAWR)",
    "registration document": "registration",
    "round it": "around it",
    "round the": "around the",
    "straight rule": "straightedge",
    "tyre workshop": "tire shop",
    "tyre, fitted": "tire, installed",
    "wheel nut": "lug nut",
    "wheel nut wrench": "lug wrench",
    "wheel nuts": "lug nuts",
}
_WORDS: Final = {
    "ageing": "aging",
    "aluminium": "aluminum",
    "authorise": "authorize",
    "authorised": "authorized",
    "behaviour": "behavior",
    "calliper": "caliper",
    "callipers": "calipers",
    "carcass": "casing",
    "carcasses": "casings",
    "catalogue": "catalog",
    "centimetre": "centimeter",
    "centimetres": "centimeters",
    "centre": "center",
    "centred": "centered",
    "centres": "centers",
    "colour": "color",
    "coloured": "colored",
    "colours": "colors",
    "fibre": "fiber",
    "fibres": "fibers",
    "grey": "gray",
    "judgement": "judgment",
    "kerb": "curb",
    "kerbs": "curbs",
    "kilometre": "kilometer",
    "kilometres": "kilometers",
    "labelled": "labeled",
    "labour": "labor",
    "levelled": "leveled",
    "licence": "license",
    "litre": "liter",
    "litres": "liters",
    "lorries": "trucks",
    "lorry": "truck",
    "metre": "meter",
    "metres": "meters",
    "millimetre": "millimeter",
    "millimetres": "millimeters",
    "motorway": "highway",
    "motorways": "highways",
    "mould": "mold",
    "moulded": "molded",
    "moulds": "molds",
    "neighbour": "neighbor",
    "neighbouring": "neighboring",
    "neighbours": "neighbors",
    "odour": "odor",
    "petrol": "gasoline",
    "programme": "program",
    "recognise": "recognize",
    "recognised": "recognized",
    "relearnt": "relearned",
    "renew": "replace",
    "renewed": "replaced",
    "spanner": "wrench",
    "spanners": "wrenches",
    "towards": "toward",
    "travelled": "traveled",
    "travelling": "traveling",
    "tyre": "tire",
    "tyres": "tires",
    "vapour": "vapor",
    "vapours": "vapors",
    "vulcanise": "vulcanize",
    "vulcanised": "vulcanized",
    "whilst": "while",
    "windscreen": "windshield",
}
_TABLE: Final = {**_WORDS, **_PHRASES}
# The longest first, so that a phrase goes before the words in it. Names with underscores are codes, and stay.
_KNOWN: Final = re.compile(
    rf"(?<![\w`/])(?:{'|'.join(map(re.escape, sorted(_TABLE, key=len, reverse=True)))})(?![\w`])", re.IGNORECASE
)


@lru_cache(maxsize=4096)
def american(text: str) -> str:
    """Return a British text as an American shop would say it; what is American already stays as it is.

    >>> american("Fit a spare tyre: the wheel nuts are 19 mm.")
    'Install a spare tire: the lug nuts are 3/4 in (19 mm).'
    """
    return american_quantities(_KNOWN.sub(_in_american, text))


def _in_american(found: re.Match[str]) -> str:
    word = found.group()
    other = _TABLE[word.lower()]
    return other[0].upper() + other[1:] if word[0].isupper() else other
