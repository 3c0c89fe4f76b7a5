"""What knows nothing of tyres: intervals and truths, geometry, money, the words of a request, errors."""
