"""What may stand in the workshop practice about what a tyre is worth."""

from __future__ import annotations

from mendgauge.rulebooks.provision import Provision


class WornOut(Provision, frozen=True, kw_only=True):
    """The tread left at which a tyre counts as worn out."""

    must_say = ("",)

    at_mm: float
