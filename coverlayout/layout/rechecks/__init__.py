"""Second looks at a no, by plain arithmetic that shares nothing with the search."""
