"""The OpenAPI 3.1 document: what the framework knows of the paths, and msgspec of the types, put together.

The framework alone would leave out bounds, discriminators, closed objects and docstrings, and show its own shape of
errors; msgspec's schemas are the types that bodies are in fact decoded with. Which problems an operation can answer
follows from what it takes, so that nobody has to keep a list.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from http import HTTPStatus
from typing import Any, get_args

import msgspec
from litestar import Litestar
from litestar.handlers import HTTPRouteHandler
from litestar.openapi import OpenAPIConfig
from litestar.openapi.plugins import JsonRenderPlugin
from litestar.openapi.spec import Components, License, SecurityScheme, Tag
from litestar.routes import HTTPRoute
from litestar.types import ControllerRouterHandler
from litestar.typing import FieldDefinition

from mendgauge import __version__
from mendgauge.api.parameters import parameter_type
from mendgauge.api.problems import PROBLEM_JSON, PROBLEM_TYPES, Problem, ProblemType

DESCRIPTION = """\
May this punctured tyre be repaired under the code that applies here, with which unit, and what may it do afterwards?

* **One body, the case, serves every POST.** Only `rulebook` and `tyre.marking` are required. What is left out or null \
is not known; an empty list means none. Any measured number may be a range `{"low": …, "high": …}`.
* **Fields carry their unit**: `_mm`, `_deg`, `_kmh`, `_kg`, `_kpa`, `_c`, `_percent`, `_minutes`, `_ml`.
* **Nothing is kept.** The same case, rulebook edition and date give the same answer, byte for byte, so a POST may be \
sent again without harm.
* **Answers may grow.** New fields and new words in a list of words can come at any time; ignore what you do not know.
* **Every 4xx and 5xx is a problem** (RFC 9457, `application/problem+json`). `errors` names each fault by JSON Pointer \
into the body, or by the name of the parameter.
* **`X-Request-Id`** is taken over when it has 1 to 64 letters, digits, `.`, `_`, `:` or `-`, made otherwise, and told \
in every answer.
* HEAD is answered wherever GET is.
"""

TAGS = [
    Tag(name="Decisions", description="Questions about one tyre, answered from a case."),
    Tag(name="Reference", description="What the service reads and goes by: markings and rulebooks."),
    Tag(name="Operations", description="For whoever runs the service or its client."),
]

_HEADERS = {
    "RequestId": {
        "description": "The request's id: the caller's own if it was well formed.",
        "schema": {"type": "string", "examples": ["DEPOT-3.000172"]},
    },
    "RetryAfter": {"description": "Seconds to wait before the next attempt.", "schema": {"type": "integer"}},
    "ETag": {
        "description": "Names these very bytes (RFC 9110); send it as `If-None-Match` to ask whether they still hold.",
        "schema": {"type": "string"},
    },
    "Authenticate": {"description": "How to present a key (RFC 6750).", "schema": {"type": "string"}},
}
_HEADERS_OF_STATUS = {401: {"WWW-Authenticate": "Authenticate"}, 429: {"Retry-After": "RetryAfter"}}
_REQUEST_ID_PARAMETER = {
    "name": "X-Request-Id",
    "in": "header",
    "required": False,
    "description": "The caller's id for this request: 1 to 64 letters, digits, `.`, `_`, `:` or `-`. "
    "One of another form is replaced, not refused.",
    "schema": {"type": "string", "examples": ["DEPOT-3.000172"]},
}


def openapi_document(route_handlers: Sequence[ControllerRouterHandler]) -> bytes:
    """The document for these routes, as JSON; the same routes give the same bytes."""
    config = OpenAPIConfig(
        title="Mendgauge",
        version=__version__,
        summary="Decisions on punctured road tyres",
        description=DESCRIPTION,
        license=License(name="Apache-2.0", identifier="Apache-2.0"),
        tags=TAGS,
        use_handler_docstrings=True,
        render_plugins=[JsonRenderPlugin()],
        components=Components(
            security_schemes={
                "api_key": SecurityScheme(
                    type="http",
                    scheme="bearer",
                    description="Needed only where the operator has set API keys.",
                )
            }
        ),
    )
    app = Litestar(route_handlers, openapi_config=config, logging_config=None)
    document = app.openapi_schema.to_schema()
    handlers = {handler.operation_id: handler for handler in _documented(app)}
    for item in document["paths"].values():
        for operation in item.values():
            _complete(operation, handlers[operation["operationId"]])
    document["components"] |= {
        "schemas": _schemas(handlers.values()),
        "headers": _HEADERS,
        "parameters": {"RequestId": _REQUEST_ID_PARAMETER},
        "responses": {_problem_name(status): _problem_response(status) for status in _problem_statuses(document)},
    }
    return msgspec.json.format(msgspec.json.encode(document, order="deterministic"), indent=2) + b"\n"


def _documented(app: Litestar) -> Iterator[HTTPRouteHandler]:
    for route in app.routes:
        if isinstance(route, HTTPRoute):
            yield from (handler for handler in route.route_handlers if handler.resolve_include_in_schema())


def _complete(operation: dict[str, Any], handler: HTTPRouteHandler) -> None:
    """Put into an operation what the framework did not know."""
    request_example, answer_example = _examples(handler)
    operation.pop("deprecated")
    parameters = [_parameter(parameter, handler) for parameter in operation.get("parameters", ())]
    statuses = {500, *(int(status) for status in operation["responses"] if int(status) == 503)}
    if "security" in operation:
        statuses.add(401)
    if any(parameter["in"] == "path" for parameter in parameters):
        statuses.add(404)
    if any(parameter["in"] == "query" for parameter in parameters):
        statuses.add(422)
    if field := handler.parsed_data_field:
        statuses |= {400, 413, 415, 422}
        operation["requestBody"] = {
            "required": True,
            "content": {"application/json": _content(field.annotation, request_example)},
        }
    operation["parameters"] = [*parameters, {"$ref": "#/components/parameters/RequestId"}]
    answers = {status: answer for status, answer in operation["responses"].items() if int(status) < 400}
    for answer in answers.values():
        own = {name: name for name in answer.get("headers", ())}
        answer["headers"] = _header_refs({"X-Request-Id": "RequestId"} | own)
        if "content" in answer:
            model = _answer_type(handler)
            answer["content"] = {"application/json": _content(model, answer_example)}
            answer["description"] = (model.__doc__ or "").partition("\n\n")[0]
    operation["responses"] = answers | {
        str(status): {"$ref": f"#/components/responses/{_problem_name(status)}"} for status in sorted(statuses)
    }


def _examples(handler: HTTPRouteHandler) -> tuple[Any, Any]:
    """The worked example of an operation, its answer made by the operation itself; nothing where it has none."""
    if "example" not in handler.opt:
        return None, None
    question, answer = handler.opt["example"]
    return question, msgspec.to_builtins(answer())


def _parameter(parameter: dict[str, Any], handler: HTTPRouteHandler) -> dict[str, Any]:
    """A parameter with the schema that it is checked by."""
    field = next(
        field for field in handler.parsed_fn_signature.parameters.values() if _name(field) == parameter["name"]
    )
    examples = [example.value for example in getattr(field.kwarg_definition, "examples", None) or ()]
    schema = _tidy(msgspec.json.schema(parameter_type(field)))
    described = {key: parameter[key] for key in ("name", "in", "required", "description")}
    return described | {"schema": schema | ({"examples": examples} if examples else {})}


def _name(field: FieldDefinition) -> str:
    return getattr(field.kwarg_definition, "name", None) or field.name


def _header_refs(headers: dict[str, str]) -> dict[str, Any]:
    return {name: {"$ref": f"#/components/headers/{component}"} for name, component in headers.items()}


def _content(model: type, example: Any) -> dict[str, Any]:
    return {"schema": _ref(model.__name__)} | ({"example": example} if example is not None else {})


def _answer_type(handler: HTTPRouteHandler) -> type:
    annotation: type = handler.parsed_return_field.annotation
    return next(iter(get_args(annotation)), annotation)


def _schemas(handlers: Iterable[HTTPRouteHandler]) -> dict[str, Any]:
    public = {Problem, *(_answer_type(handler) for handler in handlers)}
    public |= {field.annotation for handler in handlers if (field := handler.parsed_data_field)}
    _, schemas = msgspec.json.schema_components(public, ref_template=_ref("{name}")["$ref"])
    return {name: _tidy(schema) for name, schema in sorted(schemas.items())}


def _ref(name: str) -> dict[str, str]:
    return {"$ref": f"#/components/schemas/{name}"}


def _tidy(schema: Any) -> Any:
    """A schema as its readers and generators like it, saying the same."""
    if isinstance(schema, list):
        return [_tidy(part) for part in schema]
    if not isinstance(schema, dict):
        return schema
    tidy = {key: value if key in ("default", "examples") else _tidy(value) for key, value in schema.items()}
    if "properties" in tidy:
        tidy["properties"] = {name: _tidy(part) for name, part in schema["properties"].items()}
    if tidy.get("required") == []:
        del tidy["required"]
    if isinstance(tidy.get("title"), str):  # the component's name again
        del tidy["title"]
    if tidy.get("default", "") is None:  # left out and null are one: not known
        del tidy["default"]
    if words := tidy.get("enum"):
        tidy |= {"type": "string"} if all(isinstance(word, str) for word in words) else {}
        if len(words) == 1:
            tidy["const"] = tidy.pop("enum")[0]
    if "anyOf" in tidy:
        tidy = _about_the_whole(tidy)
    if "discriminator" in tidy:
        tidy["oneOf"] = tidy.pop("anyOf")
    return tidy


def _about_the_whole(union: dict[str, Any]) -> dict[str, Any]:
    """What one branch says of the field is said of the field: the other branches are the same, given otherwise."""
    told = [branch for branch in union["anyOf"] if "description" in branch]
    if "description" in union or len(told) != 1:
        return union
    lifted = {key: told[0].pop(key) for key in ("description", "examples") if key in told[0]}
    return lifted | union


def _problem_statuses(document: dict[str, Any]) -> list[int]:
    operations = [operation for item in document["paths"].values() for operation in item.values()]
    return sorted({int(status) for operation in operations for status in operation["responses"] if int(status) >= 400})


def _problem_name(status: int) -> str:
    return f"{HTTPStatus(status).phrase.title().replace(' ', '')}Problem"


def _problem_response(status: int) -> dict[str, Any]:
    kinds = [kind for kind in PROBLEM_TYPES if kind.status == status]
    return {
        "description": "\n\n".join(f"`{kind.type}`: {kind.title}. {kind.remedy}" for kind in kinds),
        "headers": _header_refs({"X-Request-Id": "RequestId"} | _HEADERS_OF_STATUS.get(status, {})),
        "content": {PROBLEM_JSON: {"schema": _ref("Problem"), "examples": {_slug(k): _example(k) for k in kinds}}},
    }


def _slug(kind: ProblemType) -> str:
    return kind.type.rpartition("/")[2]


def _example(kind: ProblemType) -> dict[str, Any]:
    return {
        "summary": kind.title,
        "value": {
            "type": kind.type,
            "title": kind.title,
            "status": kind.status,
            "detail": kind.remedy,
            "request_id": "DEPOT-3.000172",
        },
    }
