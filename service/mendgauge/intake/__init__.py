"""Taking a case in."""
