"""Drawings of a book in plain shapes: a cut through it, and its cover laid flat."""
