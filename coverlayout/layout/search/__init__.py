"""The search for layouts: effort, positions, heuristics and the exhaustive look at relative positions."""
