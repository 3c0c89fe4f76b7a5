"""Pictures and pages as the client gives them: bytes with their media type, asked for by `Accept`."""

from __future__ import annotations

import asyncio
from typing import Any

import httpx2
import pytest

from mendgauge_client import AsyncMendgauge, Media, Mendgauge, UnreadableAnswerError, models

CASE = models.TyreCase(rulebook="gb", tyre=models.Tyre(marking="205/55R16 91V"))


def client(answered: dict[str, str], asked: list[httpx2.Request], content: bytes = b"<svg/>") -> dict[str, Any]:
    def answer(request: httpx2.Request) -> httpx2.Response:
        asked.append(request)
        return httpx2.Response(200, headers=answered, content=content)

    return {"transport": httpx2.MockTransport(answer)}


def test_a_drawing_is_bytes_with_their_media_type() -> None:
    asked: list[httpx2.Request] = []
    with httpx2.Client(**client({"Content-Type": "image/svg+xml"}, asked)) as http:
        drawing = Mendgauge("http://bench.example", http_client=http).draw_tyre(CASE, view="liner_plan")
    assert drawing == Media(b"<svg/>", "image/svg+xml")
    assert (asked[0].headers["accept"], asked[0].url.query) == ("image/svg+xml", b"view=liner_plan")


def test_another_form_is_asked_for_by_its_media_type() -> None:
    asked: list[httpx2.Request] = []

    async def draw() -> Media:
        async with httpx2.AsyncClient(**client({"Content-Type": "image/png; a=b"}, asked)) as http:
            return await AsyncMendgauge("http://bench.example", http_client=http).draw_tyre(
                CASE, media_type="image/png"
            )

    assert asyncio.run(draw()).media_type == "image/png"
    assert asked[0].headers["accept"] == "image/png"


@pytest.mark.parametrize("answered", [{"Content-Type": "text/html"}, {}])
def test_what_is_not_in_the_form_asked_for_is_no_drawing(answered: dict[str, str]) -> None:
    with httpx2.Client(**client(answered, [])) as http, pytest.raises(UnreadableAnswerError, match="image/svg"):
        Mendgauge("http://bench.example", http_client=http, retries=0).draw_tyre(CASE)
