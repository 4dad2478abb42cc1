"""Places of equipment: what comes at it there, by the documents in force, and what is nearest to it."""
