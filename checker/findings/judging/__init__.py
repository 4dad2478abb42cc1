"""Rules judged on what is possible: the plan, conditions, what can come out."""
