"""Rows of a batch as JSON, made whole by the tables behind them; with every field, those that the client lacks too."""

from __future__ import annotations

from typing import Any

LISTS = ("cautions", "to_establish")


def whole(row: dict[str, Any], tables: dict[str, Any], reference: str | None) -> dict[str, Any]:
    """Return the answer that a row stands for, as it would be given alone.

    Raises:
        LookupError: The row refers to what the tables do not hold.
    """
    if (places := row.get("in_tables")) is None:
        return row
    answer = {name: value for name, value in row.items() if name != "in_tables"}
    if reference is not None:
        answer["reference"] = reference
    book = (row["rulebook"]["id"], row["rulebook"]["edition"])
    answer["rulebook"] = next(one for one in tables["rulebooks"] if (one["id"], one["edition"]) == book)
    for name in LISTS:
        answer[name] = [tables[name][place] for place in places.get(name, ())] + row[name]
    if (place := places.get("until_then")) is not None:
        answer["until_then"] = tables["until_then"][place]
    advice = places.get("advice") or [None] * len(row["findings"])
    measured = iter(
        [
            found if place is None else found | {"advice": tables["advice"][place]}
            for found, place in zip(row["findings"], advice, strict=True)
        ]
    )
    answer["findings"] = [
        next(measured) if place is None else tables["findings"][place]
        for place in places.get("findings") or [None] * len(row["findings"])
    ]
    if keys := dict.fromkeys(found["cites"] for found in answer["findings"] if "cites" in found):
        answer["sources"] = {key: tables["sources"][key] for key in keys}
    return answer
