"""The case: the one request body of every POST, a module a section."""
