"""The log: one JSON object a line on standard output, whoever wrote it."""

from __future__ import annotations

import logging
import sys
from typing import Any

import msgspec
import structlog


def configure(level: str) -> None:
    """Send everything at or above a level (`debug`, `info`, `warning`, `error`) to standard output as JSON."""
    threshold = logging.getLevelNamesMapping()[level.upper()]
    structlog.configure(
        processors=[
            structlog.contextvars.merge_contextvars,
            structlog.processors.add_log_level,
            structlog.processors.TimeStamper(fmt="iso", utc=True, key="time"),
            structlog.processors.format_exc_info,
            _json,
        ],
        wrapper_class=structlog.make_filtering_bound_logger(threshold),
        logger_factory=structlog.BytesLoggerFactory(sys.stdout.buffer),
        cache_logger_on_first_use=True,
    )
    logging.basicConfig(level=threshold, handlers=[_ToStructlog()], force=True)


class _ToStructlog(logging.Handler):
    """What libraries log the standard way, in the same form and place as our own."""

    def emit(self, record: logging.LogRecord) -> None:
        structlog.get_logger().log(record.levelno, record.getMessage(), logger=record.name, exc_info=record.exc_info)


_encoder = msgspec.json.Encoder(enc_hook=repr)


def _json(_logger: Any, _method: str, event: structlog.typing.EventDict) -> bytes:
    return _encoder.encode(event)
