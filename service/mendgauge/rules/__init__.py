"""The rules: small pure functions of observations and a dated limit, bound to an edition, a marking and a use."""
