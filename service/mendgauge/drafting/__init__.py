"""Technical drawing on paper: lines by ISO 128, dimensions by ISO 129, scales by ISO 5455. Knows nothing of tyres."""
