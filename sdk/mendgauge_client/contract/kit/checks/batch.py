"""A batch is its items: each has the answer or the problem that it has alone, in its place."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import partial
from typing import Any

from mendgauge_client.contract.kit.asking import CASE, ask, content_of, most_items, takes_batch
from mendgauge_client.contract.kit.check import BrokenError, Check, NotTriedError, broken_if
from mendgauge_client.contract.kit.deployment import Deployment
from mendgauge_client.contract.kit.material import Operation, examples, operations
from mendgauge_client.contract.kit.problem_shape import problem_in
from mendgauge_client.contract.kit.rows import whole
from mendgauge_client.contract.kit.same import differences, shown

GROUP = "batch"
SUFFIX = "/batch"


def checks() -> Iterator[Check]:
    """Yield the checks of this group."""
    alone = {operation.path: operation for operation in operations().values()}
    for operation in operations().values():
        if takes_batch(operation):
            single = alone[operation.path.removesuffix(SUFFIX)]
            for says, run in BATCHES.items():
                yield Check(GROUP, f"{operation.id}: {says}", partial(run, operation, single))


def _as_alone(operation: Operation, single: Operation, deployment: Deployment) -> str:
    cases = _cases(single)
    batch = _answer(deployment, operation, cases)
    items, tables = batch["items"], batch.get("tables") or {}
    if len(items) != len(cases):
        raise BrokenError(f"/items: sent {len(cases)}, got {len(items)}")
    broken_if(
        fault
        for index, (case, item) in enumerate(zip(cases, items, strict=True))
        for fault in _item_faults(deployment, single, index, case, _whole(item, tables, f"/items/{index}"))
    )
    return f"{len(cases)} items"


def _counted(operation: Operation, single: Operation, deployment: Deployment) -> None:
    answer = _answer(deployment, operation, _cases(single))
    for name, field in (("ok", "answer"), ("failed", "problem")):
        counted = len([item for item in answer["items"] if item.get(field) is not None])
        if answer.get(name) != counted:
            raise BrokenError(f"/{name}: answered {shown(answer.get(name))}, and {counted} items have their `{field}`")


def _named(operation: Operation, _single: Operation, deployment: Deployment) -> None:
    cases = [{**CASE, "reference": f"KIT/{number}"} for number in range(40)]
    cases[7]["tyre"] = {"marking": "no marking"}
    got = [item.get("reference") for item in _answer(deployment, operation, cases)["items"]]
    sent = [case["reference"] for case in cases]
    if got != sent:
        raise BrokenError(f"/items: expected the references {shown(sent)}, got {shown(got)}")


def _none(operation: Operation, _single: Operation, deployment: Deployment) -> None:
    broken_if(differences({"ok": 0, "failed": 0, "items": []}, _answer(deployment, operation, []), may_grow=True))


def _too_many(operation: Operation, _single: Operation, deployment: Deployment) -> None:
    _needs(deployment, operation)
    most = most_items(operation)
    # Items that are no cases: the whole of a batch that is not too long would be answered, each with its problem.
    problem_in(ask(deployment, operation, {"items": [0] * (most + 1)}), 413, "too-many-items")
    if len(items := _answer(deployment, operation, [0] * most)["items"]) != most:
        raise BrokenError(f"/items: sent {most}, as many as are taken at a time, got {len(items)}")


BATCHES: dict[str, Callable[[Operation, Operation, Deployment], str | None]] = {
    "each item is answered as alone, in its place": _as_alone,
    "each item carries its reference, in the order sent": _named,
    "the counts are those of the items": _counted,
    "no items, no outcomes": _none,
    "as many items as promised, and 413 to one more": _too_many,
}


def _cases(single: Operation) -> list[Any]:
    """Return the golden requests of the operation for one case, some of them refused, and two that are no case."""
    golden: list[Any] = [example.request for example in examples() if example.operation == single]
    return [*golden, CASE, {"rulebook": "gb"}, *reversed(golden), 5]


def _whole(item: dict[str, Any], tables: dict[str, Any], place: str) -> dict[str, Any]:
    """Return an item whose answer has what stands in the batch's tables."""
    if not isinstance(answer := item.get("answer"), dict):
        return item
    try:
        return item | {"answer": whole(answer, tables, item.get("reference"))}
    except (LookupError, ValueError, StopIteration) as error:
        raise BrokenError(f"{place}/answer/in_tables: refers to what `tables` does not hold") from error


def _item_faults(deployment: Deployment, single: Operation, index: int, case: Any, item: Any) -> Iterator[str]:
    place = f"/items/{index}"
    alone = ask(deployment, single, case)
    expected = content_of(alone)
    if alone.status_code == 200:
        yield from differences(expected, item.get("answer"), f"{place}/answer")
        wanted = {"status": "ok", "problem": None}
    else:
        below = [{**error, "pointer": place + error.get("pointer", "")} for error in expected.get("errors", [])]
        problem = expected | ({"errors": below} if below else {})
        yield from differences(_placeless(problem), _placeless(item.get("problem") or {}), f"{place}/problem")
        wanted = {"status": "failed", "answer": None}
    yield from (
        f"{place}/{name}: expected {shown(value)}, got {shown(item.get(name))}"
        for name, value in wanted.items()
        if item.get(name) != value
    )


def _placeless(problem: dict[str, Any]) -> dict[str, Any]:
    """Return a problem without what may differ by where it stands: the words of its detail, and its request id."""
    return {name: value for name, value in problem.items() if name not in ("detail", "request_id")}


def _answer(deployment: Deployment, operation: Operation, items: list[Any]) -> dict[str, Any]:
    _needs(deployment, operation)
    response = ask(deployment, operation, {"items": items})
    if response.status_code != 200:
        raise BrokenError(f"expected status 200, got {response.status_code}: {response.text[:200]}")
    answer = content_of(response)
    if not isinstance(answer, dict) or not isinstance(answer.get("items"), list):
        raise BrokenError("expected an object with `items`")
    return answer


def _needs(deployment: Deployment, operation: Operation) -> None:
    if not deployment.offers(operation):
        raise NotTriedError("this deployment's document has no such operation")
