"""What decides of a repair, one module a question."""
