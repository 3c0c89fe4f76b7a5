"""The OpenAPI 3.1 document, made from the handlers themselves and from msgspec's schemas of their types.

The framework's own generator would leave out bounds, discriminators, closed objects and docstrings, show its own shape
of errors, and load a test-data library into every worker. What an operation takes says which problems it can answer, so
nobody has to keep a list of those.
"""

from __future__ import annotations

import sys
from collections.abc import Iterable, Iterator, Sequence
from inspect import cleandoc
from typing import Any, get_args

import msgspec
from litestar import Litestar
from litestar.handlers import HTTPRouteHandler
from litestar.params import ParameterKwarg
from litestar.routes import HTTPRoute
from litestar.types import ControllerRouterHandler
from litestar.typing import FieldDefinition

from mendgauge import __version__
from mendgauge.api.example import WorkedExample
from mendgauge.api.media import MediaAnswer
from mendgauge.api.parameters import parameter_type
from mendgauge.api.problems import PROBLEM_JSON, PROBLEM_TYPES, Problem, ProblemType
from mendgauge.api.schemas import ref, schema, schemas

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
* **`X-Request-Id`** is reused if it has 1 to 64 letters, digits, `.`, `_`, `:` or `-`, otherwise generated, and \
returned in every answer.
* **Sizes**: a case has up to 524,288 bytes and a batch what the operator sets. Bodies may come with \
`Content-Encoding: gzip`; answers go as zstd or gzip where `Accept-Encoding` asks for it.
* HEAD is answered wherever GET is.
"""

INFO = {
    "title": "Mendgauge",
    "version": __version__,
    "summary": "Decisions on punctured road tyres",
    "description": DESCRIPTION,
    "contact": {"name": "The developers of Mendgauge"},
    "license": {"name": "Apache-2.0", "identifier": "Apache-2.0"},
}
TAGS = [
    {"name": "Decisions", "description": "Questions about one tyre, answered from a case."},
    {"name": "Reference", "description": "What the service reads and goes by: markings and rulebooks."},
    {"name": "Operations", "description": "For whoever runs the service or its client."},
]
LINES_TO_DEPTH = 5
"""So deep lie the fields of a schema: each has a line of its own, and the document is a third of what it would be."""
_SECURITY_SCHEMES = {
    "api_key": {
        "type": "http",
        "scheme": "bearer",
        "description": "Needed only where the operator has set API keys.",
    }
}
_HEADERS = {
    "X-Request-Id": {
        "description": "The request's id: the caller's own if it was well formed.",
        "schema": {"type": "string", "examples": ["DEPOT-3.000172"]},
    },
    "Retry-After": {
        "description": "Seconds to wait before the next attempt; absent when it is not known.",
        "schema": {"type": "integer"},
    },
    "RateLimit": {
        "description": 'What the key has left, where the operator set a rate: `"key";r=0;t=50` is nothing now, and all '
        "of it in 50 s (IETF draft RateLimit header fields for HTTP).",
        "schema": {"type": "string"},
    },
    "RateLimit-Policy": {
        "description": 'The rate of each key: `"key";q=100;w=50` takes 100 requests in 50 s.',
        "schema": {"type": "string"},
    },
    "ETag": {
        "description": "Names these very bytes (RFC 9110); send it as `If-None-Match` to ask whether they still hold.",
        "schema": {"type": "string"},
    },
    "WWW-Authenticate": {"description": "How to present a key (RFC 6750).", "schema": {"type": "string"}},
}
_HEADERS_OF_STATUS = {
    401: ["WWW-Authenticate"],
    429: ["Retry-After", "RateLimit", "RateLimit-Policy"],
    503: ["Retry-After"],
}
_ANY_PROBLEM = {
    "description": "Any other refusal or failure. A proxy may answer in its own words: look at `Content-Type` first.",
    "headers": {"X-Request-Id": {"$ref": "#/components/headers/X-Request-Id"}},
    "content": {PROBLEM_JSON: {"schema": ref(Problem)}},
}
_REQUEST_ID_PARAMETER = {
    "name": "X-Request-Id",
    "in": "header",
    "required": False,
    "description": "The caller's id for this request: 1 to 64 letters, digits, `.`, `_`, `:` or `-`. "
    "One of another form is replaced, not refused.",
    "schema": {"type": "string", "examples": ["DEPOT-3.000172"]},
}


class DocstringsMissingError(RuntimeError):
    """Python was started without docstrings, of which the document is made."""


def require_docstrings() -> None:
    """Raise `DocstringsMissingError` where Python drops docstrings: the document would say less than it promises."""
    if sys.flags.optimize > 1:
        message = "Start without PYTHONOPTIMIZE=2 and -OO: they drop the docstrings, of which the document is made."
        raise DocstringsMissingError(message)


def openapi_document(route_handlers: Sequence[ControllerRouterHandler]) -> bytes:
    """Return the document for these routes, as JSON; the same routes give the same bytes.

    Raises:
        DocstringsMissingError: Python drops docstrings.
    """
    require_docstrings()
    described = list(_described(route_handlers))
    handlers = [handler for _, _, handler in described]
    paths: dict[str, dict[str, Any]] = {}
    for path, method, handler in described:
        paths.setdefault(path, {})[method] = _operation(handler)
    document = {
        "openapi": "3.1.0",
        "info": INFO,
        "servers": [{"url": "/"}],
        "tags": TAGS,
        "paths": paths,
        "components": {
            "schemas": schemas(
                {
                    Problem,
                    *filter(None, map(_taken, handlers)),
                    *(_given(each) for each in handlers if not _media(each)),
                }
            ),
            "parameters": {"RequestId": _REQUEST_ID_PARAMETER},
            "headers": {name: header for name, header in _HEADERS.items() if name not in _unused_headers(handlers)},
            "responses": {
                **{_problem_name(status): _problem_response(status) for status in sorted(_statuses_of_all(handlers))},
                "Problem": _ANY_PROBLEM,
            },
            "examples": dict(sorted((entry for each in handlers for entry in _examples(each)), key=lambda of: of[0])),
            "securitySchemes": _SECURITY_SCHEMES,
        },
    }
    return _laid_out(msgspec.to_builtins(document), LINES_TO_DEPTH) + b"\n"


def _laid_out(node: Any, depth: int, indent: bytes = b"\n") -> bytes:
    """Return JSON with a line for each member down to a depth, and what lies deeper on the line of its member."""
    if not depth or not isinstance(node, dict) or not node:
        return msgspec.json.encode(node, order="deterministic")
    inner = indent + b"  "
    members = (msgspec.json.encode(key) + b": " + _laid_out(part, depth - 1, inner) for key, part in node.items())
    return b"{" + inner + (b"," + inner).join(members) + indent + b"}"


def _described(route_handlers: Sequence[ControllerRouterHandler]) -> Iterator[tuple[str, str, HTTPRouteHandler]]:
    """Yield path, method and handler of every operation, in the order of the routes: that of the job."""
    for part in route_handlers:
        app = Litestar([part], openapi_config=None, logging_config=None)
        for route in app.routes:
            for handler in route.route_handlers if isinstance(route, HTTPRoute) else ():
                if handler.resolve_include_in_schema():
                    yield from ((route.path_format, method.lower(), handler) for method in handler.http_methods)


def _operation(handler: HTTPRouteHandler) -> dict[str, Any]:
    example = _example(handler)
    operation = {
        "operationId": handler.operation_id,
        "summary": handler.summary,
        "description": cleandoc(handler.fn.__doc__ or ""),
        "tags": handler.resolve_tags(),
        "parameters": [*map(_parameter, _parameters(handler)), {"$ref": "#/components/parameters/RequestId"}],
        "responses": _answers(handler)
        | {
            str(status): {"$ref": f"#/components/responses/{_problem_name(status)}"}
            for status in sorted(_problem_statuses(handler))
        }
        | {"default": {"$ref": "#/components/responses/Problem"}},
        "security": handler.resolve_security() or [],
    }
    if model := _taken(handler):
        content = _content(model, example.name if example else None)
        operation["requestBody"] = {"required": True, "content": {"application/json": content}}
    return operation


def _answers(handler: HTTPRouteHandler) -> dict[str, Any]:
    """Return the answers that are no problems."""
    headers = _header_refs(["X-Request-Id", *(header.name or "" for header in handler.resolve_response_headers())])
    if media := _media(handler):
        content = {form: {"schema": {"type": "string", "contentMediaType": form}} for form in media.forms}
        answer = {"description": media.description, "headers": headers, "content": content}
        return {str(handler.status_code): {**answer, "x-default-form": media.forms[0]}}
    model, example = _given(handler), _answer_name(handler) if _example(handler) else None
    others = {status: spec for status, spec in (handler.responses or {}).items() if status < 400}
    return {
        str(handler.status_code): {
            "description": (model.__doc__ or "").partition("\n\n")[0],
            "headers": headers,
            "content": {"application/json": _content(model, example)},
        }
    } | {str(status): {"description": spec.description, "headers": headers} for status, spec in others.items()}


def _problem_statuses(handler: HTTPRouteHandler) -> set[int]:
    """Return the statuses of the problems that an operation can answer, by what it takes.

    400 and 431 are for what is wrong with any request: its `Host`, and headers that are too large.
    """
    takes = {marker.param_type.value for _, marker, _ in _parameters(handler)}
    return (
        {400, 431, 500, 503}
        | ({406, 501} if _media(handler) else set())
        | ({401, 429} if handler.resolve_security() else set())
        | ({404} if "path" in takes else set())
        | ({422} if "query" in takes else set())
        | ({408, 413, 415, 422} if _taken(handler) else set())
        | {status for status in handler.responses or () if status >= 400}
    )


def _statuses_of_all(handlers: Iterable[HTTPRouteHandler]) -> set[int]:
    return {status for handler in handlers for status in _problem_statuses(handler)}


def _unused_headers(handlers: Iterable[HTTPRouteHandler]) -> set[str]:
    """Return the headers of problems that no operation is documented to answer."""
    promised = _statuses_of_all(handlers)
    of_problems = {name for names in _HEADERS_OF_STATUS.values() for name in names}
    return of_problems - {name for status in promised for name in _HEADERS_OF_STATUS.get(status, ())}


def _taken(handler: HTTPRouteHandler) -> type | None:
    """Return the type of an operation's body, if it takes one."""
    return field.annotation if (field := handler.parsed_data_field) else None


