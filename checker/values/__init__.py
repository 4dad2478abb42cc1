"""Truth, sets of possibilities, exact quantities, positions and problems: what everything else is made of."""
