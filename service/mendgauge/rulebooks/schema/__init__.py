"""What may stand in a rulebook file: books, limits, units, procedure, worth."""
