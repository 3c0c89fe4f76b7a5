"""What a job costs by a price book, and what the tyre is worth."""
