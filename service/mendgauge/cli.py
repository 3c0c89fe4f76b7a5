"""The command `mendgauge`."""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from math import ceil
from tempfile import TemporaryDirectory

import structlog
import uvicorn

from mendgauge import __version__
from mendgauge.api import log
from mendgauge.api.connections import BACKLOG
from mendgauge.api.edge import SETTLE_SECONDS
from mendgauge.api.keys import KeysError, new_key
from mendgauge.api.metrics import SHARED_FOLDER
from mendgauge.api.openapi import DocstringsMissingError, require_docstrings
from mendgauge.api.wire import Wire
from mendgauge.rulebooks import RulebookError, list_editions
from mendgauge.rulebooks.coverage import coverage_table
from mendgauge.server import document, key_ring
from mendgauge.settings import Settings, SettingsError, read_settings, settings_table, unknown_variables

LONGEST_REQUEST_SECONDS = 10
"""How long a request under way may still take once the service stops."""


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command and return its exit status: 0 done, 2 a setting or a rulebook is wrong."""
    options = _parser().parse_args(arguments)
    match options.command:
        case "openapi":
            try:
                sys.stdout.buffer.write(document())
            except DocstringsMissingError as error:
                print(error, file=sys.stderr)
                return 2
        case "coverage":
            print(coverage_table())
        case "settings":
            print(settings_table())
        case "keys":
            return _new_key(options.name)
        case _:
            try:
                require_docstrings()
                settings = read_settings({**os.environ, **_overrides(options)})
                key_ring(settings)
                list_editions()
            except (DocstringsMissingError, SettingsError, KeysError, RulebookError) as error:
                print(error, file=sys.stderr)
                return 2
            _serve(settings)
    return 0


def _new_key(name: str) -> int:
    try:
        key, stored = new_key(name)
    except KeysError as error:
        print(error, file=sys.stderr)
        return 2
    print(f"The key, for {name} alone. It is not kept anywhere and not shown again:\n\n    {key}\n")
    print(f"Its line for MENDGAUGE_KEYS_FILE or MENDGAUGE_API_KEYS:\n\n    {stored}")
    return 0


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="mendgauge",
        description="The service that decides on punctured tyres.",
    )
    parser.add_argument("--version", action="version", version=f"mendgauge {__version__}")
    commands = parser.add_subparsers(dest="command", required=True)
    serve = commands.add_parser("serve", help="run the service; `mendgauge settings` lists what can be set")
    serve.add_argument("--host", help="address to listen on, instead of MENDGAUGE_HOST")
    serve.add_argument("--port", help="port to listen on, instead of MENDGAUGE_PORT")
    serve.add_argument("--workers", help="processes to serve from, instead of MENDGAUGE_WORKERS")
    keys = commands.add_parser("keys", help="make an API key")
    new = keys.add_subparsers(dest="action", required=True).add_parser("new", help="print a new key, and what to store")
    new.add_argument("name", metavar="NAME", help="who is to use it, as the log is to name them")
    commands.add_parser("openapi", help="print the OpenAPI document")
    commands.add_parser("coverage", help="print what each rulebook covers, and how it is known")
    commands.add_parser("settings", help="print the environment variables that the service reads")
    return parser


def _overrides(options: argparse.Namespace) -> dict[str, str]:
    given = {"MENDGAUGE_HOST": options.host, "MENDGAUGE_PORT": options.port, "MENDGAUGE_WORKERS": options.workers}
    return {name: value for name, value in given.items() if value is not None}


def _serve(settings: Settings) -> None:
    log.configure(settings.log_level)
    for warning in unknown_variables(os.environ):
        structlog.get_logger().warning(warning)
    with _metrics_shared(settings.workers):
        _run(settings)


@contextmanager
def _metrics_shared(workers: int) -> Iterator[None]:
    """Give several workers a folder to sum their metrics in; they find it when they start, before they import."""
    if workers == 1:
        yield
        return
    with TemporaryDirectory(prefix="mendgauge-metrics-") as folder:
        os.environ[SHARED_FOLDER] = folder
        yield


def _run(settings: Settings) -> None:
    try:
        uvicorn.run(
            "mendgauge.server:create_worker_app",
            factory=True,
            host=settings.host,
            port=settings.port,
            workers=settings.workers,
            loop="uvloop",
            http=Wire,
            ws="none",
            lifespan="on",
            log_config=None,
            access_log=False,
            proxy_headers=bool(settings.forwarded_by),
            forwarded_allow_ips=list(settings.forwarded_by),
            server_header=False,
            timeout_graceful_shutdown=LONGEST_REQUEST_SECONDS,
            timeout_keep_alive=ceil(settings.idle_seconds),
            backlog=BACKLOG,
        )
    finally:
        log.standard_output().settle(SETTLE_SECONDS)
