"""The service with one more operation: an echo of the case, the floor that HTTP and the server set."""

from __future__ import annotations

from litestar import Controller, post
from litestar.params import JSONBody

from mendgauge import server
from mendgauge.api import log
from mendgauge.case.case import Case


class EchoController(Controller):
    """Gives back what it gets."""

    path = "/echo"

    @post(status_code=200, operation_id="echo", summary="Echo")
    async def echo(self, data: JSONBody[Case]) -> tuple[Case]:
        """Gives back the case, in a list: by itself it would be noted as an answer on a case."""
        return (data,)


server.CAPABILITIES = (*server.CAPABILITIES, EchoController)
log.configure("warning")
app = server.create_app()
