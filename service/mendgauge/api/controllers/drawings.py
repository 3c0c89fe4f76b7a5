"""`POST /v1/drawings`: what does it look like, to scale?"""

from __future__ import annotations

from functools import partial
from typing import Annotated, Any, Final

from litestar import Controller, Request, Response, post
from litestar.openapi.spec import Example
from litestar.params import JSONBody, QueryParameter

from mendgauge.api.example import NAIL_HOLE
from mendgauge.api.media import PDF, PNG, SVG, MediaAnswer, accepted, media_response
from mendgauge.api.rendering import rendered
from mendgauge.case.case import Case
from mendgauge.operations.drawings import draw_tyre
from mendgauge.operations.drawings.picture import View, print_picture

_ANSWER: Final = MediaAnswer("The drawing at its true size, with a title and a description in words.", (SVG, PDF, PNG))


class DrawingController(Controller):
    """Pictures of a case, to scale."""

    path = "/drawings"
    tags = ("Decisions",)

    @post(
        status_code=200,
        operation_id="draw_tyre",
        summary="What does it look like, to scale?",
        opt=NAIL_HOLE.shown(_ANSWER),
    )
    async def draw(
        self,
        data: JSONBody[Case],
        request: Request[Any, Any, Any],
        view: Annotated[
            View,
            QueryParameter(
                description="`sheet` has everything; `crown_section` and `liner_plan` are one view alone, without "
                "head and notes.",
                examples=[Example(value="sheet")],
            ),
        ] = "sheet",
    ) -> Response[bytes]:
        """The section through the crown with every channel at its lean, stem and patch, and the liner unrolled with
        band, mouths, patches and earlier repairs. What is a range is hatched where its edge may lie. Rules that are
        broken or open are marked where they are, with the reason. Drawn for every verdict, in black and white; lines
        by ISO 128, dimensions by ISO 129, in millimetres or, under the American rulebook, in inches.
        """
        form = accepted(request.headers.get("accept"), _ANSWER)
        return media_response(await rendered(partial(_drawn, data, view, form)), form, view.replace("_", "-"))


def _drawn(case: Case, view: View, form: str) -> bytes:
    picture = draw_tyre(case, view)
    if form == SVG:
        return picture.svg.encode()
    return print_picture(picture, "pdf" if form == PDF else "png")
