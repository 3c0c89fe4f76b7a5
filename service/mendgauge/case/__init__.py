"""The one request body and its sections."""
