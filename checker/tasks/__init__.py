"""What takes several reviews, or puts one together from files."""
