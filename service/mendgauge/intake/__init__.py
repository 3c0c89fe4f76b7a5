"""Taking a case in: contradictions are refused, the tolerances of the instruments applied."""
