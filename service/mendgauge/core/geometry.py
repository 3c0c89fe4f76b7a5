"""The crown of a tyre unrolled flat: channels that lean, mouths, patches and the distances between them.

Lengths in mm, angles in degrees. `across` runs over the tread from its centre line, `around` along it from the valve.
A channel of diameter d leans by theta from the perpendicular, toward phi (0 across, 90 along the tread). Over a crown
of thickness t it shifts by t tan theta, and it opens at the liner in an ellipse with the minor axis d and the major
axis d / cos theta. Source: any handbook of solid geometry. Each function of intervals gives back every value that some
choice within them can give.
"""

from __future__ import annotations

from functools import lru_cache
from math import ceil, cos, floor, hypot, radians, sin, sqrt, tan

from mendgauge.core.interval import Interval, point


def slope(lean_deg: Interval) -> Interval:
    """Return the shift per mm of thickness, tan theta."""
    if lean_deg.low == lean_deg.high:
        return point(tan(radians(lean_deg.low)))
    return Interval(tan(radians(lean_deg.low)), tan(radians(lean_deg.high)))


def cosine(toward_deg: Interval) -> Interval:
    """Return every cosine of an angle in the interval."""
    if toward_deg.low == toward_deg.high:
        return point(cos(radians(toward_deg.low)))
    ends = (cos(radians(toward_deg.low)), cos(radians(toward_deg.high)))
    return Interval(
        -1.0 if _passes(toward_deg, 180.0) else min(ends),
        1.0 if _passes(toward_deg, 0.0) else max(ends),
    )


def sine(toward_deg: Interval) -> Interval:
    """Return every sine of an angle in the interval."""
    if toward_deg.low == toward_deg.high:
        return point(sin(radians(toward_deg.low)))
    ends = (sin(radians(toward_deg.low)), sin(radians(toward_deg.high)))
    return Interval(
        -1.0 if _passes(toward_deg, 270.0) else min(ends),
        1.0 if _passes(toward_deg, 90.0) else max(ends),
    )


@lru_cache(maxsize=1024)
def shift_across(lean_deg: Interval, toward_deg: Interval) -> Interval:
    """Return the shift across the tread per mm of thickness, tan theta cos phi."""
    if lean_deg.low == lean_deg.high and toward_deg.low == toward_deg.high:
        return point(tan(radians(lean_deg.low)) * cos(radians(toward_deg.low)))
    return product(slope(lean_deg), cosine(toward_deg))


@lru_cache(maxsize=1024)
def shift_along(lean_deg: Interval, toward_deg: Interval) -> Interval:
    """Return the shift along the tread per mm of thickness, tan theta sin phi."""
    return product(slope(lean_deg), sine(toward_deg))


def _passes(toward_deg: Interval, angle: float) -> bool:
    """Return whether the interval holds an angle, or the same direction any number of turns on."""
    return floor((toward_deg.high - angle) / 360.0) >= ceil((toward_deg.low - angle) / 360.0)


def product(one: Interval, other: Interval) -> Interval:
    """Return every product of a value of this and a value of the other."""
    if one.low == one.high and other.low == other.high:
        return point(one.low * other.low)
    if one.low >= 0.0:
        return Interval(
            (one.low if other.low >= 0.0 else one.high) * other.low,
            (one.high if other.high >= 0.0 else one.low) * other.high,
        )
    corners = (one.low * other.low, one.low * other.high, one.high * other.low, one.high * other.high)
    return Interval(min(corners), max(corners))


def mouth_reach_across(diameter: float, slope_across: float) -> float:
    """Return half the extent of the mouth across the tread: (d/2) sqrt(1 + tan^2 theta cos^2 phi)."""
    return diameter / 2.0 * sqrt(1.0 + slope_across * slope_across)


def mouth_major(diameter: float, lean_deg: float) -> float:
    """Return the length of the mouth, d / cos theta."""
    return diameter / cos(radians(lean_deg))


@lru_cache(maxsize=2048)
def stretched(extent: Interval, lean_deg: Interval) -> Interval:
    """Return extents stretched by a lean, e / cos theta: a thickness to a channel's length, a bore to its mouth's."""
    return Interval(extent.low / cos(radians(lean_deg.low)), extent.high / cos(radians(lean_deg.high)))


@lru_cache(maxsize=2048)
def mouth_extent(diameter: Interval, slope: Interval) -> Interval:
    """Return every extent of the mouth in the direction of which `slope` is the channel's shift per mm of thickness."""
    steep = slope.magnitude()
    least, most = sqrt(1.0 + steep.low * steep.low), sqrt(1.0 + steep.high * steep.high)
    return Interval(diameter.low * least, diameter.high * most)


