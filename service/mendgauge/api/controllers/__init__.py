"""One thin controller an operation: it takes the case and returns the answer, nothing else."""
