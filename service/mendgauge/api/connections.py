"""The connections of one process: how many there may be, and how long each may take over what.

The server has a time limit for idle connections and none for a request that never ends, an answer that nobody takes or
a connection that says nothing. One pass a second over all connections looks for those; requests pay nothing for it.
"""

from __future__ import annotations

import asyncio
import resource
from collections.abc import Hashable
from enum import Enum
from typing import Protocol

import msgspec
import structlog

RESERVED_FOR_HEALTH = 16
"""Connections beyond the bound that are taken, and answered if they ask for the service's health."""

BACKLOG = 128
"""Connections that the kernel keeps until the process takes them; it takes them all at once."""

RESERVED_FILES = RESERVED_FOR_HEALTH + BACKLOG + 64
"""Open files that are not for connections within the bound."""

_log = structlog.get_logger()


class Stage(Enum):
    """What a connection is waiting for, where the other side can keep it waiting."""

    HEAD = "head"
    BODY = "body"
    REFUSED_BODY = "refused body"
    IDLE = "idle"
    SENDING = "sending"
    CLOSING = "closing"
    WORKING = "working"


class Limits(msgspec.Struct, frozen=True, kw_only=True):
    """Bounds on the connections of one process."""

    connections: int = 1000
    head_seconds: float = 10.0
    body_seconds: float = 30.0
    idle_seconds: float = 60.0

    def seconds(self, stage: Stage) -> float | None:
        """Return how long a connection may stay at a stage without progress; None for as long as it takes."""
        return {
            Stage.HEAD: self.head_seconds,
            Stage.BODY: self.body_seconds,
            Stage.REFUSED_BODY: 2.0,
            Stage.IDLE: self.idle_seconds,
            Stage.SENDING: self.body_seconds,
            Stage.CLOSING: self.head_seconds,
            Stage.WORKING: None,
        }[stage]


class Connection(Protocol):
    """What is watched."""

    def stage(self) -> Stage: ...

    def progress(self) -> Hashable:
        """Return something that changes when the other side did its part, and begins the time at a stage anew."""

    def expire(self, stage: Stage) -> None:
        """End the connection, which stayed at a stage for too long, in a way that fits the stage."""

    def close(self) -> None:
        """Close it at once, although nothing is wrong with it."""


class Connections:
    """Those there are, and since when each waits for what."""

    def __init__(self, limits: Limits) -> None:
        self.limits = limits
        self._waiting: dict[Connection, tuple[tuple[Stage, Hashable] | None, float]] = {}
        self._period = min(1.0, *(limits.seconds(stage) or 1.0 for stage in Stage))
        self._timer: asyncio.TimerHandle | None = None

    def __len__(self) -> int:
        return len(self._waiting)

    def admit(self, connection: Connection) -> bool:
        """Take a new connection in; return False where it is one too many, so that only health is answered to it.

        At the bound an idle connection makes room. A caller that keeps connections open must expect to lose idle ones
        at any time.
        """
        room = len(self._waiting) < self.limits.connections or self._make_room()
        if not room and len(self._waiting) >= self.limits.connections + RESERVED_FOR_HEALTH:
            connection.close()
        self._waiting[connection] = (None, 0.0)
        if self._timer is None:
            self._timer = asyncio.get_running_loop().call_later(self._period, self._pass)
        return room

    def leave(self, connection: Connection) -> None:
        """Forget a connection that ended."""
        self._waiting.pop(connection, None)

    def _make_room(self) -> bool:
        for connection, (mark, _) in self._waiting.items():
            # Idle at the last pass too, so that it is not one whose request is on its way here.
            if mark and mark[0] is Stage.IDLE is connection.stage():
                connection.close()
                return True
        return False

    def _pass(self) -> None:
        loop = asyncio.get_running_loop()
        now = loop.time()
        for connection, (before, since) in tuple(self._waiting.items()):
            stage = connection.stage()
            mark = (stage, connection.progress())
            limit = self.limits.seconds(stage)
            if mark != before:
                self._waiting[connection] = (mark, now)
            elif limit is not None and now - since >= limit:
                connection.expire(stage)
        self._timer = loop.call_later(self._period, self._pass) if self._waiting else None


def affordable(connections: int) -> int:
    """Return a bound on connections that leaves the process files to open beside them.

    So there is no moment at which health cannot be answered for want of a file.
    """
    files, _ = resource.getrlimit(resource.RLIMIT_NOFILE)
    most = max(1, files - RESERVED_FILES)
    if files != resource.RLIM_INFINITY and most < connections:
        _log.warning("fewer connections than set, for want of open files", connections=most, open_files=files)
        return most
    return connections
