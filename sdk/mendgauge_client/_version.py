"""The version of the client, read by the packaging too."""

__version__ = "0.1.0"