def _given(handler: HTTPRouteHandler) -> type:
    """Return the type of an operation's answer."""
    annotation: type = handler.parsed_return_field.annotation
    return next(iter(get_args(annotation)), annotation)


def _media(handler: HTTPRouteHandler) -> MediaAnswer | None:
    """Return what an operation answers with where that is no JSON."""
    media: MediaAnswer | None = handler.opt.get("media")
    return media


def _example(handler: HTTPRouteHandler) -> WorkedExample | None:
    """Return the worked example of an operation, if it has one."""
    example: WorkedExample | None = handler.opt.get("example")
    return example


def _examples(handler: HTTPRouteHandler) -> Iterator[tuple[str, dict[str, Any]]]:
    """Yield the request and the answer of an operation's example, by name; the answer is made by the operation."""
    if example := _example(handler):
        if example.request is not None:
            yield example.name, {"summary": example.summary, "value": example.request}
        if _media(handler):
            return
        answer = msgspec.to_builtins(example.answer())
        yield _answer_name(handler), {"summary": f"The answer: {example.summary}", "value": answer}


def _answer_name(handler: HTTPRouteHandler) -> str:
    return f"{handler.operation_id}_answer"


def _parameters(handler: HTTPRouteHandler) -> Iterator[tuple[str, ParameterKwarg, FieldDefinition]]:
    """Yield name, marker and type of every parameter of an operation."""
    for field in handler.parsed_fn_signature.parameters.values():
        if isinstance(marker := field.kwarg_definition, ParameterKwarg):
            yield marker.name or field.name, marker, field


