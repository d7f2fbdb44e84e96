"""What was cut: pieces cut and spoiled, and what is left of a cloth."""
