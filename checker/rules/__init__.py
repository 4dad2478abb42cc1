"""Rule packs, editions, profiles: from YAML to the rules in force on one date."""
