"""The strict reader of YAML: the place of every value, and every problem of a text told at once."""
