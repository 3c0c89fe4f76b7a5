"""What may stand in a rulebook file."""
