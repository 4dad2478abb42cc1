"""The cases beside rules: what a rule must answer on facts that are given."""
