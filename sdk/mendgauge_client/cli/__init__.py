"""The command `mendgauge-client`: a table of tyres judged, a person interviewed about one tyre, a marking read."""
