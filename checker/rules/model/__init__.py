"""Rules, packs and profiles as frozen values, and what is in force on one date."""
