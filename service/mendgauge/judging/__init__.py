"""A case judged by every rule."""
