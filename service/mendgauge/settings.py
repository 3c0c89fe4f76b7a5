"""What an operator can set, all of it from environment variables `MENDGAUGE_…`."""

from __future__ import annotations

import ipaddress
from collections.abc import Mapping
from typing import Annotated, Any, Literal, TypeAlias, get_args, get_origin

import msgspec
from msgspec import Meta

from mendgauge.api.flaws import near, wanted
from mendgauge.api.keys import STORED_KEY_PATTERN
from mendgauge.api.tracing import missing_packages

PREFIX = "MENDGAUGE_"

STORED_KEYS = "`NAME:DIGEST` of one key or more, separated by commas, as `mendgauge keys new NAME` prints it"

Origin: TypeAlias = Annotated[str, Meta(pattern=r"^https?://[a-z0-9.-]+(:[0-9]{1,5})?\Z", max_length=200)]
"""A web origin as a browser sends it (RFC 6454): scheme, host, and port where it is not the scheme's own."""

_LISTS = {
    "api_keys": STORED_KEYS,
    "cors_origins": "origins such as `https://bench.example`, separated by commas",
    "forwarded_by": "addresses or networks such as `10.0.0.0/8`, separated by commas",
}
"""The settings that take several values, and what each is."""

Switch: TypeAlias = Literal["yes", "no"]


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
    max_connections: Annotated[
        int,
        Meta(
            ge=1,
            le=100_000,
            description="Connections at a time in each process, or fewer if it may not open as many files. One more "
            "takes the place of an idle one, else it is answered with 503, save to ask for health.",
        ),
    ] = 1000
    head_seconds: Annotated[
        float, Meta(ge=0.1, le=3600, description="How long request line and headers may take to arrive; then 408.")
    ] = 10.0
    body_seconds: Annotated[
        float,
        Meta(
            ge=0.1,
            le=3600,
            description="How long a body may take to arrive, then 408; and how long a caller may take nothing of its "
            "answer.",
        ),
    ] = 30.0
    idle_seconds: Annotated[
        float, Meta(ge=0.1, le=3600, description="How long a connection may stay open between requests.")
    ] = 60.0
    api_keys: Annotated[
        tuple[Annotated[str, Meta(pattern=STORED_KEY_PATTERN)], ...],
        Meta(
            description="Keys as they are stored. Where any are set, here or in a file, `/v1` answers only requests "
            "with `Authorization: Bearer <key>`."
        ),
    ] = ()
    keys_file: (
        Annotated[
            str,
            Meta(
                min_length=1,
                description="File of further keys, one a line; a line that begins with `#` is a comment. Read again on "
                "SIGHUP.",
            ),
        ]
        | None
    ) = None
    open: Annotated[
        Switch,
        Meta(
            description="`yes`: whoever reaches the service may use it. Without keys it starts only on a loopback "
            "address, or with this."
        ),
    ] = "no"
    cors_origins: Annotated[
        tuple[Origin, ...],
        Meta(description="Origins whose pages may read answers in a browser. Where none is named, no other page may."),
    ] = ()
    forwarded_by: Annotated[
        tuple[str, ...],
        Meta(
            description="Proxies whose `X-Forwarded-For` is believed, so that the log names the caller and not the "
            "proxy. Name none that passes on what callers wrote there."
        ),
    ] = ()
    rate_per_second: Annotated[
        float,
        Meta(
            ge=0,
            le=1_000_000,
            description="Requests a second that each key may send; a batch is one. More are answered with 429. 0 sets "
            "no limit. Each process counts for itself.",
        ),
    ] = 0.0
    rate_burst: Annotated[
        int, Meta(ge=1, le=1_000_000, description="Requests that a key which paused may send at once.")
    ] = 100
    tracing: Annotated[
        Switch,
        Meta(
            description="`yes`: a span for each request goes to OpenTelemetry, where `OTEL_EXPORTER_OTLP_ENDPOINT` "
            "says. It needs `mendgauge[tracing]`."
        ),
    ] = "no"
    drain_seconds: Annotated[
        float,
        Meta(
            ge=0, le=300, description="After SIGTERM: how long `/health/ready` says no while requests are still served."
        ),
    ] = 3.0


class SettingsError(ValueError):
    """A variable whose value cannot be used; the message names it and says what would be right."""


def read_settings(environment: Mapping[str, str]) -> Settings:
    """Return the settings from an environment.

    Raises:
        SettingsError: a value is not allowed, or the service would be open to other machines without anybody saying so.
    """
    given = {
        field.name: environment[_variable(field.name)]
        for field in msgspec.structs.fields(Settings)
        if _variable(field.name) in environment
    }
    problems = [problem for name, text in given.items() if (problem := _problem(name, text))]
    if problems:
        raise SettingsError("\n".join(problems))
    settings = msgspec.convert({name: _split(name, text) for name, text in given.items()}, Settings, strict=False)
    for network in settings.forwarded_by:
        try:
            ipaddress.ip_network(network)
        except ValueError as error:
            raise SettingsError(f"MENDGAUGE_FORWARDED_BY: {error}; it takes {_LISTS['forwarded_by']}") from error
    if not (settings.api_keys or settings.keys_file or settings.open == "yes" or _is_loopback(settings.host)):
        raise SettingsError(
            f"MENDGAUGE_HOST: other machines may reach {settings.host!r}, and no keys are set; set MENDGAUGE_KEYS_FILE "
            "or MENDGAUGE_API_KEYS (`mendgauge keys new NAME` makes a key), or MENDGAUGE_OPEN=yes if whoever reaches "
            "it may use it"
        )
    if settings.tracing == "yes" and (missing := missing_packages()):
        raise SettingsError(f"MENDGAUGE_TRACING: {missing}")
    return settings


def unknown_variables(environment: Mapping[str, str]) -> list[str]:
    """Return a message for each unknown MENDGAUGE_* variable, with the setting that was probably meant."""
    known = [_variable(field.name) for field in msgspec.structs.fields(Settings)]
    unknown = sorted(name for name in environment if name.startswith(PREFIX) and name not in known)
    return [f"{name} is no setting{near(name, known)}" for name in unknown]


def settings_table() -> str:
    """Return the settings as a Markdown table."""
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
    return [part.strip() for part in text.split(",") if part.strip()] if name in _LISTS else text


def _problem(name: str, text: str) -> str | None:
    field = next(field for field in msgspec.structs.fields(Settings) if field.name == name)
    try:
        value = msgspec.convert(_split(name, text), field.type, strict=False)
    except msgspec.ValidationError:
        value = ()
    if value != ():
        return None
    shown = "the value given" if name == "api_keys" else repr(text)  # a key that was put there is not for the log
    return f"{_variable(name)}: {shown} is not allowed; it takes {_allowed(field.name, field.type)}"


def _is_loopback(host: str) -> bool:
    try:
        return ipaddress.ip_address(host).is_loopback
    except ValueError:
        return host == "localhost"


def _meta(annotation: Any) -> Meta:
    kinds = (annotation, *get_args(annotation))  # of an optional value, the kind that is not None has the description
    meta: Meta = next(kind for kind in kinds if get_origin(kind) is Annotated).__metadata__[0]
    return meta


def _allowed(name: str, annotation: Any) -> str:
    return _LISTS[name] if name in _LISTS else wanted(annotation)


def _default(value: Any) -> str:
    return "none" if value in ((), None) else f"`{value}`"
