"""The document's operations, as the client's template needs them."""

from __future__ import annotations

import re
from typing import Any, NamedTuple

from generation.walk import refs

REF = "#/"
OF_CASES = frozenset({"TyreCase", "CaseBatch"})
"""Bodies that are a case, or many."""
BATCH = "_in_batch"
"""How the id of an operation ends that asks about many cases at once."""
ARGUMENT_OF_MODEL = {"TyreCase": "case"}
"""What a body is called in Python where not after its model: `case` is no word that Python reserves."""
SIMPLE_TYPES = {
    ("string", None): "str",
    ("string", "date"): "date",
    ("string", "date-time"): "datetime",
    ("integer", None): "int",
    ("number", None): "float",
    ("boolean", None): "bool",
}
JSON_MEDIA = "application/json"
MEDIA = "Media"
"""What an operation answers with that has pictures or pages to give: their bytes and their media type."""
FROM_TRANSPORT = frozenset({"X-Request-Id", "Authorization"})
"""Header fields that the transport sees to; every other one is an argument."""


class Argument(NamedTuple):
    """An argument of a method.

    Attributes:
        name: Its name in Python.
        sent_as: Its name on the wire.
        place: `path`, `query`, `header` or `body`.
        type: Its type as written.
        required: Whether it must be given.
        says: What it means.
    """

    name: str
    sent_as: str
    place: str
    type: str
    required: bool
    says: str


class Refusal(NamedTuple):
    """A status other than a success that an operation is documented to answer."""

    error: str
    status: int
    says: str


class Batch(NamedTuple):
    """How an operation asks about many cases at once.

    Attributes:
        name: The name of the method that asks about any number.
        case: The model of a case.
        answer: The model of the answer to one.
        tables: Whether its rows refer to tables behind them.
    """

    name: str
    case: str
    answer: str
    tables: bool


class Operation(NamedTuple):
    """A method of the client.

    Attributes:
        name: Its name, the document's operation id.
        method: The HTTP method.
        path: The path as the inside of an f-string.
        summary: One line.
        description: The rest, or empty.
        arguments: The required ones first.
        answer: The model a success decodes to.
        answer_says: What a success is.
        forms: The media types of an answer that is no JSON, its own first; empty for JSON.
        refusals: What else may come.
        batch: How it asks about many cases at once; None where it does not.
    """

    name: str
    method: str
    path: str
    summary: str
    description: str
    arguments: tuple[Argument, ...]
    answer: str
    answer_says: str
    forms: tuple[str, ...]
    refusals: tuple[Refusal, ...]
    batch: Batch | None

    @property
    def detailed(self) -> bool:
        """Whether a case says how much its answer is to say."""
        return not self.forms and any(argument.type in OF_CASES for argument in self.placed("body"))

    def placed(self, place: str) -> list[Argument]:
        """Return the arguments that go in one place."""
        return [argument for argument in self.arguments if argument.place == place]


class UnsupportedError(Exception):
    """The document says something the client has no form for yet."""


def read_operations(document: dict[str, Any], error_of_status: dict[int, str]) -> list[Operation]:
    """Return the operations of a document, in its order.

    Args:
        document: The OpenAPI document.
        error_of_status: The name of the error class of each status that has one of its own.

    Raises:
        UnsupportedError: Something in it has no form in the client.
    """
    return [
        _operation(document, error_of_status, path, method, node)
        for path, methods in document["paths"].items()
        for method, node in methods.items()
        if "responses" in node
    ]


def _operation(
    document: dict[str, Any], error_of_status: dict[int, str], path: str, method: str, node: dict[str, Any]
) -> Operation:
    name = node.get("operationId", "")
    if not name.isidentifier():
        raise UnsupportedError(
            f"{method.upper()} {path} needs an operationId that can be a method's name, not {name!r}"
        )
    arguments = [
        _parameter(document, found)
        for found in (_resolved(document, parameter) for parameter in node.get("parameters", []))
        if not (found["in"] == "header" and found["name"] in FROM_TRANSPORT)
    ]
    if "requestBody" in node:
        arguments.insert(0, _body(document, name, _resolved(document, node["requestBody"])))
    answer, answer_says, forms = _answer(document, name, node["responses"])
    return Operation(
        name=name,
        method=method.upper(),
        path=re.sub(r"{([^{}]+)}", lambda found: f"{{segment({snake(found[1])})}}", path),
        summary=node.get("summary", name),
        description=node.get("description", ""),
        arguments=tuple(sorted(arguments, key=lambda argument: not argument.required)),
        answer=answer,
        answer_says=answer_says,
        forms=forms,
        refusals=tuple(
            Refusal(
                error_of_status.get(int(status), "ServerError" if int(status) >= 500 else "StatusError"),
                int(status),
                _first_sentences(_resolved(document, response).get("description", "")),
            )
            for status, response in sorted(node["responses"].items())
            if status.isdigit() and int(status) >= 300
        ),
        batch=_batch(document, name, [argument.type for argument in arguments if argument.place == "body"], answer),
    )


