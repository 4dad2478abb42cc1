"""Two sides compared, for the terminal and as data."""
