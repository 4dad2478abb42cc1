"""Rules put to the test: cases, edges, trials, and the lint of a town."""
