"""Rules found and told in words."""
