"""What decides of the position the tyre goes to, one module a question of the trade."""
