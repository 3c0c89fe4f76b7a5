"""The service, put together. Every part is named here once; each lives in the module of its name."""

from __future__ import annotations

import os

from litestar import Litestar, Router
from litestar.datastructures import State
from litestar.exceptions import ValidationException
from litestar.types import ASGIApp, ControllerRouterHandler

from mendgauge.api import log
from mendgauge.api.body import StrictRequest
from mendgauge.api.controllers.quotes import QuoteController
from mendgauge.api.controllers.repair_plans import RepairPlanController
from mendgauge.api.controllers.repair_units import RepairUnitController
from mendgauge.api.controllers.repairability import RepairabilityController
from mendgauge.api.controllers.rulebooks import RulebookController
from mendgauge.api.controllers.service_limits import ServiceLimitsController
from mendgauge.api.controllers.stem_trim import StemTrimController
from mendgauge.api.controllers.tyre_markings import TyreMarkingController
from mendgauge.api.controllers.work_plans import WorkPlanController
from mendgauge.api.docs import documentation
from mendgauge.api.edge import Edge
from mendgauge.api.health import HealthController, open_for_work
from mendgauge.api.keys import key_guard
from mendgauge.api.openapi import openapi_document
from mendgauge.api.parameters import only_declared, refused_values
from mendgauge.api.problems import EXCEPTION_HANDLERS, explain_problem
from mendgauge.settings import Settings, read_settings

CAPABILITIES: tuple[ControllerRouterHandler, ...] = (
    RepairabilityController,
    RepairUnitController,
    StemTrimController,
    ServiceLimitsController,
    WorkPlanController,
    QuoteController,
    RepairPlanController,
    TyreMarkingController,
    RulebookController,
)


def create_app(settings: Settings | None = None) -> ASGIApp:
    """Return the service as an ASGI application, with the default settings unless others are given."""
    settings = settings or Settings()
    described = routes(settings)
    app = Litestar(
        route_handlers=[*described, *documentation(described)],
        request_class=StrictRequest,
        request_max_body_size=settings.max_body_bytes,
        exception_handlers={**EXCEPTION_HANDLERS, ValidationException: refused_values},
        state=State({"unready": "the service is starting"}),
        lifespan=[open_for_work(settings.drain_seconds)],
        openapi_config=None,
        logging_config=None,
    )
    return Edge(app, app.state)


def routes(settings: Settings) -> list[ControllerRouterHandler]:
    """Return everything that the OpenAPI document describes."""
    v1 = Router(
        "/v1",
        route_handlers=CAPABILITIES,
        guards=[key_guard(settings.api_keys)] if settings.api_keys else [],
        before_request=only_declared,
        security=[{}, {"api_key": []}],
    )
    return [v1, HealthController, explain_problem]


def document() -> bytes:
    """Return the OpenAPI document, as `/openapi.json` serves it."""
    return openapi_document(routes(Settings()))


def create_worker_app() -> ASGIApp:
    """Return the application that a server process loads, with its log, as the environment sets them."""
    settings = read_settings(os.environ)
    log.configure(settings.log_level)
    return create_app(settings)
