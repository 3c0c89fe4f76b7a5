"""The case as the rules see it: measurements as intervals, yes-or-no facts as truths, choices as what is left."""
