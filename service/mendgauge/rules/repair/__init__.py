"""What decides of the repair, one module a question of the trade."""
