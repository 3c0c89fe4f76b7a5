"""Making a case vaguer: fields left out, measurements widened to ranges. What was true of it stays possible."""

from __future__ import annotations

from typing import Any, Final

from hypothesis import strategies as st
from tests.property.cases import Drawn, classes_of, contract_bounds, deep, estimate, one_of, widest_across
from tests.property.houses import maker_must_consent
from tests.property.judging import Json

from mendgauge.case.fields import FIELDS, pattern_of
from mendgauge.facts.yes_no import SIGNS, TRAITS

YES_OR_NO: Final = {
    "/tyre/traits": TRAITS,
    "/inspection": SIGNS,
    "/history": ("driven_flat", "sealant_used"),
}
"""Groups that may say `complete`, with what that word speaks of."""

WHOLE: Final = ("/vehicle", "/position", "/tyre/traits", "/inspection", "/history", "/injuries", "/earlier_repairs")
"""Groups that may be left out altogether."""

KEPT: Final = (
    "/rulebook",
    "/detail",
    "/assessed_on",
    "/tyre/marking",
    "/house_rules",
    # Where nobody says what the plies are made of, a car's are taken for textile (see `_may_go`).
    "/tyre/body_ply",
    # No limit of the maker's is a fact of its own: that nobody knows of one is a caution, not an open rule.
    "/tyre/maker_policy/max_repairs",
)

BOTH_SIDES: Final = ("across_mm", "other_side_across_mm")
"""The second is given only beside the first, so both go together. It is never widened: where it stands, it stands for
what lean, direction and thickness say of the other side, and a range of it may say less than they do.
"""

NEVER_WIDENED: Final = frozenset(
    {
        "/injuries/*/other_side_across_mm",
        "/tyre/max_load_kg",
        "/in_service/max_load_dual_kg",
        "/in_service/overall_diameter_mm",
        "/in_service/axle_mates/*/overall_diameter_mm",
    }
)
"""Measurements that are taken for less than any value, where nobody gave them: a range may leave more open."""

ESTIMATED: Final = {
    "crown_thickness_mm": "crown_thickness",
    "tread_width_mm": "tread_width",
    "tread_depth_mm": "tread_depth",
    "patch_mm": "patch",
}
"""Dimensions that are reckoned with by the book's estimate when nobody measured them."""

WIDENINGS: Final = (0.0, 0.001, 0.01, 0.05, 0.2, 1.0)
"""How far an end of a range moves from the value, as a share of the way to the bound of the contract."""


_GROUP: Final = st.sampled_from(("none", *YES_OR_NO))
_FIELDS: Final = st.lists(st.integers(0, 10_000), max_size=12)
_COIN: Final = st.booleans()
_WIDENING: Final = st.sampled_from(WIDENINGS)


def parts(pointer: str) -> list[str]:
    return pointer.strip("/").split("/")


def get(within: Any, pointer: str) -> Any:
    """What stands at a pointer; `None` where nothing does."""
    for part in parts(pointer):
        if isinstance(within, list):
            within = within[int(part)] if int(part) < len(within) else None
        elif isinstance(within, dict):
            within = within.get(part)
    return within


def put(case: Json, pointer: str, value: Any) -> Json:
    """A copy of the case with a value at a pointer, or with nothing there for `None`."""
    placed: Json = deep(case)
    *path, last = parts(pointer)
    within: Any = placed
    for part in path:
        within = within[int(part)] if isinstance(within, list) else within.setdefault(part, {})
    if isinstance(within, list):
        within[int(last)] = value
    elif value is None:
        within.pop(last, None)
    else:
        within[last] = value
    return placed


def span(value: Any) -> tuple[float, float]:
    """The ends of a measurement."""
    return (value["low"], value["high"]) if isinstance(value, dict) else (value, value)


def leaves(case: Json) -> list[str]:
    """Pointers to every field of a case that may be left out by itself."""
    found: list[str] = []

    def walk(within: Any, pointer: str) -> None:
        if isinstance(within, dict) and "low" not in within:
            for name, inner in within.items():
                walk(inner, f"{pointer}/{name}")
        elif isinstance(within, list):
            for index, inner in enumerate(within):
                walk(inner, f"{pointer}/{index}")
        elif not pointer.endswith("/complete"):
            found.append(pointer)

    walk({name: inner for name, inner in case.items() if f"/{name}" not in KEPT}, "")
    return [pointer for pointer in found if pointer not in KEPT]


