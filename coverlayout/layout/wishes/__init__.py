"""Wishes that cannot all be met, and print whose place on the cloth is not known."""
