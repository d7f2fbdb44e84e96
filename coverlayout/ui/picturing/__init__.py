"""Drawn books on screen: where their words stand, in which pens, how they are painted."""
