"""Mendgauge: may this punctured tyre be repaired, with what, how, and what may it do afterwards."""

__version__ = "0.1.0"
