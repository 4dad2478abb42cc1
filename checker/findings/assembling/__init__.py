"""From what came out to a finding that can be printed: names, sentences, needs, limits, signs, papers."""
