"""The exhaustive search over the relative positions of a few rectangles."""
