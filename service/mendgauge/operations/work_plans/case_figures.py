"""The figures of a step that are reckoned from the case: cutter, outline, unit, trim, climate, times."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from itertools import combinations
from typing import Final, TypeAlias

from mendgauge.answers.figure import Span, tidy
from mendgauge.core.interval import Interval
from mendgauge.operations.repair_units.answer import Chosen, InjuryUnit
from mendgauge.operations.repair_units.requirements import figures
from mendgauge.operations.stem_trim.answer import Cut
from mendgauge.operations.work_plans.answer import TimePart
from mendgauge.operations.work_plans.book_figures import Value, heat_cure
from mendgauge.operations.work_plans.job import Job, hull
from mendgauge.rulebooks.schema.procedure import CaseFigure, CaseFigureRule
from mendgauge.rulebooks.schema.repair import Spacing
from mendgauge.rules.binding import bind_rules
from mendgauge.rules.engine import may_apply
from mendgauge.rules.repair.earlier_repairs import SPACING

OfInjury: TypeAlias = Callable[[Job, CaseFigureRule, InjuryUnit], Iterable[Value]]

_DEGREES_TO: Final = 1


def case_figures(
    job: Job, rule: CaseFigureRule, injuries: Iterable[int], times: tuple[TimePart, ...]
) -> Iterable[Value]:
    """Return a figure for each of some injuries, or once for the tyre; nothing where the case does not give it.

    `times` are the step's own.
    """
    if rule.case == "dew_point":
        return _dew_point(job, rule)
    if rule.case == "drying_time":
        return (_drying_time(job, rule, times),)
    if rule.case == "object":
        return _objects(job, rule, injuries)
    if rule.case == "centres_apart":
        return _centres_apart(job, rule)
    of_injury = _OF_INJURY[rule.case]
    return [value for injury in injuries for value in of_injury(job, rule, job.channels[injury])]


def _dew_point(job: Job, rule: CaseFigureRule) -> Iterable[Value]:
    if not job.climate.air_known:
        return ()
    dew_point = job.climate.dew_point
    return (_value(job, rule, _to_tenth(dew_point.low), _to_tenth(dew_point.high), "°C"),)


def _objects(job: Job, rule: CaseFigureRule, injuries: Iterable[int]) -> Iterable[Value]:
    source = job.procedure.source(rule)
    reported = [(injury, job.facts.injuries[injury].given.object) for injury in injuries]
    return [Value(rule.basis, source, words=it, note=rule.note, injury=at) for at, it in reported if it is not None]


def _to_tenth(degrees: float) -> float:
    """Round a temperature to a tenth of a degree; never minus zero."""
    return round(degrees, _DEGREES_TO) + 0.0


def _drying_time(job: Job, rule: CaseFigureRule, times: tuple[TimePart, ...]) -> Value:
    """Return the time cement takes: one time as its own source gives it, more than one added up."""
    if len(times) == 1:
        (time,) = times
        return Value(time.basis, time.source, time.low, time.high, "min", note=time.note)
    low = sum(time.low for time in times if time.only_if is None)
    return _value(job, rule, low, sum(time.high for time in times), "min")


def cures(job: Job) -> dict[int, Interval]:
    """Return how long the fill of each injury's channel cures, minutes; empty where none is cured by heat."""
    return (
        {}
        if job.conditions.fill is None
        else {injury: _cure_minutes(job, unit) for injury, unit in job.channels.items()}
    )


def _cure_minutes(job: Job, unit: InjuryUnit) -> Interval:
    """Return how long the fill of a channel cures: by its length, over every class of tyre it may be."""
    assert unit.channel is not None
    assert job.conditions.fill is not None
    rates = [heat_cure(job.edition, of, job.conditions.fill) for of in job.conditions.classes]
    length = unit.channel.length_mm
    return hull(
        [
            Interval(length.low * cure.minutes / cure.per_depth_mm, length.high * cure.minutes / cure.per_depth_mm)
            for cure in rates
        ]
    )


def _value(
    job: Job,
    rule: CaseFigureRule,
    low: float | None,
    high: float | None,
    unit: str,
    injury: int | None = None,
    note: str | None = None,
) -> Value:
    return Value(
        rule.basis,
        job.procedure.source(rule),
        low,
        high,
        unit,
        note=rule.note if note is None else note,
        injury=injury,
    )


def _span(job: Job, rule: CaseFigureRule, span: Span, unit: str, injury: int) -> Value:
    return _value(job, rule, span.low, span.high, unit, injury)


def _limit(which: str) -> OfInjury:
    def reckon(_job: Job, _rule: CaseFigureRule, unit: InjuryUnit) -> Iterable[Value]:
        if unit.limit is None:
            return ()
        high: float = getattr(unit.limit, which)
        return (Value(unit.limit.basis, unit.limit.source, None, high, "mm", injury=unit.injury),)

    return reckon


def _lean(job: Job, rule: CaseFigureRule, unit: InjuryUnit) -> Iterable[Value]:
    if unit.channel is None or unit.injury not in job.lean_given:
        return ()
    return (_span(job, rule, unit.channel.lean_deg, "degrees", unit.injury),)


def _cutter(_job: Job, rule: CaseFigureRule, unit: InjuryUnit) -> Iterable[Value]:
    if unit.preparation is None:
        return ()
    cutter = unit.preparation.cutter
    return (Value(cutter.basis, cutter.source, cutter.low, cutter.high, "mm", note=rule.note, injury=unit.injury),)


