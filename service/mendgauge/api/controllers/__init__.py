"""One thin controller an operation."""
