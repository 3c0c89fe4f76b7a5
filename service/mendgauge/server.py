"""The service, put together. Every part is named here once; each lives in the module of its name."""

from __future__ import annotations

import os
import signal
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from functools import partial

from litestar import Litestar, Router
from litestar.datastructures import State
from litestar.exceptions import ValidationException
from litestar.types import ASGIApp, ControllerRouterHandler

from mendgauge.api import log
from mendgauge.api.body import StrictRequest
from mendgauge.api.connections import Limits, affordable
from mendgauge.api.controllers.drawings import DrawingController
from mendgauge.api.controllers.gauges import GaugeController
from mendgauge.api.controllers.generic_units import GenericUnitsController
from mendgauge.api.controllers.job_cards import JobCardController
from mendgauge.api.controllers.quotes import QuoteController
from mendgauge.api.controllers.repair_plans import RepairPlanController
from mendgauge.api.controllers.repair_units import RepairUnitController
from mendgauge.api.controllers.repairability import RepairabilityController
from mendgauge.api.controllers.rulebooks import RulebookController
from mendgauge.api.controllers.service_limits import ServiceLimitsController
from mendgauge.api.controllers.stem_trim import StemTrimController
from mendgauge.api.controllers.tyre_markings import TyreMarkingController
from mendgauge.api.controllers.work_plans import WorkPlanController
from mendgauge.api.docs import documentation, explain_problem
from mendgauge.api.edge import Edge
from mendgauge.api.garbage import collections_kept_short
from mendgauge.api.health import HealthController, open_for_work
from mendgauge.api.keys import KeyRing, key_guard, stored_keys
from mendgauge.api.long_cases import short_switches
from mendgauge.api.metrics import Gauges, gauges_refreshed, metrics_route
from mendgauge.api.openapi import openapi_document
from mendgauge.api.page import bench_page
from mendgauge.api.parameters import only_declared, refused_values
from mendgauge.api.problems import EXCEPTION_HANDLERS
from mendgauge.api.rate import RateLimit
from mendgauge.api.response import JsonResponse
from mendgauge.api.signals import handled
from mendgauge.api.tracing import Traced, exporting_provider
from mendgauge.api.transfer import Transfer
from mendgauge.api.under_way import BODIES_TOGETHER, UnderWay
from mendgauge.settings import Settings, read_settings

CAPABILITIES: tuple[ControllerRouterHandler, ...] = (
    RepairabilityController,
    RepairUnitController,
    StemTrimController,
    ServiceLimitsController,
    WorkPlanController,
    QuoteController,
    RepairPlanController,
    DrawingController,
    JobCardController,
    TyreMarkingController,
    GaugeController,
    GenericUnitsController,
    RulebookController,
)


def create_app(settings: Settings | None = None) -> ASGIApp:
    """Return the service as an ASGI application, with the default settings unless others are given."""
    settings = settings or Settings()
    keys = key_ring(settings)
    limit = RateLimit(settings.rate_per_second, settings.rate_burst) if settings.rate_per_second else None
    described = routes(keys, limit)
    site, pages = documentation(described)
    app = Litestar(
        route_handlers=[*described, *pages, *bench_page(), metrics_route],
        request_class=StrictRequest,
        response_class=JsonResponse,
        request_max_body_size=settings.max_body_bytes,
        exception_handlers={**EXCEPTION_HANDLERS, ValidationException: refused_values},
        state=State({"unready": "the service is starting", "site": site}),
        lifespan=[
            open_for_work(settings.drain_seconds),
            partial(_keys_reloaded, keys),
            gauges_refreshed,
            collections_kept_short,
            short_switches,
        ],
        openapi_config=None,
        logging_config=None,
    )
    limits = Limits(
        connections=affordable(settings.max_connections),
        head_seconds=settings.head_seconds,
        body_seconds=settings.body_seconds,
        idle_seconds=settings.idle_seconds,
    )
    under_way = UnderWay(BODIES_TOGETHER * settings.max_body_bytes)
    edge = Edge(Transfer(app, under_way, settings.cors_origins), app.state, limits)
    app.state.in_flight = lambda: edge.in_flight
    gauges = Gauges()
    app.state.set_gauges = lambda: gauges.set(
        ready=not app.state.unready,
        in_flight=edge.in_flight,
        connections=len(edge.connections),
        bytes_under_way=under_way.held,
    )
    return edge


def key_ring(settings: Settings) -> KeyRing:
    """Return the keys that the settings name.

    Raises:
        KeysError: the file of keys cannot be used.
    """
    given = stored_keys(settings.api_keys, "MENDGAUGE_API_KEYS") if settings.api_keys else ()
    return KeyRing(given, settings.keys_file)


@asynccontextmanager
async def _keys_reloaded(keys: KeyRing, _app: Litestar) -> AsyncIterator[None]:
    with handled(signal.SIGHUP, keys.reload):
        yield


def routes(keys: KeyRing, limit: RateLimit | None = None) -> list[ControllerRouterHandler]:
    """Return everything that the OpenAPI document describes."""
    v1 = Router(
        "/v1",
        route_handlers=CAPABILITIES,
        guards=[key_guard(keys, limit)] if keys else [],
        before_request=only_declared,
        security=[{}, {"api_key": []}],
    )
    return [v1, HealthController, explain_problem]


def document() -> bytes:
    """Return the OpenAPI document, as `/openapi.json` serves it."""
    return openapi_document(routes(KeyRing()))


def create_worker_app() -> ASGIApp:
    """Return the application that a server process loads, with its log, as the environment sets them."""
    settings = read_settings(os.environ)
    log.configure(settings.log_level)
    app = create_app(settings)
    return Traced(app, exporting_provider()) if settings.tracing == "yes" else app