def _buffed(side: str) -> OfInjury:
    def reckon(job: Job, rule: CaseFigureRule, unit: InjuryUnit) -> Iterable[Value]:
        extents: list[float] = [getattr(chosen.buffed, side) for chosen in _chosen(unit)]
        return (_value(job, rule, min(extents), max(extents), "mm", unit.injury),) if extents else ()

    return reckon


def _chosen(unit: InjuryUnit) -> list[Chosen]:
    return [choice.chosen for choice in unit.choices if choice.chosen is not None]


def _unit(job: Job, rule: CaseFigureRule, unit: InjuryUnit) -> Iterator[Value]:
    for choice in unit.choices:
        if choice.chosen is not None:
            # A fill that is cured by heat takes the place of the stem.
            pieces = [piece for piece in choice.chosen.pieces if job.conditions.fill is None or piece.kind == "patch"]
            words = " and ".join(piece.code for piece in pieces)
        elif choice.nothing_fits is not None:
            words = choice.nothing_fits.says
        else:
            continue
        yield Value(rule.basis, job.procedure.source(rule), words=words, note=choice.when, injury=unit.injury)


def _stem_diameter(job: Job, rule: CaseFigureRule, unit: InjuryUnit) -> Iterable[Value]:
    return () if unit.channel is None else (_span(job, rule, unit.channel.cutter_mm, "mm", unit.injury),)


def _stem_length(job: Job, rule: CaseFigureRule, unit: InjuryUnit) -> Iterable[Value]:
    least = [choice.needed.stem_length_mm for choice in unit.choices if choice.needed is not None]
    return (_value(job, rule, max(least), None, "mm", unit.injury),) if least else ()


def _trim_height(job: Job, _rule: CaseFigureRule, unit: InjuryUnit) -> Iterable[Value]:
    trim = job.trims.get(unit.injury)
    return _cuts(unit, () if trim is None else trim.outside)


def _inner_trim(job: Job, _rule: CaseFigureRule, unit: InjuryUnit) -> Iterable[Value]:
    trim = job.trims.get(unit.injury)
    return _cuts(unit, () if trim is None or trim.inside is None else (trim.inside,))


def _cuts(unit: InjuryUnit, cuts: Iterable[Cut]) -> Iterable[Value]:
    return [
        Value(cut.basis, cut.source, cut.proud_mm.low, cut.proud_mm.high, "mm", note=cut.says, injury=unit.injury)
        for cut in cuts
    ]


def _cure_time(job: Job, rule: CaseFigureRule, unit: InjuryUnit) -> Iterable[Value]:
    minutes = _cure_minutes(job, unit)
    return (_value(job, rule, tidy(minutes.low), tidy(minutes.high), "min", unit.injury),)


def _centres_apart(job: Job, rule: CaseFigureRule) -> Iterator[Value]:
    """Yield the book's figure; else for each two repairs half of both patches and a buffed margin each."""
    of_book = _book_spacing(job)
    if of_book is not None:
        source = job.edition.source(of_book)
        yield Value(of_book.basis, source, of_book.min_mm, None, "mm", note=of_book.note)
        return
    margin = figures(job.edition, job.facts.tyre_class).unit.buffed_margin_mm
    patches = {injury: _largest_patch(unit) for injury, unit in job.channels.items()}
    pairs = {
        (one, other): tidy((patches[one] + patches[other]) / 2.0 + 2.0 * margin)
        for one, other in combinations(sorted(patches), 2)
    }
    if len(set(pairs.values())) == 1:
        yield _value(job, rule, next(iter(pairs.values())), None, "mm")
        return
    for (one, other), apart in pairs.items():
        yield _value(job, rule, apart, None, "mm", note=f"Repairs at injuries {one} and {other}. {rule.note}")


def _book_spacing(job: Job) -> Spacing | None:
    """Return the widest of the book's spacings that may hold for the tyre; none where it gives none."""
    rules = bind_rules(job.edition, job.facts.use, job.facts.marking_facts.size_and_speed).injury
    branches = [branch for rule in rules if rule.name == SPACING.name for branch in may_apply(rule.branches, job.facts)]
    found = [branch.provision for branch in branches if isinstance(branch.provision, Spacing)]
    return max(found, key=lambda spacing: spacing.min_mm, default=None)


def _largest_patch(unit: InjuryUnit) -> float:
    """Return the largest extent of the patch that was chosen, or of the least that would do where none was."""
    chosen = [max(one.patch.width_mm, one.patch.length_mm) for one in _chosen(unit)]
    return max(chosen or [choice.needed.patch_mm for choice in unit.choices if choice.needed is not None])


_OF_INJURY: Final[dict[CaseFigure, OfInjury]] = {
    "found_limit": _limit("hole_to_mm"),
    "prepared_limit": _limit("cutter_to_mm"),
    "lean": _lean,
    "cutter": _cutter,
    "buffed_width": _buffed("width_mm"),
    "buffed_length": _buffed("length_mm"),
    "unit": _unit,
    "stem_diameter": _stem_diameter,
    "stem_length": _stem_length,
    "trim_height": _trim_height,
    "inner_trim": _inner_trim,
    "cure_time": _cure_time,
}