@st.composite
def vaguer(draw: st.DrawFn, drawn: Drawn, case: Json, whole: tuple[str, ...] = WHOLE) -> Json:
    """A case that leaves open at least all that `case`, itself full or made vaguer from `drawn`, leaves open.

    `whole` names the groups of which one may be missing altogether.
    """
    if get(case, group := draw(_GROUP)):
        case = given_one_by_one(case, group)
    fields = [pointer for pointer in leaves(case) if _may_go(drawn, case, pointer)]
    if fields:
        for pointer in dict.fromkeys(fields[place % len(fields)] for place in draw(_FIELDS)):
            case = put(case, pointer, _vaguer_value(draw, drawn, case, pointer))
            if pointer.endswith(BOTH_SIDES[0]):
                case = put(case, pointer.replace(*BOTH_SIDES), None)
    group = draw(one_of(whole)) if draw(_COIN) else "none"
    # A case without word of injuries speaks of a tyre that has one, so of one that has none it must say so.
    if group != "none" and not (group == "/injuries" and not case.get("injuries")):
        case = put(case, group, None)
    return case


@st.composite
def full_or_vague(draw: st.DrawFn, drawn: Drawn, whole: tuple[str, ...] = WHOLE) -> Json:
    """The case as drawn, or known less well."""
    return draw(vaguer(drawn, drawn.case, whole)) if draw(_COIN) else deep(drawn.case)


def given_one_by_one(case: Json, group: str) -> Json:
    """The case with what `complete` says of a group said field by field, so that each may be left out."""
    given = get(case, group)
    if not given.get("complete"):
        return case
    plain = {name: value for name, value in given.items() if name != "complete"}
    return put(case, group, {**dict.fromkeys(YES_OR_NO[group], False), **plain})


def _may_go(drawn: Drawn, case: Json, pointer: str) -> bool:
    """Whether a field may be left out or widened and what was possible stays so."""
    group, _, name = pointer.rpartition("/")
    if pointer == "/tyre/maker_policy/repair":
        # A maker whose word nobody knows is a caution, not an open rule, unless the book or the tyre makes his word a
        # condition: a refusal that is left out there is lost, and with it the verdict it brought.
        return bool(get(case, pointer) == "permitted") or maker_must_consent(drawn)
    if pointer == "/inspection/zipper_signs" and get(case, pointer) and get(case, "/tyre/body_ply") != "steel":
        # Nobody looks for them on plies of textile, save on commercial vehicles; seen, they are lost with the field.
        return get(drawn.case, "/vehicle/kind") not in ("car", "motorcycle")
    if name == "plugged_from_outside" and get(case, pointer):
        # Whoever looked at everything, or asked for everything, would have said so.
        return not any(get(case, f"{section}/complete") for section in ("/inspection", "/history"))
    # Where `complete` stands, a sign that is left out is a sign that was not found.
    return not (group in YES_OR_NO and name in YES_OR_NO[group] and get(case, group).get("complete"))


def _vaguer_value(draw: st.DrawFn, drawn: Drawn, case: Json, pointer: str) -> Json | None:
    name = parts(pointer)[-1]
    value = get(case, pointer)
    bounds = _bounds(drawn, case, pointer)
    if bounds is None:
        return None
    if (name in ESTIMATED and not _within_estimate(drawn, case, name, value)) or draw(_COIN):
        return _widened(draw, span(value), bounds)
    return None


def _widened(draw: st.DrawFn, value: tuple[float, float], bounds: tuple[float, float]) -> Json:
    low, high = value
    low -= (low - bounds[0]) * draw(_WIDENING)
    high += (bounds[1] - high) * draw(_WIDENING)
    return {"low": max(low, min(bounds[0], value[0])), "high": min(high, max(bounds[1], value[1]))}


def _within_estimate(drawn: Drawn, case: Json, name: str, value: Any) -> bool:
    """Whether a dimension lies within what is reckoned with when it is left out, for every vehicle still possible."""
    kind = get(case, "/vehicle/kind")
    for of in classes_of(drawn.marking_facts, kind):
        low, high = estimate(drawn.edition, of, ESTIMATED[name], drawn.marking_facts)
        if span(value)[0] < low or span(value)[1] > high:
            return False
    return True


def _bounds(drawn: Drawn, case: Json, pointer: str) -> tuple[float, float] | None:
    """The least and the most a measurement may be in this case; `None` for what is no measurement."""
    group, _, name = pointer.rpartition("/")
    marking_facts = drawn.marking_facts
    if name == "across_mm":
        widest = widest_across(marking_facts, get(case, f"{group}/region"))
        return -widest, widest
    if name == "around_mm":
        return 0, marking_facts.circumference.high
    pattern = pattern_of(pointer)
    bounds = contract_bounds(pattern) if pattern in FIELDS and pattern not in NEVER_WIDENED else None
    if bounds is not None and name in ("tread_depth_mm", "new_tread_depth_mm"):
        deepest = min(estimate(drawn.edition, of, "tread_depth", marking_facts)[1] for of in classes_of(marking_facts))
        return bounds[0], deepest
    return bounds
