"""The tyre by its sidewall: markings, date codes, load, speed and dimensions. Knows nothing of rules."""
