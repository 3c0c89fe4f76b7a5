"""How the client is made from the OpenAPI document; see `sdk/generate.py`."""
