"""The exhaustive search itself: many nodes at once, what follows in them, and their children."""
