"""Reading the files that people write: strict YAML with the place of every value, and the folders they lie in."""
