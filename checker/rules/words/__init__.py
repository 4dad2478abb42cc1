"""Rules in words: conditions, texts before any site is known, small pieces of sentences."""
