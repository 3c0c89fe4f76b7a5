"""What a repair unit must do for an injury, which of a stock does, and how the place is prepared for it."""
