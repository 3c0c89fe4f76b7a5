"""What an operator can set, all of it from environment variables `MENDGAUGE_…`."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated, Any, Literal, TypeAlias

import msgspec
from msgspec import Meta

from mendgauge.api.flaws import near, wanted

PREFIX = "MENDGAUGE_"

ApiKey: TypeAlias = Annotated[str, Meta(pattern=r"^[A-Za-z0-9._~+/-]{16,200}=*$")]
"""A key as a bearer token may be written (RFC 6750), long enough not to be guessed."""


class Settings(msgspec.Struct, frozen=True, kw_only=True):
    """The settings in force. Each field is set by the variable of its name."""

    host: Annotated[
        str, Meta(min_length=1, description="Address to listen on. The default is reachable from this machine alone.")
    ] = "127.0.0.1"
    port: Annotated[int, Meta(ge=0, le=65535, description="Port to listen on; 0 takes a free one.")] = 8340
    workers: Annotated[
        int, Meta(ge=1, le=64, description="Processes to serve from. In containers keep 1 and run more containers.")
    ] = 1
    log_level: Annotated[
        Literal["debug", "info", "warning", "error"],
        Meta(description="Least level to log. The line for each request is `info`."),
    ] = "info"
    max_body_bytes: Annotated[
        int, Meta(ge=1024, le=104_857_600, description="Largest request body taken; a larger one is answered with 413.")
    ] = 8_388_608  # a full batch, each case with its stock and its prices
    api_keys: Annotated[
        tuple[ApiKey, ...],
        Meta(
            description="Keys, separated by commas, each of 16 to 200 letters, digits or `._~+/-`. When any is set, "
            "`/v1` answers only requests with `Authorization: Bearer <key>`."
        ),
    ] = ()
    drain_seconds: Annotated[
        float,
        Meta(
            ge=0, le=300, description="After SIGTERM: how long `/health/ready` says no while requests are still served."
        ),
    ] = 3.0


class SettingsError(ValueError):
    """A variable whose value cannot be used; the message names it and says what would do."""


def read_settings(environment: Mapping[str, str]) -> Settings:
    """The settings from an environment.

    Raises:
        SettingsError: a value is not allowed.
    """
    given = {
        field.name: environment[_variable(field.name)]
        for field in msgspec.structs.fields(Settings)
        if _variable(field.name) in environment
    }
    problems = [problem for name, text in given.items() if (problem := _problem(name, text))]
    if problems:
        raise SettingsError("\n".join(problems))
    return msgspec.convert({name: _split(name, text) for name, text in given.items()}, Settings, strict=False)


def unknown_variables(environment: Mapping[str, str]) -> list[str]:
    """What looks like a setting and is none, each with the setting that was probably meant."""
    known = [_variable(field.name) for field in msgspec.structs.fields(Settings)]
    strangers = sorted(name for name in environment if name.startswith(PREFIX) and name not in known)
    return [f"{name} is no setting{near(name, known)}" for name in strangers]


def settings_table() -> str:
    """The settings as a Markdown table."""
    rows = [
        (
            f"`{_variable(field.name)}`",
            _default(field.default),
            _allowed(field.name, field.type),
            _meta(field.type).description or "",
        )
        for field in msgspec.structs.fields(Settings)
    ]
    head = ["| variable | default | allowed | what it does |", "|---|---|---|---|"]
    return "\n".join(head + [f"| {' | '.join(row)} |" for row in rows])


def _variable(field: str) -> str:
    return PREFIX + field.upper()


def _split(name: str, text: str) -> str | list[str]:
    return [part.strip() for part in text.split(",") if part.strip()] if name == "api_keys" else text


def _problem(name: str, text: str) -> str | None:
    field = next(field for field in msgspec.structs.fields(Settings) if field.name == name)
    try:
        msgspec.convert(_split(name, text), field.type, strict=False)
    except msgspec.ValidationError:
        told = "the value given" if name == "api_keys" else repr(text)  # a key is not for the log
        return f"{_variable(name)}: {told} is not allowed; it takes {_allowed(field.name, field.type)}"
    return None


def _meta(annotation: Any) -> Meta:
    meta: Meta = annotation.__metadata__[0]
    return meta


def _allowed(name: str, annotation: Any) -> str:
    return "keys of 16 to 200 characters, separated by commas" if name == "api_keys" else wanted(annotation)


def _default(value: Any) -> str:
    return f"`{value}`" if value != () else "none"
