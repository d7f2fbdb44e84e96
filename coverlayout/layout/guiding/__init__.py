"""Guides for the hand: where a moved piece catches, and lining pieces up."""
