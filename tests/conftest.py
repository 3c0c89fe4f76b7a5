"""How thoroughly the properties are tried: `default` for every run, the same each time; `long` for the slow one."""

from __future__ import annotations

from hypothesis import HealthCheck, settings

# Cases are large and a shared machine is slow at times: neither says anything of the service.
_PATIENT = settings(deadline=None, suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large])

settings.register_profile("default", _PATIENT, max_examples=500, derandomize=True, database=None)
settings.register_profile("long", _PATIENT, max_examples=20_000, database=None, print_blob=True)
settings.load_profile("default")
