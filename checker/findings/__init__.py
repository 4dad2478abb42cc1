"""Rules in force applied to facts: findings in order and numbered."""
