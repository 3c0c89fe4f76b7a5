"""The driver's slip: what holds after the repair and what to look at again, to read and sign."""

from __future__ import annotations

from collections.abc import Iterator

from mendgauge.operations.job_cards.blocks import Block, Fields, Notes
from mendgauge.operations.job_cards.facts import tyre_facts
from mendgauge.operations.service_limits.answer import FollowUpDue
from mendgauge.operations.service_limits.limits import limits_of
from mendgauge.operations.workup import Workup
from mendgauge.wording import day_in_words


def driver_blocks(workup: Workup) -> Iterator[Block]:
    """Yield what stands on the driver's slip."""
    words, limits = workup.bound.words.cards, limits_of(workup)
    yield Notes("", (words.says["driver"],))
    yield tyre_facts(workup)
    ceilings = tuple(one.says for one in limits.speed.ceilings)
    yield Notes(words.headings["limits"], (limits.speed.says, *ceilings, limits.load.says, limits.position.says))
    if to_driver := tuple(one.long for one in limits.caveats if "driver" in one.to):
        yield Notes(words.headings["caveats"], to_driver)
    yield follow_ups(workup)
    yield Notes("", (words.says["confirm"],))
    yield Fields("", tuple(words.fields[name] for name in ("name", "date", "driver")))


def follow_ups(workup: Workup) -> Notes:
    """Return what is to be looked at again, with the day where one is known."""
    words = workup.bound.words.cards
    return Notes(words.headings["follow_ups"], tuple(_follow_up(one, workup) for one in limits_of(workup).follow_ups))


def _follow_up(due: FollowUpDue, workup: Workup) -> str:
    if due.due_on is None:
        return due.says
    words = workup.bound.words
    return words.cards.due_on.format(what=due.says, day=day_in_words(due.due_on, words.language))
