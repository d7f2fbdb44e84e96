"""Wishes that cannot all hold, whatever the cloth."""
