"""Which of an answer's questions can be answered where somebody is: on the phone, at the vehicle, at the bench."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Literal, TypeAlias, get_args

from mendgauge_client.models import ToEstablish

Where: TypeAlias = Literal["phone", "vehicle", "bench"]
"""On the phone with a driver or an owner, at the tyre on its rim, or at the tyre off its rim."""

PLACES: tuple[Where, ...] = get_args(Where)


def questions_at(where: Where, questions: Iterable[ToEstablish]) -> list[ToEstablish]:
    """Return the questions that can be answered somewhere, what to ask first at the head.

    By phone nobody is asked what shows, or is looked up, once the tyre is in the workshop. With the tyre off its rim
    all can be answered, and what it shows inside and out settles the most.
    """
    every = list(questions)
    if where == "phone":
        return [one for one in every if one.asked_at in ("record", "phone") and not one.waits]
    on_rim = [one for one in every if one.asked_at in ("record", "phone", "vehicle")]
    return on_rim if where == "vehicle" else [*(one for one in every if one not in on_rim), *on_rim]
