"""What knows nothing of tyres: intervals, geometry, money, the words of a request, errors."""
