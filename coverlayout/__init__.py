"""Coverlayout: lay a repeating print on cloth, cut book covers from it, and trust the measurements."""

__version__ = "0.1.0"
