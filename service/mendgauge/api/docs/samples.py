"""An example of an operation as it is sent by curl, by the Python client and from TypeScript."""

from __future__ import annotations

import json
from collections.abc import Mapping
from datetime import date
from typing import Any, Final
from urllib.parse import quote, urlencode

from mendgauge.api.docs.templates import as_json, as_python

HERE: Final = "http://127.0.0.1:8340"
"""Where samples call the service; a page in a browser puts its own address in this place."""


class Call:
    """A request of an example.

    Attributes:
        operation: The operation's id.
        method: The HTTP method.
        path: The path with its parameters put in, and the query.
        body: What is sent as JSON; None where nothing is.
        takes: The name of the body's schema.
        gives: The name of the answer's schema; None where the answer is no JSON.
        form: The media type of an answer that is no JSON.
        parameters: The schema of each parameter in path or query, by name.
        given: The values of the parameters.
    """

    def __init__(
        self, operation: str, method: str, path: str, described: Mapping[str, Any], request: dict[str, Any]
    ) -> None:
        self.operation, self.method = operation, method
        self.takes = _schema_of(described.get("requestBody"))
        success = described["responses"]["200"]
        self.gives = _schema_of(success)
        self.form: str | None = success.get("x-default-form")
        listed = [one for one in described["parameters"] if one.get("in") in ("path", "query")]
        self.parameters = {one["name"]: one for one in listed}
        self.body = request if self.takes else None
        self.given = {} if self.takes else request
        in_path = {
            name: quote(str(value), safe="@")
            for name, value in self.given.items()
            if self.parameters[name]["in"] == "path"
        }
        query = {name: value for name, value in self.given.items() if name not in in_path}
        self.path = path.format(**in_path) + (f"?{urlencode(query)}" if query else "")


def _schema_of(part: Any) -> str | None:
    """Return the name of the schema of a body or an answer in JSON."""
    content = (part or {}).get("content", {}).get("application/json")
    return content["schema"]["$ref"].rpartition("/")[2] if content else None


def curl(call: Call) -> str:
    """Return the command that sends a call from a shell."""
    save = f" --output answer.{_ENDINGS[call.form]}" if call.form else ""
    if call.body is None:
        return f"curl --fail-with-body '{HERE}{call.path}'{save}"
    body = as_json(call.body).replace("'", "'\\''")
    return (
        f"curl --fail-with-body {HERE}{call.path}{save} \\\n  --header 'Content-Type: application/json' \\\n"
        f"  --data '{body}'"
    )


def python(call: Call) -> str:
    """Return the program that sends a call with the Python client."""
    names, lines = ["Mendgauge"], []
    if call.body is not None:
        names.append(call.takes or "")
        lines.append(f"case = msgspec.convert({as_python(call.body)}, {call.takes})\n")
        arguments = "case"
    else:
        arguments = ", ".join(f"{name}={_value(call.parameters[name], value)}" for name, value in call.given.items())
    head = ["from datetime import date\n"] if "date(" in arguments else []
    if call.body is not None:
        head.append("import msgspec")
    head.append(f"from mendgauge_client import {', '.join(names)}\n")
    lines.append(f'with Mendgauge("{HERE}") as service:')
    lines.append(f"    answer = service.{call.operation}({arguments})")
    if call.form:
        head.insert(0, "from pathlib import Path\n")
        lines.append(f'Path("answer.{_ENDINGS[call.form]}").write_bytes(answer.content)')
    else:
        lines.append("print(answer)")
    return "\n".join(head + lines)


def typescript(call: Call) -> str:
    """Return the module that sends a call from TypeScript, with types made from the document."""
    lines = []
    typed = call.takes or call.gives
    if typed:
        lines.append('import type { components } from "./mendgauge.js";\n')
    if call.body is not None:
        lines.append(f'const body: components["schemas"]["{call.takes}"] = {as_json(call.body)};')
        lines += [
            f'const response = await fetch("{HERE}{call.path}", {{',
            '  method: "POST",',
            '  headers: { "Content-Type": "application/json" },',
            "  body: JSON.stringify(body),",
            "});",
        ]
    else:
        lines.append(f'const response = await fetch("{HERE}{call.path}");')
    lines.append("if (!response.ok) throw new Error(await response.text());")
    if call.gives:
        lines.append(f'const answer = (await response.json()) as components["schemas"]["{call.gives}"];')
    else:
        lines.append("const answer = await response.blob();")
    lines.append("console.log(answer);")
    if not typed:
        lines.append("\nexport {}; // only a module may await at its top level")
    return "\n".join(lines)


_ENDINGS: Final = {"image/svg+xml": "svg", "application/pdf": "pdf", "image/png": "png"}


def _value(parameter: Mapping[str, Any], value: Any) -> str:
    """Return the value of a parameter as the Python client takes it."""
    if parameter["schema"].get("format") == "date":
        day = date.fromisoformat(value)
        return f"date({day.year}, {day.month}, {day.day})"
    return json.dumps(value, ensure_ascii=False)
