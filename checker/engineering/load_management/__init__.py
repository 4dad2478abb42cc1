"""What load management leaves on a source, step by step."""