def _parameter(parameter: tuple[str, ParameterKwarg, FieldDefinition]) -> dict[str, Any]:
    name, marker, field = parameter
    examples = [example.value for example in marker.examples or ()]
    return {
        "name": name,
        "in": marker.param_type.value,
        "required": field.is_required,
        "description": marker.description,
        "schema": schema(parameter_type(field)) | ({"examples": examples} if examples else {}),
    }


def _header_refs(names: Iterable[str]) -> dict[str, Any]:
    return {name: {"$ref": f"#/components/headers/{name}"} for name in names}


def _content(model: type, example: str | None) -> dict[str, Any]:
    """Return a body of a type, with the example of that name."""
    shown = {"examples": {example: {"$ref": f"#/components/examples/{example}"}}} if example else {}
    return {"schema": ref(model)} | shown


def _problem_name(status: int) -> str:
    return f"Problem{status}"


def _problem_response(status: int) -> dict[str, Any]:
    kinds = [kind for kind in PROBLEM_TYPES if kind.status == status]
    return {
        "description": "\n\n".join(f"`{kind.type}`: {kind.title}. {kind.remedy}" for kind in kinds),
        "headers": _header_refs(["X-Request-Id", *_HEADERS_OF_STATUS.get(status, ())]),
        "content": {PROBLEM_JSON: {"schema": ref(Problem), "examples": {_slug(k): _problem_example(k) for k in kinds}}},
    }


def _slug(kind: ProblemType) -> str:
    return kind.type.rpartition("/")[2]


def _problem_example(kind: ProblemType) -> dict[str, Any]:
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
