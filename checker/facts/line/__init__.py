"""The one-line walked: routes, states, what can feed a place, where the neutral is bonded, what opening leaves."""
