"""The case as the rules see it."""
