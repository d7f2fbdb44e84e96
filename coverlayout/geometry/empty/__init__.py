"""How empty rectangles are found: a grid of cells, and the growth of one box between slanted edges."""
