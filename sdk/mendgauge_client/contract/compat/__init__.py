"""Comparison of two OpenAPI documents: what changed, and what of it breaks a caller.

python -m mendgauge_client.contract.compat.released openapi/released openapi/openapi.json
"""
