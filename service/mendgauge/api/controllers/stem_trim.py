"""`POST /v1/stem-trim`: where is the stem cut?"""

from __future__ import annotations

from litestar import Controller, post
from litestar.params import JSONBody

from mendgauge.api.example import NAIL_HOLE
from mendgauge.api.long_cases import worked_out
from mendgauge.case.case import Case
from mendgauge.operations.stem_trim import trim_stems
from mendgauge.operations.stem_trim.answer import StemTrims


class StemTrimController(Controller):
    """Where each stem is cut, and how far it stays proud."""

    path = "/stem-trim"
    tags = ("Decisions",)

    @post(
        status_code=200,
        operation_id="trim_stems",
        summary="Where is each stem cut?",
        opt=NAIL_HOLE.worked(trim_stems),
    )
    async def trim(self, data: JSONBody[Case]) -> StemTrims:
        """Per injury: where the stem is cut outside, in a groove or on a lug, and inside where stem and patch are two
        pieces; never farther proud than there is tread left. The chosen unit's own instruction comes first.
        """
        return await worked_out(trim_stems, data)
