"""`placement.pdf`: the pages, the drawing of a cloth, its pieces and its print."""
