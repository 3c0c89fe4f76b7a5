"""Pages as PDF and PNG, typeset by typst, which is the extra `mendgauge[print]`. Knows nothing of tyres."""
