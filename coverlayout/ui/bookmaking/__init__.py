"""The book's pictures and lists on screen."""
