"""The largest book, the most books, the least length and the print's scale that a cloth allows."""