def channel_length(thickness: float, lean_deg: float) -> float:
    """Return the length of the channel through the crown, t / cos theta."""
    return thickness / cos(radians(lean_deg))


def largest_reach(across: Interval, shift_per_mm: Interval, thickness: float, diameter: float) -> float:
    """Return the largest distance from the centre line to an edge of the channel's mouths, on either side of the crown.

    `across` is where the channel starts, `shift_per_mm` is tan theta cos phi, positive toward positive `across`,
    `thickness` the largest the crown can have.
    """
    # |a + t u| + (d/2) sqrt(1 + u^2) is convex in each of a, t and u, so its maximum lies at a corner; the mouth where
    # the channel starts is that of no thickness at all.
    steepest = _reach_at(across, shift_per_mm.high, thickness, diameter)
    if shift_per_mm.low == shift_per_mm.high:
        return steepest
    return max(steepest, _reach_at(across, shift_per_mm.low, thickness, diameter))


def _reach_at(across: Interval, u: float, thickness: float, diameter: float) -> float:
    """Return the largest distance to the far edge of a mouth, for one slope."""
    shift = thickness * u
    low, high = across.low, across.high
    if shift < 0.0:
        low += shift
    else:
        high += shift
    return max(-low, high) + diameter / 2.0 * sqrt(1.0 + u * u)


def least_reach(across: Interval, shift_per_mm: Interval, thickness: Interval, diameter: float) -> float:
    """Return the least distance from the centre line to the far edge of the mouth at the channel's other end."""
    # The distance is linear in u between the slopes at which the far end just meets the centre line, and the mouth
    # widens with |u|: the least value lies at an end, at no slope, where the distance falls to nothing, or, under a
    # crown thinner than half the mouth, where the mouth widens as fast as the far end nears the centre line.
    radius = diameter / 2.0
    slopes = [shift_per_mm.low, shift_per_mm.high, 0.0]
    for t in _ends(thickness):
        if t > 0.0:
            slopes += [-across.low / t, -across.high / t]
        if t < radius:
            balance = t / sqrt(radius * radius - t * t)
            slopes += [balance, -balance]
    return min(
        _distance_to_zero(across, thickness, u) + mouth_reach_across(diameter, u)
        for u in slopes
        if shift_per_mm.low <= u <= shift_per_mm.high
    )


def _ends(span: Interval) -> tuple[float, ...]:
    return (span.low,) if span.low == span.high else (span.low, span.high)


def _distance_to_zero(across: Interval, thickness: Interval, u: float) -> float:
    ends = (thickness.low * u, thickness.high * u)
    low, high = across.low + min(ends), across.high + max(ends)
    return max(0.0, low, -high)


def arc_distance(one: Interval, other: Interval, circumference: Interval) -> Interval:
    """Return the distance along the tread the shorter way round, across the seam where that is shorter."""
    if circumference.known:
        return _arc_distance(one, other, circumference.low)
    # Plain numbers, as a liner with many repairs has over a thousand pairs.
    low, high = _magnitude(one.low - other.high, one.high - other.low)
    least, most = _magnitude(circumference.low - high, circumference.high - low)
    if one.high <= circumference.high and other.high <= circumference.high:
        # Both lie within one turn, so the other way round passes at least from the valve to the nearer of them.
        nearer = one.low if one.low < other.low else other.low
        if nearer > least:
            least = nearer
    return Interval(low if low < least else least, high if high < most else most)


def _magnitude(low: float, high: float) -> tuple[float, float]:
    """Return the least and the largest absolute value between two values."""
    if low >= 0.0:
        return low, high
    return (-high, -low) if high <= 0.0 else (0.0, high if high > -low else -low)


def _arc_distance(one: Interval, other: Interval, circumference: float) -> Interval:
    low, high = one.low - other.high, one.high - other.low
    if high - low >= circumference:
        return Interval(0.0, circumference / 2.0)
    turns = low // circumference * circumference
    low, high = low - turns, high - turns
    ends = (_shorter_way(low, circumference), _shorter_way(high, circumference))
    least = 0.0 if high >= circumference else min(ends)
    half = circumference / 2.0
    largest = half if low <= half <= high or high >= 1.5 * circumference else max(ends)
    return Interval(least, largest)


def _shorter_way(arc: float, circumference: float) -> float:
    rest = arc % circumference
    return min(rest, circumference - rest)


def distance(across: Interval, around: Interval) -> Interval:
    """Return the straight distance on the unrolled crown, from those along its two directions, each zero or more."""
    return Interval(hypot(across.low, around.low), hypot(across.high, around.high))
