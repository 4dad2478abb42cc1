"""Rules and what is installed, told on the terminal."""
