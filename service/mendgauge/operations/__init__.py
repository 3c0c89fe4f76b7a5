"""One package an operation of the API."""