def _batch(document: dict[str, Any], name: str, bodies: list[str], answer: str) -> Batch | None:
    """Return whether it is a batch: it takes `items`, cases, and answers `items`, each an `answer` or a `problem`."""
    if not name.endswith(BATCH) or not bodies:
        return None
    schemas = document["components"]["schemas"]
    try:
        case = schemas[bodies[0]]["properties"]["items"]["items"]["$ref"]
        outcome = _resolved(document, schemas[answer]["properties"]["items"]["items"])
        (answered,) = refs(outcome["properties"]["answer"])
        (_,) = refs(outcome["properties"]["problem"])
    except (KeyError, ValueError):
        raise UnsupportedError(f"{name} is called a batch, and has not the form of one") from None
    tables = "tables" in schemas[answer]["properties"]
    return Batch(name.removesuffix(BATCH) + "_of_each", case.rpartition("/")[2], answered, tables)


def snake(name: str) -> str:
    """Return a name of the document as a Python argument: `RepairPlanBatch` and `If-None-Match` get underscores."""
    return re.sub(r"(?<=[a-z0-9])(?=[A-Z])", "_", name).replace("-", "_").lower()


def _first_sentences(text: str) -> str:
    """Return each paragraph's first sentence: a method says what may happen, the error itself what to do about it."""
    return " ".join(re.sub(r"(?s)(.*?\.)\s.*", r"\1", paragraph) for paragraph in text.split("\n\n"))


def _resolved(document: dict[str, Any], node: dict[str, Any]) -> dict[str, Any]:
    while "$ref" in node:
        found: Any = document
        for part in node["$ref"].removeprefix(REF).split("/"):
            found = found[part.replace("~1", "/").replace("~0", "~")]
        node = found
    return node


def _parameter(document: dict[str, Any], node: dict[str, Any]) -> Argument:
    return Argument(
        name=snake(node["name"]),
        sent_as=node["name"],
        place=node["in"],
        type=_type(document, node["schema"]),
        required=node.get("required", False),
        says=node.get("description") or node["schema"].get("description", ""),
    )


def _type(document: dict[str, Any], schema: dict[str, Any]) -> str:
    """Return the type of a parameter, its null left out: an optional argument says None for *not given*."""
    schema = _resolved(document, schema)
    branches = [branch for branch in schema.get("anyOf", schema.get("oneOf", [])) if branch.get("type") != "null"]
    if branches:
        return " | ".join(dict.fromkeys(_type(document, branch) for branch in branches))
    if "enum" in schema:
        return f"Literal[{', '.join(repr(word) for word in schema['enum'] if word is not None)}]"
    if schema.get("type") == "array":
        return f"Sequence[{_type(document, schema['items'])}]"
    kind = schema.get("type")
    form = schema.get("format") if schema.get("format") in {"date", "date-time"} else None
    try:
        return SIMPLE_TYPES[(str(kind), form)]
    except KeyError:
        raise UnsupportedError(f"a parameter cannot be of the type {schema}") from None


def _body(document: dict[str, Any], operation: str, node: dict[str, Any]) -> Argument:
    model = _model(operation, node["content"])
    described = document["components"]["schemas"][model].get("description", "")
    return Argument(
        ARGUMENT_OF_MODEL.get(model, snake(model)), model, "body", model, True, node.get("description") or described
    )


def _answer(document: dict[str, Any], operation: str, responses: dict[str, Any]) -> tuple[str, str, tuple[str, ...]]:
    successes = [_resolved(document, node) for status, node in sorted(responses.items()) if status.startswith("2")]
    if len(successes) != 1:
        raise UnsupportedError(f"{operation} needs one success, and has {len(successes)}")
    content, says = successes[0].get("content", {}), successes[0].get("description", "")
    if content and JSON_MEDIA not in content:
        first = successes[0]["x-default-form"]
        return MEDIA, says, (first, *(form for form in content if form != first))
    return _model(operation, content), says, ()


def _model(operation: str, content: dict[str, Any]) -> str:
    ref = str(content.get(JSON_MEDIA, {}).get("schema", {}).get("$ref", ""))
    if not ref:
        raise UnsupportedError(f"{operation} needs {JSON_MEDIA} of a named schema, and has {sorted(content)}")
    return ref.rpartition("/")[2]
