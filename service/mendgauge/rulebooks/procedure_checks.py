"""Whether a procedure holds together: what it names is there, what is there is used, and every step has its time."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Collection, Iterable, Iterator
from itertools import combinations
from typing import Final, get_args

from mendgauge.core.vocabulary import HeatCuredFill
from mendgauge.rulebooks.provision import Basis, Sourced
from mendgauge.rulebooks.schema.procedure import (
    ALL_CLASSES,
    CIRCUMSTANCES,
    BookFigureRule,
    ByCircumstance,
    CaseFigureRule,
    ExtraTime,
    OfInjury,
    ParameterRule,
    Procedure,
    Said,
    StepRule,
    StepTimes,
)
from mendgauge.tyre.tyre_class import TyreClass

_PLACE: Final = re.compile(r"{(\w+)}")
_OF_INJURY: Final = frozenset(get_args(OfInjury))


def flaws(procedure: Procedure) -> Iterator[str]:
    """Everything that is wrong with a procedure, each as a sentence that names the place."""
    yield from _source_flaws(procedure)
    yield from _circumstance_flaws(procedure)
    yield from _name_flaws(procedure)
    for rule in procedure.parameters:
        yield from _parameter_flaws(rule)
    yield from _text_flaws(procedure)
    yield from _time_flaws(procedure)
    yield from _completeness_flaws(procedure)


def sourced(procedure: Procedure) -> Iterator[tuple[str, Sourced]]:
    """Yield every entry that names a source, with its heading."""
    for heading in procedure.__struct_fields__:
        entries = getattr(procedure, heading)
        if isinstance(entries, tuple):
            yield from ((heading, entry) for entry in entries if isinstance(entry, Sourced))


def _source_flaws(procedure: Procedure) -> Iterator[str]:
    lines = [said for step in procedure.steps for _, said in texts(step, procedure)]
    rests_on: list[tuple[str, str, Basis]] = [
        *((heading, entry.source, entry.basis) for heading, entry in sourced(procedure)),
        *(("steps", said.source, said.basis) for said in lines if said.source is not None and said.basis is not None),
    ]
    used = {source for _, source, _ in rests_on}
    if missing := sorted(used - procedure.sources.keys()):
        yield f"[sources] does not name {', '.join(missing)}."
    if unused := sorted(procedure.sources.keys() - used):
        yield f"nothing rests on the source {', '.join(unused)}."
    for heading, key, basis in rests_on:
        if basis == "house_rule":
            yield f"[[{heading}]]: house_rule is a caller's basis, not a book's."
        elif basis == "published" and key in procedure.sources:
            source = procedure.sources[key]
            if source.seen_in is not None:
                yield f"[[{heading}]]: {key} was seen in {source.seen_in}: that is published_summary."


def _circumstance_flaws(procedure: Procedure) -> Iterator[str]:
    used = _circumstances(procedure)
    if missing := [name for name in CIRCUMSTANCES if name in used and name not in procedure.when]:
        yield f"[when] does not say what {', '.join(missing)} means."
    for step in procedure.steps:
        hangs_on = {name for _, said in texts(step, procedure) for name in said.when} | {*step.when}
        if not step.per_injury and (of_injury := sorted(hangs_on & _OF_INJURY)):
            yield f"step {step.code}: {', '.join(of_injury)} is of one injury; the step must be per_injury."


def _circumstances(procedure: Procedure) -> set[str]:
    """Return every circumstance that something in a procedure hangs on."""
    entries = [*_figures(procedure), *procedure.extra_times, *procedure.consumables, *procedure.steps]
    said = (said for step in procedure.steps for _, said in texts(step, procedure))
    return {name for entry in (*entries, *said) for name in entry.when}


def _name_flaws(procedure: Procedure) -> Iterator[str]:
    codes = [step.code for step in procedure.steps]
    yield from _twice("step", codes)
    yield from _twice("caution", [caution.code for caution in procedure.cautions])
    yield from _twice("consumable", [consumable.code for consumable in procedure.consumables])
    named = {code for step in procedure.steps for code in step.cautions}
    yield from _unknown("caution", named, {caution.code for caution in procedure.cautions})
    if unused := sorted({caution.code for caution in procedure.cautions} - named):
        yield f"no step has the caution {', '.join(unused)}."
    figures = _figures(procedure)
    yield from _unknown("step", {code for figure in figures for code in figure.steps}, codes)
    yield from _unknown("step", {extra.step for extra in procedure.extra_times}, codes)
    yield from _unknown("step", {code for times in procedure.times for code in times.likely_minutes}, codes)
    for one, other in combinations(figures, 2):
        if one.name == other.name and set(one.steps) & set(other.steps) and _meet(one, other):
            yield f"step {one.steps[0]}: two figures are called {one.name}."


def _meet(one: ParameterRule | BookFigureRule | CaseFigureRule, other: object) -> bool:
    if isinstance(one, ByCircumstance) and isinstance(other, ByCircumstance):
        return bool(set(one.classes) & set(other.classes)) and one.when == other.when
    return True


def _figures(procedure: Procedure) -> list[ParameterRule | BookFigureRule | CaseFigureRule]:
    return [*procedure.case_figures, *procedure.book_figures, *procedure.parameters]


def _twice(what: str, codes: Iterable[str]) -> Iterator[str]:
    for code, number in Counter(codes).items():
        if number > 1:
            yield f"the {what} {code} stands there {number} times."


def _unknown(what: str, named: Collection[str], known: Collection[str]) -> Iterator[str]:
    if unknown := sorted(set(named) - set(known)):
        yield f"there is no {what} {', '.join(unknown)}."


def _parameter_flaws(rule: ParameterRule) -> Iterator[str]:
    place = f"parameter {rule.name} of {rule.steps[0]}"
    if (rule.words is None) == (rule.low is None and rule.high is None):
        yield f"{place}: it is a number (`low`, `high`) or `words`, one of the two."
    if rule.low is not None and rule.high is not None and rule.low > rule.high:
        yield f"{place}: low is {rule.low:g} and high is {rule.high:g}."


def texts(step: StepRule, procedure: Procedure) -> Iterator[tuple[str, Said]]:
    """Yield every text of a step with its heading; one that always holds has no conditions."""
    for heading, entries in (("do", step.do), ("tools", step.tools)):
        for entry in entries:
            yield heading, entry if isinstance(entry, Said) else Said(says=entry)
    if step.hold is not None:
        for says in (step.hold.checks, step.hold.right, step.hold.if_not):
            yield "hold", Said(says=says)
    for caution in procedure.cautions:
        if caution.code in step.cautions:
            yield "cautions", Said(says=caution.says, classes=caution.classes, when=caution.when)


def _text_flaws(procedure: Procedure) -> Iterator[str]:
    """Refuse a `{name}` in a text that is not a parameter of the step for every class of tyre that reads the text.

    A caution quotes the procedure's own alone, as it is the same under every book.
    """
    for step in procedure.steps:
        own: dict[str, set[TyreClass]] = {}
        for rule in procedure.parameters:
            if step.code in rule.steps:
                own.setdefault(rule.name, set()).update(rule.classes)
        there = own | {rule.name: {*ALL_CLASSES} for rule in procedure.book_figures if step.code in rule.steps}
        for heading, said in texts(step, procedure):
            quotable = own if heading == "cautions" else there
            for name in _PLACE.findall(said.says):
                if lacking := sorted((set(said.classes) & set(step.classes)) - quotable.get(name, set())):
                    yield f"step {step.code}, {heading}: it has no parameter {name} for {', '.join(lacking)}."


def _time_flaws(procedure: Procedure) -> Iterator[str]:
    yield from _twice("time of class", [of for times in procedure.times for of in times.classes])
    yield from _twice("time", [extra.code for extra in procedure.extra_times])
    for extra in procedure.extra_times:
        yield from _extra_flaws(extra)
    usual = {(code, of) for times in procedure.times for code in times.likely_minutes for of in times.classes}
    own = {(extra.code, of) for extra in procedure.extra_times for of in extra.classes}
    for code, of in sorted(usual & own):
        yield f"step {code} has two times for {of}."
    for step in procedure.steps:
        for of in step.classes:
            if (step.code, of) not in usual | own:
                yield f"step {step.code} has no time for {of}."
    for times in procedure.times:
        yield from _sum_flaws(procedure, times)


def _sum_flaws(procedure: Procedure, times: StepTimes) -> Iterator[str]:
    """Refuse steps of a straight repair that do not come to what it takes in all."""
    always = {step.code for step in procedure.steps if not step.when and step.part != "leak_search"}
    on_vehicle = {step.code for step in procedure.steps if "on_vehicle" in step.when}
    in_all = sum(times.likely_minutes.values()) + sum(
        extra.likely_minutes or 0.0 for extra in procedure.extra_times if extra.step in always and not extra.when
    )
    loose = in_all - sum(minutes for code, minutes in times.likely_minutes.items() if code in on_vehicle)
    for said, found, what in (
        (times.on_vehicle_minutes, in_all, "on_vehicle_minutes"),
        (times.loose_minutes, loose, "loose_minutes"),
    ):
        if said is not None and said != found:
            yield f"[[times]] of {', '.join(times.classes)}: {what} is {said:g}, its steps come to {found:g}."


def _extra_flaws(extra: ExtraTime) -> Iterator[str]:
    given = (extra.low_minutes, extra.likely_minutes, extra.high_minutes)
    ends = [value for value in given if value is not None]
    if extra.case is None and len(ends) < len(given):
        yield f"time {extra.code}: it needs low_minutes, likely_minutes and high_minutes."
    elif extra.case is not None and ends:
        yield f"time {extra.code}: it is reckoned from the case and has no minutes of its own."
    elif ends != sorted(ends):
        yield f"time {extra.code}: its minutes must not fall from low to likely to high."


def _completeness_flaws(procedure: Procedure) -> Iterator[str]:
    for of in ALL_CLASSES:
        for surface in ("channel", "liner"):
            if sum(coats.surface == surface and of in coats.classes for coats in procedure.coats) != 1:
                yield f"[[coats]] must say once how often the {surface} of {of} is coated."
        for fill in get_args(HeatCuredFill):
            if sum(cure.fill == fill and of in cure.classes for cure in procedure.heat_cure) != 1:
                yield f"[[heat_cure]] must say once how long {fill} cures for {of}."
    for heading in ("spread", "drying", "run_low"):
        (entry,) = getattr(procedure, heading)
        if set(entry.classes) != set(ALL_CLASSES):
            yield f"[[{heading}]] must hold for every class."
