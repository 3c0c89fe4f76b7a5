"""What a sidewall says, read and reckoned: the answer of `GET /v1/tyre-markings`."""

from mendgauge.operations.tyre_markings.sidewall import explain_marking

__all__ = ["explain_marking"]
