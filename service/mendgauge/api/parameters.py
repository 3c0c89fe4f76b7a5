"""Query parameters, read as strictly as bodies: none unknown, none twice, none missing, each as declared."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from types import NoneType, UnionType
from typing import Annotated, Any, Union, get_args, get_origin

import msgspec
from litestar import Request, Response
from litestar.exceptions import ValidationException
from litestar.handlers import BaseRouteHandler
from litestar.params import KwargDefinition, QueryParameter
from litestar.typing import FieldDefinition

from mendgauge.api.flaws import cut, near_or_all, refusal
from mendgauge.api.problems import CONTRACT_BROKEN, FaultAt, Problem, Refusal, answer

_CONSTRAINTS = ("gt", "ge", "lt", "le", "multiple_of", "pattern", "min_length", "max_length")


async def only_declared(request: Request[Any, Any, Any]) -> None:
    """Refuse query parameters that the operation does not declare, or lacks. Runs before every handler of the API."""
    declared = _declared(request.route_handler)
    if (declared or request.scope["query_string"]) and (faults := tuple(_name_faults(request, declared))):
        raise _refusal(faults)


def refused_values(request: Request[Any, Any, Any], error: ValidationException) -> Response[Problem]:
    """Return the answer to a parameter whose value the framework could not accept."""
    declared = _declared(request.route_handler)
    extra = error.extra if isinstance(error.extra, list) else []
    refused = [fault["key"] for fault in extra if fault["key"] in declared]
    return answer(request, _refusal(tuple(_value_fault(request, name, declared[name]) for name in refused)))


def _value_fault(request: Request[Any, Any, Any], name: str, field: FieldDefinition) -> FaultAt:
    return FaultAt(parameter=name, detail=refusal(request.query_params[name], parameter_type(field)))


def _name_faults(request: Request[Any, Any, Any], declared: dict[str, FieldDefinition]) -> Iterator[FaultAt]:
    given = request.query_params
    for name in given:
        if name not in declared:
            what = f"there is no parameter of this name{near_or_all(name, list(declared))}"
            yield FaultAt(parameter=cut(name), detail=what)
        elif len(given.getall(name)) > 1:
            yield FaultAt(parameter=name, detail=f"given {len(given.getall(name))} times; give it once")
    for name, field in declared.items():
        if field.is_required and name not in given:
            yield FaultAt(parameter=name, detail="required and missing")


def _refusal(faults: tuple[FaultAt, ...]) -> Refusal:
    return Refusal(CONTRACT_BROKEN, "the parameters are not what this operation takes", faults)


@cache
def _declared(handler: BaseRouteHandler) -> dict[str, FieldDefinition]:
    fields = handler.parsed_fn_signature.parameters.values()
    return {field.name: field for field in fields if isinstance(field.kwarg_definition, QueryParameter)}


def parameter_type(field: FieldDefinition) -> Any:
    """Return a parameter's type with its bounds, as msgspec has them; an optional one left out is never null."""
    marker = field.kwarg_definition
    bounds = {name: getattr(marker, name) for name in _CONSTRAINTS} if isinstance(marker, KwargDefinition) else {}
    options = get_args(field.annotation) if get_origin(field.annotation) in (Union, UnionType) else (field.annotation,)
    given = [option for option in options if option is not NoneType]
    return Annotated[given[0], msgspec.Meta(**bounds)]
