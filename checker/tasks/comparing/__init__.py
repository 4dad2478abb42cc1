"""Two sides held against each other: towns, dates, editions, revisions, roles."""
