"""A question as plain numbers for the exhaustive search, what that finds, and how to make the most of it."""
