"""What a profile comes to on a date: editions, packs, layers, elections, and the rules that are left."""
