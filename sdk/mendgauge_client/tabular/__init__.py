"""Rows of a table as cases: columns by the names that people give them, values as people write them."""
