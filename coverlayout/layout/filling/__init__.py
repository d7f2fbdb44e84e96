"""Quick first layouts for jobs of every kind: held pieces, zones and flaws, outlines that are no rectangles."""
