"""What differs between two editions of a rulebook, entry by entry."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from typing import Final, Literal, TypeAlias

import msgspec

from mendgauge.api.docs.rulebook_words import PARTS, Entry, entry
from mendgauge.operations.rulebooks.answer import Rulebook, RulebookProvision
from mendgauge.wording.rulebook_pages import RulebookPageWords, rulebook_page_words

Kind: TypeAlias = Literal["added", "removed", "changed"]

_SAID: Final = {"says": ("values",), "known": ("basis", "source", "clause", "note")}
"""What of an entry can change, by the column it stands in; for whom and when it holds says which entry it is."""


class Change(msgspec.Struct, frozen=True):
    """An entry that is in one edition alone, or says something else in the other; `changed` names the columns."""

    kind: Kind
    before: Entry | None
    after: Entry | None
    changed: tuple[str, ...] = ()


class Differing(msgspec.Struct, frozen=True):
    """The changes under a heading."""

    title: str
    changes: tuple[Change, ...]


def differences(before: Rulebook, after: Rulebook) -> dict[str, tuple[Differing, ...]]:
    """Return what differs, by the parts of a rulebook; a part without a difference is left out."""
    words = rulebook_page_words(after.language)
    found = {part: tuple(_differing(getattr(before, part), getattr(after, part), words)) for part in PARTS}
    return {part: changes for part, changes in found.items() if changes}


def _differing(
    before: Sequence[RulebookProvision], after: Sequence[RulebookProvision], words: RulebookPageWords
) -> list[Differing]:
    only_before, only_after = _missing(before, after), _missing(after, before)
    names = dict.fromkeys(provision.question for provision in (*after, *before))
    found = []
    for name in names:
        gone = [one for one in only_before if one.question == name]
        come = [one for one in only_after if one.question == name]
        if gone or come:
            found.append(Differing(words.headings[name], tuple(_changes(gone, come, words))))
    return found


def _missing(some: Sequence[RulebookProvision], others: Sequence[RulebookProvision]) -> list[RulebookProvision]:
    """Return the entries that are not among others, each as often as it is missing."""
    left = Counter(map(msgspec.json.encode, others))
    missing = []
    for provision in some:
        key = msgspec.json.encode(provision)
        if left[key]:
            left[key] -= 1
        else:
            missing.append(provision)
    return missing


def _changes(gone: list[RulebookProvision], come: list[RulebookProvision], words: RulebookPageWords) -> list[Change]:
    """Pair what is gone with what has come for the same tyres in the same case, and about the same thing."""
    changes, left = [], list(gone)
    for provision in come:
        old = next((one for one in left if _subject(one) == _subject(provision)), None)
        if old is None:
            changes.append(Change("added", None, entry(provision, words)))
            continue
        left.remove(old)
        was, now = entry(old, words), entry(provision, words)
        changed = tuple(
            column for column, parts in _SAID.items() if any(getattr(was, part) != getattr(now, part) for part in parts)
        )
        changes.append(Change("changed", was, now, changed))
    return changes + [Change("removed", entry(one, words), None) for one in left]


def _subject(provision: RulebookProvision) -> tuple[object, ...]:
    named = {value.name: value.text for value in provision.values if value.name in _NAMES}
    return (provision.question, provision.classes, provision.conditions, tuple(named.items()))


_NAMES: Final = frozenset(
    ("code", "name", "what", "condition", "tyre", "topic", "step", "dimension", "surface", "question", "when")
)
"""The values that say what an entry is about."""
