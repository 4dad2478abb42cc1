"""Reviews for other programs: JSON, JSON Lines, SARIF, JUnit XML."""
