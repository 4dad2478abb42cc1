"""What a set can do, and what is asked of it."""
