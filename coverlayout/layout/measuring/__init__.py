"""Measures between two places, and where their ends catch."""
