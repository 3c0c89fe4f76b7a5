"""The HTTP layer: Litestar and nothing of the trade.

To add a capability:

1. Write `mendgauge/<capability>.py`: a pure function from a msgspec Struct to a msgspec Struct, every field with a
   description. It raises `mendgauge.core.errors.CaseError` for an impossible case.
2. Write `api/<capability>.py`, as `api/repairability.py` is: a controller with one handler of a few lines that takes
   `data: JSONBody[…]` and returns the answer's Struct, with `operation_id`, `summary`, `tags`,
   `opt=NAIL_HOLE.worked(…)` and a docstring.
3. Name the controller in `CAPABILITIES` in `server.py`.
4. Run `make openapi`, and put golden examples into `openapi/examples/<capability>/`.

The strict body, the problems, the request id, the API keys, the log and the OpenAPI document then hold for it without
another line.
"""
